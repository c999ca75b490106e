"""What a lesson shows: sliders, pictures and their text twins, guesses that are kept."""
