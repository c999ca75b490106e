"""Make lib/locks/: what each install gets, to the version and the hash, for every system at once.

Run by hand after a change of the dependencies in pyproject.toml::

    python tests/studies/make_locks.py              # keeps the versions already locked
    python tests/studies/make_locks.py --upgrade    # takes the newest ones

The developers' lock is resolved first and binds the others, so that one version serves them all:
student is part of instructor, instructor is part of dev. ``build.txt`` holds what installs the package
itself from a clone; the students' bundle brings a wheel and needs none of it.
"""

import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LOCKS = Path("lib/locks")
COMMON = [
    "--universal",
    "--generate-hashes",
    "--python-version=3.11",
    "--no-annotate",
    "--quiet",
    "--custom-compile-command=python tests/studies/make_locks.py",
]
BUILD_REQUIREMENTS = "hatchling\neditables\nsetuptools\n"


def compile_lock(name: str, *options: str, requirements: str = "") -> None:
    """Write one lock with uv."""
    lock = LOCKS / f"{name}.txt"
    source = "-" if requirements else "pyproject.toml"
    print(f"{lock} …", flush=True)
    uv = shutil.which("uv") or Path(sys.executable).with_name("uv")
    subprocess.run(
        [uv, "pip", "compile", source, *COMMON, *options, "--output-file", lock],
        cwd=ROOT,
        input=requirements or None,
        text=True,
        check=True,
    )


def main() -> None:
    """Make the four locks."""
    bound = ["--constraint", str(LOCKS / "dev.txt")]
    compile_lock("dev", "--extra=dev", *sys.argv[1:])
    compile_lock("instructor", "--extra=instructor", *bound)
    compile_lock("student", *bound)
    compile_lock("build", *bound, requirements=BUILD_REQUIREMENTS)


if __name__ == "__main__":
    main()
