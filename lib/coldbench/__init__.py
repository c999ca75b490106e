"""coldbench: household refrigeration to predict, calculate and diagnose with numbers of your own."""

__version__ = "0.1.0"
