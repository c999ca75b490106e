"""What a killed marking left behind is swept at the next start; what is in use is not."""

import os
import subprocess
import sys
import tempfile

from coldbench.grading.leftovers import sweep


def test_half_written_files_and_boxes_of_the_dead(tmp_path, monkeypatch):
    """Passing files of the class folder, folders of boxes whose process is gone or that are too old."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "temporary"))
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    names = {
        "dead": f"coldbench-box-{gone.pid}-abc",
        "alive": f"coldbench-box-{os.getpid()}-abc",
        "old": "coldbench-box-older",
        "new": "coldbench-box-newer",
        "other": "something-else",
    }
    folders = {word: tmp_path / "temporary" / name for word, name in names.items()}
    for folder in folders.values():
        folder.mkdir(parents=True)
        (folder / "order.json").touch()
    os.utime(folders["old"], (1e9, 1e9))
    half = tmp_path / "class" / "marks" / "s07" / ".writing-x1"
    half.parent.mkdir(parents=True)
    half.touch()
    (half.parent / "05.json").touch()
    sweep(tmp_path / "class")
    assert [path.name for path in half.parent.iterdir()] == ["05.json"]
    assert {word for word, folder in folders.items() if folder.exists()} == {"alive", "new", "other"}
