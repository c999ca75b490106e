"""Table of what emerges from Series, for both refrigerants: printed, and written to emergent_table.csv.

Run by hand: ``python tests/studies/emergent_table.py`` (with the folder tests on the path). The tests of what
emerges run the R-600a half of it.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from machine.series_variants import Summary, summaries

TABLE = Path(__file__).with_name("emergent_table.csv")


def main() -> None:
    lines = []
    for refrigerant in ("R-600a", "R-134a"):
        for name, found in summaries(refrigerant).items():
            numbers = [f"{value:.3g}" for value in found[:-2]]
            lines.append([refrigerant, name, *numbers])
            print(f"{refrigerant} {name:24s}", *(f"{number:>7s}" for number in numbers), flush=True)
    with TABLE.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["refrigerant", "variant", *Summary._fields[:-2]])
        writer.writerows(lines)


if __name__ == "__main__":
    main()
