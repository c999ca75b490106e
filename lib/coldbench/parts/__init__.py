"""What one part of a machine does: so far the thermistor."""
