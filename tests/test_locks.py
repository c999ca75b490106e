"""The locks: hashed, consistent with each other and with pyproject.toml, and there for three systems."""

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import needs
import pytest
from served import PATIENCE

ROOT = Path(__file__).resolve().parents[1]
LOCKS = ROOT / "lib" / "locks"
LEVELS = ["student", "instructor", "dev"]
SYSTEMS = ["linux", "windows", "macos", "x86_64-apple-darwin"]
# Source: the package's page on the index: it has no wheel, its source is one file of plain Python.
WITHOUT_WHEEL = "psychrolib"
# Source: what uv says with the network away (seen); words for an index that is overloaded, from memory.
NETWORK_LOST = re.compile(r"error sending request|operation timed out|status (server|client) error \((429|5)")


def pins(name: str) -> dict[str, str]:
    """Map each requirement of a lock, version and marker included, to its hashes."""
    text = (LOCKS / f"{name}.txt").read_text("utf-8")
    entries = re.findall(r"^(\S+==[^\\\n]+?)\s*\\\n((?:\s+--hash=\S+(?: \\)?\n?)+)", text, re.M)
    assert len(entries) == len(re.findall(r"^\S+==", text, re.M)), "a line of the lock has no hash"
    return {requirement: " ".join(sorted(hashes.split())) for requirement, hashes in entries}


def names(requirements: list[str]) -> set[str]:
    return {re.match(r"[\w.-]+", one)[0].lower().replace("_", "-").replace(".", "-") for one in requirements}


@pytest.mark.parametrize("name", [*LEVELS, "build"])
def test_every_package_is_pinned_with_hashes(name):
    """No lock holds a package that pip would take unchecked."""
    assert all("--hash=sha256:" in hashes for hashes in pins(name).values())


@pytest.mark.parametrize(
    ("smaller", "larger"), [("student", "instructor"), ("instructor", "dev"), ("build", "dev")]
)
def test_one_version_serves_all(smaller, larger):
    """Whoever has the larger install has the smaller one, to the version and the hash."""
    held = {re.sub(r"\s*;.*", "", requirement): hashes for requirement, hashes in pins(larger).items()}
    for requirement, hashes in pins(smaller).items():
        assert held.get(re.sub(r"\s*;.*", "", requirement)) == hashes, requirement


def test_the_locks_hold_what_the_package_asks_for():
    """A dependency added to pyproject.toml without a new lock is noticed."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    asked = {"student": project["project"]["dependencies"], **project["project"]["optional-dependencies"]}
    for level in LEVELS:
        wanted = names(asked[level]) - {"coldbench"}
        assert wanted <= names(list(pins(level))), f"run tests/studies/make_locks.py: {level}"
    assert names(project["build-system"]["requires"]) <= names(list(pins("build")))


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize(("name", "python"), [("student", "3.11"), ("student", "3.14"), ("dev", "3.11")])
def test_lock_resolves(name, python, system, tmp_path):
    """Each package can be had, as a wheel and with a known hash; the other locks are parts of dev."""
    needs.network()
    result = subprocess.run(
        [
            sys.executable,
            "-m",
            "uv",
            "pip",
            "install",
            "--no-config",
            "--dry-run",
            "--require-hashes",
            "--only-binary=:all:",
        ]
        + [f"--no-binary={WITHOUT_WHEEL}"] * (name == "dev")
        + [f"--python-platform={system}", f"--python-version={python}", "--target", tmp_path]
        + ["--requirement", LOCKS / f"{name}.txt"],
        capture_output=True,
        text=True,
        env=os.environ | {"UV_HTTP_TIMEOUT": str(PATIENCE), "UV_HTTP_RETRIES": "10"},
    )
    if result.returncode and NETWORK_LOST.search(result.stderr):
        pytest.skip(f"The package index went out of reach: {result.stderr.strip()[-300:]}")
    assert result.returncode == 0, result.stderr
    assert "Would install" in result.stderr
