"""Loading nbgrader in less than half the time.

Inside: `load_nbgrader`. Its library for checking JSON also offers to check web addresses in all alphabets;
nobody here does, and preparing for it takes longer than all the rest of nbgrader together.
"""

from __future__ import annotations

import sys

UNUSED = "rfc3987_syntax"


def load_nbgrader() -> None:
    """Load nbgrader's interface to its gradebook, as if the check of addresses were not installed."""
    if UNUSED in sys.modules:
        return
    sys.modules[UNUSED] = None  # Python's own way to say that there is none
    try:
        import nbgrader.api  # noqa: F401
    finally:
        del sys.modules[UNUSED]
