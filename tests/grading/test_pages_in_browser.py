"""Feedback and class report in a real browser: nothing runs, nothing is loaded, it fits screen and paper."""

from dataclasses import replace

import pytest
from chromium import chromium, new_page
from coldbench.grading import class_report, feedback
from coldbench.grading.results import HandIn
from grading import invented_marks
from grading.invented_marks import IDEAS, ROSTER, homework, mark
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

LONG = "<b>" + "a" * 10_000
HOSTILE = [
    "<script>window.ran = true; document.title = 'ran'</script>",
    '<img src=x onerror="window.ran = true">',
    "\"' autofocus onfocus=window.ran=true x='",
    "</dd></dl></style><svg onload=window.ran=true><style>*{display:none}",
    "]]><!--<a href=javascript:window.ran=true>x</a>",
    "{{ 7 * 7 }}{% raw %}",
    "\u202eright to left\u2066\u200f",
    LONG,
]
PAPERS = {"A4": (687, 1017), "Letter": (710, 949)}
"""Width and height between margins of 14 mm [px, 96 to the inch]."""


@pytest.fixture(scope="module")
def browser():
    with chromium() as own:
        yield own


@pytest.fixture
def open_page(browser, tmp_path):
    """Open a page from a file, and collect what it complains about and asks for."""
    opened = []

    def open_(html: str, width: int = 1100, **settings):
        path = tmp_path / f"page-{len(opened)}.html"
        path.write_text(html, encoding="utf-8")
        tab = new_page(browser, width, **settings)
        tab.complaints, tab.asked = [], []
        tab.on("console", lambda message: tab.complaints.append(message.text))
        tab.on("pageerror", lambda error: tab.complaints.append(str(error)))
        tab.on("request", lambda request: tab.asked.append(request.url))
        tab.add_init_script(
            "window.refused = []; document.addEventListener("
            "'securitypolicyviolation', event => window.refused.push(event.violatedDirective))"
        )
        tab.goto(path.as_uri())
        opened.append(tab)
        return tab

    yield open_
    for tab in opened:
        tab.close()


def hostile_results():
    """A class in which every name, answer, comment and trouble tries to be more than text."""
    results = invented_marks.invented_class()
    roster = {student: f"{HOSTILE[place % len(HOSTILE)]}{student}" for place, student in enumerate(ROSTER)}
    hand_ins = [
        replace(
            each,
            name=roster[each.student],
            marks=[
                replace(own, answered=text, comment=f"{own.comment} {text}", worked=text)
                for own in each.marks
            ],
            troubles=[text],
        )
        for each, text in zip(results.hand_ins, HOSTILE * 9, strict=False)
    ]
    return replace(results, roster=roster, hand_ins=hand_ins, troubles=HOSTILE)


def is_harmless(tab) -> None:
    assert tab.evaluate("window.ran") is None
    assert tab.title() != "ran"
    assert tab.evaluate("window.refused") == []
    assert tab.complaints == []
    assert len(tab.asked) == 1, "the page asked for something beside itself"
    assert (
        tab.evaluate(
            "document.querySelectorAll('script, img, iframe, [onload], [onerror], [onfocus]').length"
        )
        == 0
    )


def fits(tab) -> None:
    wide, room = tab.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
    assert wide <= room


@pytest.mark.parametrize("width", [360, 1100])
def test_hostile_words_stay_words_in_feedback(open_page, width):
    """Scripts, quotes, endless words, turned directions: shown as text; nothing runs or breaks out."""
    marks = [
        mark(question, "wrong", answered=text, comment=f"Expected: 3.0 °F. {text}", worked=text)
        for question, text in zip(
            ["01.1", "01.2", "01.3", "01.4", "01.5", "01.6", "01.8", "01.9"], HOSTILE, strict=True
        )
    ]
    own = HandIn("s01", "".join(HOSTILE), "01", marks, troubles=HOSTILE)
    tab = open_page(feedback.page(own, homework("01"), IDEAS), width)
    is_harmless(tab)
    fits(tab)
    assert HOSTILE[0] in tab.inner_text("main")
    assert tab.locator("main > section").count() == len(marks)


@pytest.mark.parametrize("names", [True, False])
def test_hostile_words_stay_words_in_the_class_report(open_page, names):
    """The same for the instructor's page."""
    tab = open_page(class_report.page(hostile_results(), IDEAS, names=names))
    is_harmless(tab)
    fits(tab)


def test_the_policy_would_stop_a_script(open_page):
    """Were something active to slip in, the page's own policy refuses it: shown with a planted script."""
    html = class_report.page(invented_marks.invented_class(), IDEAS)
    tab = open_page(
        html.replace("</main>", "<script>window.ran = true</script><img src='http://127.0.0.1:9/x'></main>")
    )
    tab.wait_for_function("window.refused.length > 1")
    assert tab.evaluate("window.ran") is None
    assert sorted(tab.evaluate("window.refused")) == ["img-src", "script-src-elem"]


@pytest.mark.parametrize("paper", PAPERS)
def test_the_summary_prints_on_one_page(open_page, paper):
    """With long catalogue texts, weak marks and troubles everywhere, the first page holds the summary."""
    longest = {
        "show_at_the_bench": "Show it and let each bench repeat it. " * 4,
        "right": "Say the reason in your own words before you go on. " * 4,
        "safety": "R-600a and R-290: gauges only by a licensed person, ventilated, no ignition source.",
    }
    ideas = {idea: row | longest for idea, row in IDEAS.items()}
    weak = [invented_marks.hand_in(student, "01", 0.5) for student in ROSTER]
    weak += [invented_marks.hand_in(student, "05", 0.1) for student in list(ROSTER)[:-13]]
    troubled = [replace(each, troubles=["…"], fits_student="s01") for each in weak]
    results = replace(invented_marks.invented_class(), hand_ins=troubled)
    width, height = PAPERS[paper]
    tab = open_page(class_report.page(results, ideas), width)
    tab.emulate_media(media="print")
    assert tab.evaluate("document.querySelector('.summary').getBoundingClientRect().bottom") <= height
    assert tab.evaluate("getComputedStyle(document.querySelector('.part')).breakBefore") == "page"
    fits(tab)


@pytest.mark.parametrize("width", [360, 550])
def test_pages_fit_a_phone_and_twice_the_size(open_page, width):
    """No sideways scrolling on a narrow screen, nor at 200 % (a screen of 1,100 is 550 wide then)."""
    results = invented_marks.invented_class()
    fits(open_page(class_report.page(results, IDEAS), width))
    fits(open_page(feedback.page(results.hand_ins[0], homework("01"), IDEAS), width))


def test_keyboard_reaches_the_content_first(open_page):
    """The first key press offers to skip to the content; wide tables can be reached to scroll them."""
    tab = open_page(class_report.page(invented_marks.invented_class(), IDEAS), 360)
    tab.keyboard.press("Tab")
    assert tab.evaluate("document.activeElement.textContent") == "Skip to the content"
    assert tab.evaluate("document.activeElement.getBoundingClientRect().left") >= 0
    tab.keyboard.press("Enter")
    expect(tab.locator("#main")).to_be_focused()
    assert tab.locator("[role=region][tabindex='0']").count() == 6


CONTRAST = """() => {
  const rgb = text => text.match(/[\\d.]+/g).slice(0, 3).map(Number);
  const light = c => {
    const [r, g, b] = c.map(v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const ground = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor;
    if (!c.startsWith('rgba(0, 0, 0, 0')) return rgb(c); } return [255, 255, 255]; };
  let least = 99;
  for (const e of document.querySelectorAll('main *, header *'))
    if (!e.matches('title, desc') && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) {
      const style = getComputedStyle(e), ink = e.closest('svg') ? style.fill : style.color;
      const [a, b] = [light(rgb(ink)), light(ground(e))].sort((x, y) => y - x);
      least = Math.min(least, (a + 0.05) / (b + 0.05));
    }
  return least; }"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_stand_out_from_their_ground(open_page, scheme):
    """Contrast of every text, by day and by night.

    Source: Web Content Accessibility Guidelines 2.2, success criterion 1.4.3 (at least 4.5 to 1).
    """
    results = invented_marks.invented_class()
    for html in (
        class_report.page(results, IDEAS),
        feedback.page(results.hand_ins[1], homework("01"), IDEAS),
    ):
        assert open_page(html, color_scheme=scheme).evaluate(CONTRAST) >= 4.5
