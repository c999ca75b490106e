"""nbgrader is loaded whole, without what it never uses; that can still be loaded afterwards."""

import subprocess
import sys

import pytest


def test_it_is_there_and_the_slow_part_is_not():
    """In a process of its own: the interface is loaded, the parser comes when somebody wants it."""
    pytest.importorskip("rfc3987_syntax")
    code = (
        "import sys\n"
        "from coldbench.grading.quick_nbgrader import load_nbgrader\n"
        "load_nbgrader(); load_nbgrader()\n"
        "assert 'nbgrader.api' in sys.modules and 'lark' not in sys.modules\n"
        "import rfc3987_syntax\n"
        "load_nbgrader()\n"
        "assert sys.modules['rfc3987_syntax'] is rfc3987_syntax"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
