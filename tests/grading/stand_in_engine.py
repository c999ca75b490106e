"""A stand-in for a container engine: understands its command line, and runs the command in bubblewrap.

It is started by its path, ``stand_in_engine.py FOLDER WORDS …``; in FOLDER it keeps what it was asked, its
"images" (empty files) and the number of the process of each running container. A file ``fails-at-WORD`` in
FOLDER makes it fail at that word.
"""

import json
import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

from coldbench.grading.box_order import Limits
from coldbench.grading.boxed_place import BOX_HOME, BOX_WORK
from coldbench.grading.bubblewrap import find_bubblewrap, walls

WITH_VALUE = {
    *("--name", "--pull", "--log-driver", "--network", "--ipc", "--hostname", "--user", "--cap-drop"),
    *("--security-opt", "--memory", "--memory-swap", "--cpus", "--pids-limit", "--shm-size", "--ulimit"),
    *("--tmpfs", "--env", "--tag", "--file"),
}
ALONE = {"--rm", "--interactive", "--read-only"}


def read(words: list[str]) -> tuple[dict[str, list[str]], list[str]]:
    """Options with their values, and the rest; an option that it does not know ends it."""
    options: dict[str, list[str]] = {}
    words = list(words)
    while words and words[0].startswith("--"):
        name = words.pop(0)
        if name not in WITH_VALUE | ALONE:
            sys.exit(f"unknown flag: {name}")
        options.setdefault(name, []).append(words.pop(0) if name in WITH_VALUE else "")
    return options, words


def run(folder: Path, options: dict[str, list[str]], rest: list[str]) -> int:
    """Run a command as process 1 of its own process table, with the temporary folders that were asked for."""
    image, python, *command = rest
    if python != "python" or not (folder / image.replace("/", "_")).exists():
        sys.exit(f"no such image: {image}")
    own = walls(Limits(), own_user=True)
    work = own.index(BOX_WORK)
    del own[work - 3 : work + 1]  # a container begins without a folder for the work
    box = [find_bubblewrap(), *own, "--as-pid-1"]
    for place in (option.split(":")[0] for option in options["--tmpfs"]):
        if place != BOX_HOME:  # the walls have it already, and a library that lies in it would be covered
            box += ["--perms", "1777", "--tmpfs", place]
    for setting in options["--env"]:
        box += ["--setenv", *setting.split("=", 1)]
    box += [os.path.abspath(sys.executable), *command]
    with subprocess.Popen(box) as process:
        (folder / options["--name"][0]).write_text(str(process.pid))
        return process.wait() % 256


def main() -> int:
    """Do as asked."""
    folder, word, *words = Path(sys.argv[1]), *sys.argv[2:]
    with (folder / "asked.jsonl").open("a") as log:
        log.write(json.dumps([word, *words]) + "\n")
    if (folder / f"fails-at-{word}").exists():
        sys.exit(f"It fails at {word}.")
    if word == "image":
        return 0 if (folder / words[1].replace("/", "_")).exists() else 1
    options, rest = read(words)
    if word == "build":
        shutil.copytree(rest[0], folder / "built", dirs_exist_ok=True)
        (folder / options["--tag"][0].replace("/", "_")).touch()
    if word == "kill":
        os.kill(int((folder / rest[0]).read_text()), signal.SIGKILL)
    return run(folder, options, rest) if word == "run" else 0


if __name__ == "__main__":
    sys.exit(main())
