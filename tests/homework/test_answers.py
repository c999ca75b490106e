"""What a student's notebook says on the spot, and what it hands on to the marking."""

import json
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction

import pytest
from coldbench.errors import CannotRead
from coldbench.homework import answers
from coldbench.homework.answers import answer, hand_on, plain, student
from coldbench.homework.drawing import accepted_draws
from coldbench.homework.kinds import Sentence
from hypothesis import given
from hypothesis import strategies as st


@pytest.fixture
def notebook(small, tmp_path, monkeypatch):
    """A notebook in a folder with its sheet, freshly opened."""
    sheet = small.sheet(accepted_draws(small))
    (tmp_path / "sheet.json").write_text(json.dumps(sheet), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(answers, "desk", answers.Desk())
    return tmp_path


def test_first_cell_asks_for_the_number_and_greets(notebook):
    """Dots: what to type; a number: whose numbers follow."""
    assert "in place of the three dots" in str(student())
    assert "Student s07" in str(student(" S07 "))


def test_first_cell_refuses_what_is_no_student_number(notebook):
    """And forgets who was there before."""
    student("s07")
    assert "is not a student number" in str(student("Ann Lee"))
    assert "Run the cell with your student number first" in str(answer("99.1", 5))


def test_unanswered_question_shows_itself_with_own_numbers(notebook):
    """Dots: the question, and what to type."""
    student("s07")
    shown = str(answer("99.1"))
    assert "A heater of" in shown and "Not answered yet. Type a power with its unit" in shown


@pytest.mark.parametrize(
    ("question", "value", "says"),
    [
        ("99.1", "250 W", "Understood: 250 W."),
        ("99.1", 250, "Understood: 250 W (taken as W)."),
        ("99.1", "250 psig", "Not understood: "),
        ("99.3", "b", "Understood: B (less)."),
        ("99.4", "dcba", "Understood: D C B A."),
        ("99.5", {"fan": "A", "lamp": ..., "coil": ...}, "Understood so far: fan: A, lamp: –, coil: –."),
        ("99.5", {"fan": ..., "lamp": ..., "coil": ...}, "Not answered yet."),
        ("99.6", "It burns.", "Understood: 2 words"),
        ("99.6", "  ", "Not answered yet."),
        ("99.7", "A", "There is no question"),
    ],
)
def test_an_answer_is_understood_or_not(notebook, question, value, says):
    """Number, unit, kind: said at once, in a sentence."""
    student("s07")
    assert says in str(answer(question, value))


@given(value=st.floats(0, 5000))
def test_understanding_never_tells_right_from_wrong(small_sheet, value):
    """Right and wrong numbers are met with the same words, whatever the number."""
    lines = answers.understanding(small_sheet.items["99.1"], value)
    assert len(lines) == 1
    assert lines[0].startswith("Understood: ") and lines[0].endswith(" W (taken as W).")


def test_no_sheet_is_said(tmp_path, monkeypatch):
    """A notebook that was moved says so instead of failing."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(answers, "desk", answers.Desk())
    assert "There is no sheet.json" in str(student("s07"))


def test_shown_is_escaped_as_html(notebook):
    """What a student typed is text, never markup."""
    student("s07")
    assert "<b>" not in answer("99.3", "<b>")._repr_html_()


def test_what_is_said_to_an_answer_stands_out(notebook):
    """The question in plain type, what was understood in bold."""
    student("s07")
    assert "<strong>Understood: 250 W.</strong></div>" in answer("99.1", "250 W")._repr_html_()


def test_answers_are_handed_on_only_when_marking_asks(notebook, monkeypatch):
    """One line an answer, plain JSON, in order; without the variable nothing is written."""
    student("s07")
    path = notebook / "answers.jsonl"
    monkeypatch.setenv(answers.ANSWERS_FILE, str(path))
    student("s07")
    answer("99.1", "250 W")
    answer("99.1")
    answer("99.7", [1, (2, ...)])
    assert [json.loads(line) for line in path.read_text().splitlines()] == [
        {"student": "s07"},
        {"question": "99.1", "answer": "250 W"},
        {"question": "99.1", "answer": None},
        {"question": "99.7", "answer": [1, [2, None]]},
    ]


def test_plain_values_of_libraries_become_plain():
    """Numbers of numpy and quantities of pint are taken; objects become their quoted text."""
    numpy = pytest.importorskip("numpy")
    pint = pytest.importorskip("pint")
    assert plain(numpy.float64(2.5)) == 2.5
    assert plain(numpy.array([3])) == 3
    assert plain(Decimal("3.5")) == 3.5
    assert plain(Fraction(7, 2)) == 3.5
    assert "Fraction" in plain(Fraction(10**400, 3))
    assert plain(pint.UnitRegistry().Quantity(3.5, "volt")) == "3.5 V"
    assert plain({1: {2}}) == {"1": "{2}"}
    assert plain(True) is True


def test_a_sentence_far_too_long_is_still_refused_as_too_long():
    """Its beginning goes to the marking, and there gets the reason that the notebook gave."""
    with pytest.raises(CannotRead, match="at most 4000 characters"):
        Sentence().read(plain("ice " * 10_000))
    assert len(plain("ice " * 10_000)) < 5_000
    assert plain("ice " * 1_000) == "ice " * 1_000


def test_plain_survives_what_has_no_end():
    """A list within itself and a number of 5,000 digits end in text."""
    endless: list = []
    endless.append(endless)
    json.dumps(plain([endless, 10**5000]))


def test_hand_on_without_a_file_writes_nothing(tmp_path, monkeypatch):
    """No variable, no file."""
    monkeypatch.delenv(answers.ANSWERS_FILE, raising=False)
    monkeypatch.chdir(tmp_path)
    hand_on({"student": "s07"})
    assert list(tmp_path.iterdir()) == []


def test_students_side_loads_neither_numpy_nor_pint(notebook):
    """Answering a question loads no heavy library: a laptop of a student is slow enough."""
    code = (
        "import sys\n"
        "from coldbench.homework import answer, student\n"
        "student('s07'); assert 'Understood' in str(answer('99.1', '250 W'))\n"
        "heavy = {'numpy', 'pint', 'matplotlib', 'ipywidgets', 'nbgrader', 'coldbench.homework.declare'}\n"
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=notebook, check=True
    )
    assert done.stdout.strip() == "[]"
