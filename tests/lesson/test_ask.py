"""Guesses are kept and not judged; checks answer with the reason; both are there after a restart."""

import pytest
from coldbench.errors import CannotRead
from coldbench.lesson import Choice, Number, check, check_number, guess, kept, look_back
from coldbench.units import to_si


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    """Each test works in a folder of its own, as a notebook does."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def restart():
    """Forget everything in memory, as a kernel restart does."""
    kept._OPENED.clear()


def number():
    return check_number(
        "01-2",
        "How cold?",
        "temperature",
        right=Number(to_si(3.0, "degF"), "The chart says so."),
        within=to_si(1.0, "delta_degF"),
        wrong=[Number(to_si(-37.4, "degF"), "That takes the gauge for the whole pressure.")],
        otherwise="Add the air first.",
        bare_unit="degF",
    )


def choices():
    return check(
        "01-1", "Which?", [Choice("up", "No: down."), Choice("down", "Colder boils lower.", right=True)]
    )


def test_a_guess_is_kept_as_typed_and_not_judged():
    """Any guess that can be read is taken."""
    asked = guess("01-a", "How cold?", "temperature").take(" 80 °F ")
    assert (asked.mood, asked.typed) == ("kept", "80 °F")
    assert asked.reply == "Kept: 80 °F. Go on and see."


def test_a_guess_that_cannot_be_read_is_refused_with_a_sentence_and_not_kept(own_folder):
    """The reply carries the reader's own sentence."""
    asked = guess("01-a", "How high?", "pressure").take("lots")
    assert asked.mood == "not understood"
    assert asked.reply.startswith("Not understood, so not kept.") and "lots" in asked.reply
    assert list(own_folder.iterdir()) == []


def test_an_empty_answer_says_what_to_do():
    """Field and choices each in their words."""
    assert "type an answer first" in number().take("  ").reply
    assert "choose one of the answers first" in choices().take("").reply


def test_guesses_and_answers_are_there_after_a_kernel_restart():
    """What was typed, and the reply to it, are shown again."""
    guess("01-a", "How cold?", "temperature").take("20 °F")
    choices().take("up")
    number().take("3.4 F")
    restart()
    assert guess("01-a", "How cold?", "temperature").typed == "20 °F"
    assert (choices().typed, choices().mood) == ("up", "not yet")
    assert (number().typed, number().mood) == ("3.4 F", "right")


def test_a_choice_that_is_no_longer_offered_is_not_shown():
    """After a new edition of the lesson the question is simply open again."""
    choices().take("up")
    restart()
    again = check("01-1", "Which?", [Choice("left", "No."), Choice("right", "Yes.", right=True)])
    assert (again.typed, again.reply) == ("", "")


def test_check_gives_the_reason_of_the_choice():
    """Right and wrong are said in words, each with its own reason."""
    assert choices().take("down").reply == "✓ Right. Colder boils lower."
    assert choices().take("up").reply == "✗ Not yet. No: down."
    assert choices().take("sideways").mood == "not understood"


@pytest.mark.parametrize(
    ("typed", "mood", "reason"),
    [
        ("3 degF", "right", "The chart says so."),
        ("3.9", "right", "The chart says so."),
        ("-37.4 °F", "not yet", "whole pressure"),
        ("-38.3 °F", "not yet", "whole pressure"),
        ("-37.4 degF", "not yet", "−37.4 °F"),
        ("4.2 °F", "not yet", "Add the air first."),
        ("3 psig", "not understood", "psig"),
    ],
)
def test_check_number_tells_right_idea_and_otherwise(typed, mood, reason):
    """Within the tolerance of the right number, of an idea's number, or of neither."""
    asked = number().take(typed)
    assert asked.mood == mood
    assert reason in asked.reply


def test_check_number_without_ideas_still_answers():
    """No wrong ideas listed: the general sentence."""
    asked = check_number("x", "?", "number", Number(3.0, "Yes."), 0.1, [], "Count again.", bare_unit="1")
    assert asked.take("4").reply.endswith("Count again.")


def test_trouble_with_the_file_is_said_beside_the_reply(own_folder):
    """A broken file is set aside, and the student is told in the same breath."""
    (own_folder / kept.FILE_NAME).write_text("broken")
    asked = choices()
    assert "set aside" in asked.reply
    (own_folder / kept.FILE_NAME).write_text("broken again")
    assert "set aside" in asked.take("down").reply and asked.mood == "right"


def test_look_back_follows_the_guess():
    """Before the guess it says what to do; after, it shows the guess, written safely."""
    seen = look_back("01-a", "It came out at 3 °F.")
    assert "type one first" in seen.value
    guess("01-a", "?").take("<b>cold</b>")
    assert "&lt;b&gt;cold&lt;/b&gt;" in seen.value and "3 °F" in seen.value


def test_a_still_copy_is_there_for_pages_without_a_kernel():
    """Question, choices, answer and reply as HTML text, escaped."""
    asked = check("01-1", "Is 3 < 4?", [Choice("yes", "Fine.", right=True)]).take("yes")
    html = asked._repr_mimebundle_()[0]["text/html"]
    assert "Is 3 &lt; 4?" in html and "<li>yes</li>" in html and "Fine." in html
    assert "type one first" in look_back("01-z", "x")._repr_mimebundle_()["text/html"]


def test_what_the_browser_sends_is_taken():
    """The message of the button goes the same way as `take`."""
    asked = choices()
    asked._handle_custom_msg({"typed": "down"}, [])
    assert asked.mood == "right"


def test_choice_judge_refuses_what_is_not_listed():
    """The refusal is a `CannotRead`."""
    with pytest.raises(CannotRead, match="listed"):
        choices()._judge("sideways")


def test_an_answer_that_repeats_the_question_is_not_taken():
    """The given reading typed back is physically right, yet no answer."""
    asked = check_number(
        "x",
        "10 inHg vacuum is how much?",
        "pressure",
        Number(to_si(10.0, "inHg vacuum"), "Yes."),
        500.0,
        [],
        "No.",
        hint="For example 12.3 psia.",
        not_in=("inHg vacuum", "psig"),
    )
    assert "says the question again" in asked.take("10 inHg vacuum").reply
    assert asked.take("9.8 psia").mood == "right"
