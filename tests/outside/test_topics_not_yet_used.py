"""Every topic of the published values is either used by a test or named here as not yet used."""

import re
from pathlib import Path

from outside.published import everything

TESTS = Path(__file__).parents[1]
NOT_YET_USED: set[str] = set()


def used() -> set[str]:
    calls = re.compile(r"\brows\(\s*[\"']([^\"']+)[\"']")
    return {
        topic
        for path in TESTS.rglob("test_*.py")
        for topic in calls.findall(path.read_text(encoding="utf-8"))
    }


def test_every_topic_is_used_or_named_as_not_yet_used():
    """Shows which published topics wait for a model; one that has got its test must leave the list."""
    print("Not yet used:", *sorted(NOT_YET_USED), sep="\n  ")
    assert used() | NOT_YET_USED == {row.topic for row in everything()}
    assert not used() & NOT_YET_USED
