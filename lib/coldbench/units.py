"""The door between people's units and the SI floats inside: °F, psig, inHg vacuum, Ω, Btu/h and the rest.

For plain numbers: `to_si` and `from_si`. For what a person typed: `read`. Those three never load pint.
"""

from coldbench.reading import Reading, read
from coldbench.unit_table import KINDS, STANDARD_ATMOSPHERE, UNITS, from_si, to_si

__all__ = ["KINDS", "STANDARD_ATMOSPHERE", "UNITS", "Reading", "from_si", "read", "to_si"]
