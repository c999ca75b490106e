"""What a substance does: refrigerants, moist air."""
