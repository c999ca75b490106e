"""How long setting up takes, cold and warm, and how long ``import coldbench`` takes beside numpy.

Run by hand: ``python tests/studies/benchmark_start.py [level]`` (student, instructor or dev). It clones the
project into a temporary folder with a space and a letter beyond ASCII in its name and starts it there: with
an empty download cache, with a filled one, and a second time. Starting ends where JupyterLab (or pytest)
would be launched: ``--help`` in its place.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
WORDS = {"student": ["open", "--help"], "instructor": ["report", "--help"], "dev": ["test", "--help"]}
IMPORTS = ["pass", "import coldbench", "import coldbench.properties.refrigerant", "import numpy"]
REPEATS = 15


def seconds(command: list, **more) -> float:
    """Time one command."""
    began = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, **more)
    return time.perf_counter() - began


def time_set_up(level: str) -> None:
    """Print the seconds of a first start without and with a filled cache, and of a second start."""
    with tempfile.TemporaryDirectory(prefix="try out ") as folder:
        environment = {**os.environ, "PIP_CACHE_DIR": f"{folder}/cache"}
        for case in ("empty", "filled"):
            clone = Path(folder) / f"kühl bank {case}"
            subprocess.run(["git", "clone", "--quiet", ROOT, clone], check=True)
            start = [sys.executable, clone / "lib" / "start.py", *WORDS[level]]
            print(
                f"{level}, first start, {case} download cache: {seconds(start, env=environment):.1f} s",
                flush=True,
            )
        print(f"{level}, second start: {seconds(start, env=environment):.2f} s")


def time_imports() -> None:
    """Print the median time of each import over that of bare Python."""
    times = {code: [] for code in IMPORTS}
    for _ in range(REPEATS):
        for code in IMPORTS:
            times[code].append(seconds([sys.executable, "-c", code]))
    bare = statistics.median(times["pass"])
    print(f"bare Python: {bare * 1000:.0f} ms")
    for code in IMPORTS[1:]:
        print(f"{code}: {(statistics.median(times[code]) - bare) * 1000:.0f} ms more")


if __name__ == "__main__":
    time_imports()
    time_set_up(sys.argv[1] if len(sys.argv) > 1 else "student")
