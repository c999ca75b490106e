"""Attacks tried and stopped, honest oddities tried and kept: one line each, then the count.

Run by hand: ``python tests/studies/hostile_report.py``. Every hand-in of the catalogues in
``tests/grading/hostile`` is marked through the command; what came out other than it must is said. The exit
code is 1 when anything did.
"""

from __future__ import annotations

import contextlib
import io
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from grading.hostile import code, files, forging, honest
from grading.hostile.bench import run_cases

CATALOGUES = {
    "in its code": code,
    "in what it reports": forging,
    "by its file": files,
    "honest oddities": honest,
}


def main() -> int:
    """Print what was tried and what came of it."""
    tried = {True: 0, False: 0}
    failed = {True: 0, False: 0}
    for title, module in CATALOGUES.items():
        began = time.perf_counter()
        with tempfile.TemporaryDirectory() as folder, contextlib.redirect_stdout(io.StringIO()):
            _, short = run_cases(Path(folder), module.CASES)
        print(f"\n{title}: {len(short)} hand-ins in {time.perf_counter() - began:.0f} s")
        for case in module.CASES:
            tried[case.attack] += 1
            failed[case.attack] += bool(short[case.name])
            print(f"  {'NOT ' if short[case.name] else ''}as it must be: {case.name} ({case.outcome})")
            if short[case.name]:
                print(f"      {short[case.name]}")
    print(f"\n{tried[True]} attacks tried, {tried[True] - failed[True]} stopped")
    print(f"{tried[False]} honest oddities tried, {tried[False] - failed[False]} kept")
    return int(any(failed.values()))


if __name__ == "__main__":
    sys.exit(main())
