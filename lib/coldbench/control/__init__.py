"""What a control board does with its readings: it sees ohms through its divider, and drives outputs."""
