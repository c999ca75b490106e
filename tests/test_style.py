"""House style that a tool can see: one line length, sorted imports, no unused name, docstrings there."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("arguments", [["check"], ["format", "--check"]], ids=["rules", "form"])
def test_the_whole_project_keeps_the_style(arguments):
    """The linter, with the rules in pyproject.toml, finds nothing to say."""
    found = subprocess.run(
        [sys.executable, "-m", "ruff", *arguments, "--no-cache", "."],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert found.returncode == 0, found.stdout + found.stderr
