"""The marking sees the right idea: a small run of the study with its aims, and the study's own arithmetic."""

import pytest
from studies import wrong_idea_study as study


@pytest.fixture(scope="module", params=[("01", "05"), ("04", "08")], ids="-".join)
def answers(request):
    """200 invented students of two homeworks; their answers are made apart from the marking."""
    if not study.GENERATOR.is_file():
        pytest.skip("the generator of invented answers is not there yet")
    return study.run(200, request.param)


def share(count: tuple[int, int]) -> float:
    """Give a share, of something."""
    hits, of = count
    assert of >= 20
    return hits / of


@pytest.mark.parametrize("stratum", ["exact idea", "rounded idea"])
def test_known_ideas_are_named_rightly(answers, stratum):
    """Precision at least 0.97 and recall at least 0.95, exact or rounded to two or three figures."""
    part = [answer for answer in answers if answer.stratum == stratum]
    assert share(study.precision(part)) >= 0.97
    assert share(study.recall(part)) >= 0.95


def test_ideas_outside_the_catalogue_are_not_taken_for_known_ones(answers):
    """At most one in twenty."""
    assert share(study.false_alarms([a for a in answers if a.stratum == "outside the catalogue"])) <= 0.05


def test_slips_are_not_taken_for_ideas(answers):
    """A wrong unit or a bad copy: an idea is named in at most one of twenty."""
    slips = [answer for answer in answers if answer.stratum in ("unit slip", "random slip")]
    assert share((sum(bool(answer.named) for answer in slips), len(slips))) <= 0.05


def test_report_names_what_was_not_made(answers):
    """The table has every stratum and says which ideas the study could not try."""
    text = study.report(answers)
    for stratum in {answer.stratum for answer in answers}:
        assert f"{stratum}: " in text
    assert "declared, but never made by the generator: " in text


@pytest.mark.parametrize(
    ("hits", "of", "low", "high"),
    [(0, 10, 0.0, 0.2775), (5, 10, 0.2366, 0.7634), (81, 263, 0.2553, 0.3662), (0, 0, 0.0, 1.0)],
)
def test_wilson_interval(hits, of, low, high):
    """Source: Newcombe (1998), Stat. Med. 17, 857, method 3 (81 of 263); the others worked out by hand."""
    assert study.wilson(hits, of) == pytest.approx((low, high), abs=1e-4)


def test_counts_by_hand():
    """Four answers: named rightly, named wrongly, missed, and a false alarm."""

    def one(true, named):
        return study.Answer("s", "q", "", frozenset(true), frozenset(named), "wrong", frozenset())

    four = [one("a", "a"), one("a", "b"), one("a", ""), one("", "b")]
    assert study.precision(four) == (1, 3)
    assert study.recall(four) == (1, 3)
    assert study.false_alarms(four) == (1, 1)
