"""The live picture: what the controls set reaches the drawing function in SI; picture and twin follow."""

import pytest
from coldbench.errors import check_range
from coldbench.lesson import Picture, choice, explore, slider
from coldbench.units import from_si


def draw(temperature, refrigerant="R-134a"):
    check_range("temperature", temperature, 250.0, 260.0, "K")
    return Picture(
        f"<svg><title>{temperature:.2f}</title></svg>", f"{refrigerant} at {from_si(temperature, 'degF'):.0f}"
    )


def picture():
    return explore(
        draw,
        slider("temperature", "Coil", -40, 40, 5, 0, "degF"),
        choice("refrigerant", "Refrigerant", ["R-134a", "R-600a"]),
        title="A coil",
    )


def test_slider_stops_are_si_inside_and_people_units_outside():
    """Source: 0 °F is 255.372 K, NIST SP 811 appendix B."""
    coil = slider("temperature", "Coil", -40, 40, 5, 0, "degF")
    assert coil.texts[coil.start] == "0 °F"
    assert coil.values[coil.start] == pytest.approx(255.372, abs=0.001)
    assert coil.texts[0] == "−40 °F" and coil.texts[-1] == "40 °F" and len(coil.texts) == 17


def test_slider_text_may_be_its_own_words():
    """For example two units at once."""
    coil = slider("t", "Coil", 0, 10, 10, 0, "degC", show=lambda value: f"{value:.2f} K")
    assert coil.texts == ("273.15 K", "283.15 K")


def test_slider_must_start_on_a_stop():
    """Otherwise a sentence names the stops."""
    with pytest.raises(ValueError, match="steps of 5"):
        slider("t", "Coil", -40, 40, 5, 3, "degF")


def test_picture_and_twin_follow_the_browser():
    """Setting positions, as the browser does, redraws both."""
    shown = picture()
    assert shown.twin == "R-134a at 0"
    shown.set_state({"positions": [9, 1]})
    assert shown.twin == "R-600a at 5"
    assert "258.15" in shown.svg


def test_move_takes_the_text_of_a_stop():
    """The words that a person sees."""
    assert picture().move(temperature="−5 °F").twin == "R-134a at -5"
    with pytest.raises(ValueError, match="from −40 °F to 40 °F"):
        picture().move(temperature="cold")


def test_outside_the_valid_range_the_sentence_is_shown_and_the_last_picture_stays():
    """No traceback in a student's face."""
    shown = picture()
    before = shown.svg
    shown.move(temperature="40 °F")
    assert "must lie from 250 to 260 K" in shown.twin
    assert shown.svg == before


def test_a_still_copy_with_picture_and_twin_is_in_the_output():
    """Exported pages show it where no kernel and no network are."""
    data = picture()._repr_mimebundle_()[0]
    assert "<svg>" in data["text/html"] and "R-134a at 0" in data["text/html"]
    assert data["text/plain"] == "R-134a at 0"


def test_one_change_is_one_message(monkeypatch):
    """Picture and twin travel together, so that they never disagree on the screen."""
    shown, sent = picture(), []
    monkeypatch.setattr(shown, "send_state", lambda key=None: sent.append(set(key or ())))
    shown.move(temperature="5 °F")
    assert {"svg", "twin"} in sent
