"""The panel of findings: its words; in a real browser its use by keyboard, axe-core, paper and small screens."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from briefgen.findings import Finding, Level, Related
from briefgen.pages.html.panel import PLACE, Panel, with_panel
from briefgen.source import Position
from briefgen.start.folder import start_folder
from tests.browser_tools import NARROW, SCHEMES, WIDE, Scheme, axe_violations, opened

ERROR = Finding(
    "wrong-value",
    Level.ERROR,
    Position("tasks/swap <pump>.yaml", 3, 5),
    "“4” has no unit & it's <b>late</b>.",
    related=(Related(Position("people.yaml", 2, 1), "Heron is here"),),
    write="takes: 4 min",
    write_at=Position("tasks/swap <pump>.yaml", 2, 1),
)
WARNING = Finding("unused-record", Level.WARNING, Position("things.yaml", 8, 3), "Nothing uses the hook.")
ADVICE = Finding("long-sentence", Level.ADVICE, Position("things.yaml", 9, 3), "This sentence has 31 words.")
PAGE = "<html><head><title>Task</title></head><body><p>Words</p></body></html>"
BROKEN = Panel((WARNING, ERROR, ADVICE), held=True, since="12:31:07")


def test_nothing_to_say_is_no_panel() -> None:
    assert with_panel(PAGE, Panel()) == PAGE


def test_all_that_a_finding_knows_is_said_the_worst_first_and_nothing_in_it_is_taken_for_html() -> None:
    page = with_panel(PAGE, BROKEN)
    assert "<title>1 error, 1 warning, 1 piece of advice: Task</title>" in page
    words = ["12:31:07", "tasks/swap &lt;pump&gt;.yaml:3:5", "has no unit &amp; it&#x27;s &lt;b&gt;late&lt;/b&gt;.",
             "people.yaml:2:1", "Heron is here", "tasks/swap &lt;pump&gt;.yaml:2:1", "takes: 4 min",
             'href="/rules/wrong-value.html"', "things.yaml:8:3", "things.yaml:9:3"]  # fmt: skip
    places = [page.find(word) for word in words]
    assert -1 not in places
    assert places == sorted(places)
    assert page.endswith("</body></html>")


def test_it_is_open_where_something_is_broken_and_shut_where_not() -> None:
    assert "<details open>" in with_panel(PAGE, BROKEN)
    assert "<details><summary" in with_panel(PAGE, Panel((WARNING, ADVICE)))


def test_what_others_warn_of_is_counted_and_said_after_the_findings() -> None:
    page = with_panel(PAGE, Panel((WARNING,), warned=("Doc file 'a.md' contains a link to <b>'b.md'</b>.",)))
    assert "<title>2 warnings: Task</title>" in page
    assert page.find("Nothing uses the hook.") < page.find("<li>Doc file &#x27;a.md&#x27; contains a link to &lt;b&gt;")
    assert with_panel(PAGE, Panel((), warned=("Doubtful.",))).count("1 warning") == 2


def test_a_page_may_want_the_list_itself() -> None:
    page = with_panel(PAGE.replace("<p>Words</p>", PLACE), Panel((ERROR,)))
    assert "<aside" not in page
    assert "takes: 4 min" in page


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A built site with the panel in two of its pages, as if served."""
    project = tmp_path_factory.mktemp("panel")
    start_folder(project)
    subprocess.run([sys.executable, "-m", "mkdocs", "build", "-q"], cwd=project, check=True, capture_output=True)
    site = project / "site"
    text = (site / "people" / "ev1.html").read_text(encoding="utf-8")
    (site / "people" / "ev1.html").write_text(with_panel(text, BROKEN), encoding="utf-8")
    (site / "people" / "ev2.html").write_text(with_panel(text, Panel((WARNING,))), encoding="utf-8")
    return site


@pytest.mark.browser
@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_everybody_can_use_it_and_it_hides_nothing(browser: Browser, folder: Path, width: int, scheme: Scheme) -> None:
    with opened(browser, (folder / "people" / "ev1.html").as_uri(), width=width, scheme=scheme) as (page, _):
        assert axe_violations(page) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        box = page.locator("aside.bg-panel").bounding_box()
        assert box is not None
        assert box["height"] < page.viewport_size["height"] * 0.65  # type: ignore[index]
        page.goto((folder / "people" / "ev2.html").as_uri())
        assert axe_violations(page) == []
        shut = page.locator("aside.bg-panel").bounding_box()
        assert shut is not None
        assert shut["height"] < 60
        assert shut["width"] < 260
        # At the end of the page, nothing of it lies below the panel.
        page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
        foot = page.locator(".bg-foot p").last.bounding_box() or page.locator(".bg-foot").bounding_box()
        assert foot is not None
        assert foot["y"] + foot["height"] <= shut["y"] + 1


@pytest.mark.browser
def test_the_keyboard_shuts_and_opens_it_and_it_stays_as_it_was_left(browser: Browser, folder: Path) -> None:
    with opened(browser, (folder / "people" / "ev1.html").as_uri()) as (page, _):
        page.locator("aside.bg-panel a").first.focus()
        page.keyboard.press("Escape")
        assert not _is_open(page)
        assert page.evaluate("document.activeElement.tagName") == "SUMMARY"
        page.wait_for_timeout(50)
        page.reload()
        assert not _is_open(page)
        page.locator("aside.bg-panel summary").focus()
        page.keyboard.press("Enter")
        assert _is_open(page)


@pytest.mark.browser
def test_paper_shows_nothing_of_it(browser: Browser, folder: Path) -> None:
    with opened(browser, (folder / "people" / "ev1.html").as_uri()) as (page, _):
        assert page.locator("aside.bg-panel").is_visible()
        page.emulate_media(media="print")
        assert not page.locator("aside.bg-panel").is_visible()


def _is_open(page: Page) -> bool:
    return bool(page.evaluate("document.querySelector('aside.bg-panel details').open"))
