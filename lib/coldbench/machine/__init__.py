"""The five machines in time: parts put together, run for hours or days, recorded.

``simulate("Series", hours=24.0)`` gives a record of all that could be read on the machine.
"""

from coldbench.machine.ice_taken import NO_ICE_TAKEN, IceTaken
from coldbench.machine.record import Record, read_record
from coldbench.machine.running import NO_DOORS, NORMAL_DAY, Door, simulate, simulate_many

__all__ = [
    "NORMAL_DAY", "NO_DOORS", "NO_ICE_TAKEN", "Door", "IceTaken", "Record", "read_record", "simulate",
    "simulate_many",
]  # fmt: skip
