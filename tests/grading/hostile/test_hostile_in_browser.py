"""What a hostile class leaves behind, opened in a real browser: nothing of it runs, asks or is refused."""

import needs
import pytest
from chromium import chromium, new_page
from grading.form_server import form_server
from grading.hostile.test_hostile import evening

pytestmark = pytest.mark.browser

WATCH = (
    "window.refused = []; document.addEventListener('securitypolicyviolation', "
    "event => window.refused.push(event.violatedDirective))"
)


@pytest.fixture
def tab():
    """A browser's tab that remembers what it was asked for and what it refused."""
    needs.bubblewrap()
    with chromium() as browser:
        page = new_page(browser)
        page.asked = []
        page.on("request", lambda request: page.asked.append(request.url))
        page.add_init_script(WATCH)
        yield page


@pytest.mark.parametrize("catalogue", ["forging", "files"])
def test_no_page_of_ours_runs_anything(tab, catalogue):
    """Every feedback page and both reports: no script ran, the content policy had nothing to refuse."""
    folder = evening(catalogue)[0].bench.class_folder
    pages = [*folder.glob("feedback/*/*/*.html"), *folder.glob("report/*.html")]
    for page in pages:
        tab.asked.clear()
        tab.goto(page.as_uri())
        assert tab.evaluate("window.ran") is None, page
        assert tab.evaluate("window.refused") == [], page
        assert tab.asked == [page.as_uri()]
        assert "Content-Security-Policy" in tab.content()


def test_nbgraders_form_runs_nothing_of_a_hand_in(tab):
    """Hand-ins full of markup, in the form in which sentences are marked."""
    from nbgrader.api import Gradebook

    done, _ = evening("forging")
    folder = done.bench.class_folder
    wanted = {student for student, case in done.students.items() if "markup" in case or "active" in case}
    assert len(wanted) >= 3
    with Gradebook(f"sqlite:///{folder / 'gradebook.db'}") as book:
        every = book.assignment_submissions("homework-05")
        numbers = {one.student.id: one.notebooks[0].id for one in every if one.student.id in wanted}
    shown = ""
    with form_server(folder) as address:
        for student, number in numbers.items():
            tab.goto(f"{address}/submissions/{number}")
            tab.wait_for_selector("#question-05-4")
            assert tab.evaluate("window.ran") is None, student
            assert not any("onerror" in url or url.endswith("/x") for url in tab.asked)
            shown += tab.locator("body").inner_text()
    assert "<script>window.ran=true</script>" in shown  # it is there, as text
