"""Settings for every test: examples that a slow machine cannot fail, and what a browser showed in the end."""

import os
import signal
import sys

import pytest
from coldbench.grading import box_order
from hypothesis import HealthCheck, settings
from hypothesis.internal.conjecture import providers

# No time limit for an example or for making it: a busy machine must not fail a property.
PATIENT = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("new examples each time", **PATIENT)
settings.register_profile("the same examples each time", derandomize=True, **PATIENT)
if os.environ.get("COLDBENCH_SAME_EXAMPLES"):
    # In CI a change is judged by itself, not by the luck of the draw; elsewhere new examples are looked for.
    settings.load_profile("the same examples each time")
    # Otherwise numbers that stand in our sources are drawn too, of those that are loaded just then.
    providers._get_local_constants = lambda: providers._local_constants
else:
    settings.load_profile("new examples each time")

LONGEST = {
    *("test_box.py", "test_emergence.py", "test_every_lesson.py", "test_faults.py", "test_form.py"),
    *("test_hostile.py", "test_in_browser.py", "test_killed.py", "test_start.py", "test_students_path.py"),
}


def pytest_configure():
    """Let Ctrl-C reach what tests start, also where the suite runs in the background and does not heed it.

    Boxes of files that run side by side are other users: what a bomb in one uses up, another has.
    """
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    if worker := os.environ.get("PYTEST_XDIST_WORKER"):
        box_order.FIRST_USER += 50 * int(worker.removeprefix("gw"))
        box_order.USERS = 50


def pytest_collection_modifyitems(items):
    """Begin with the files that take longest: at the end neither of two processes waits for the other."""
    items.sort(key=lambda item: item.path.name not in LONGEST)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item):
    """Add to a failed test what its browser showed: where its picture lies, and the page in words."""
    report = yield
    if report.failed and "chromium" in sys.modules:
        for shown in sys.modules["chromium"].what_it_shows():
            report.sections.append(("the browser showed", shown))
    return report
