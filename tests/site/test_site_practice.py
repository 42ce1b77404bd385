"""Practice in a real browser: a sitting by mouse and by keyboard alone, what comes again and when, export, clear."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from playwright.sync_api import Browser, Page, expect

from briefgen.practice.boxes import DAYS
from briefgen.practice.question import Choose, Number
from briefgen.practice.results import Results
from briefgen.practice.sheet import paper_test, questions, sheet
from briefgen.source import Text
from tests.browser_tools import NARROW, WIDE, fresh_tab, missing, opened
from tests.demo import demo
from tests.site.conftest import Article

CASE = next(iter(demo().evidence.sorties.values()))
SHEET = {one.question.id: one for one in sheet(CASE, "ev1", questions(CASE))}
PAGE = f"practice/{CASE.sortie.id}/ev1.html"
SCHEMA = "briefgen/practice-results.schema.json"


def test_every_question_stands_on_the_page_with_its_answer_to_open(article: Article) -> None:
    found = {str(one["data-question"]): one for one in article(PAGE).select(".bg-question")}
    assert set(found) == set(SHEET)
    for name, one in SHEET.items():
        details = found[name].select_one("details.bg-question__check")
        assert details is not None
        assert not details.has_attr("open")
        said = re.sub(r"\W+", " ", details.get_text(" "))
        right = ["ABCD"[place] if one.question.figure else one.answers[place] for place in one.right]
        if isinstance(one.question.answer, Number):
            right = [one.question.answer.shown]
        for words in right:
            # Links of an author's text are words here.
            assert re.sub(r"\W+", " ", re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", words)).strip() in said


def answer(tab: Page, right: bool) -> str:
    """Answers the question that is shown; returns its id."""
    name = str(tab.locator("[data-now]").get_attribute("data-question"))
    one, now = SHEET[name], tab.locator("[data-now]")
    if isinstance(one.question.answer, Number):
        value = one.question.answer.low if right else one.question.answer.high * 2 + 1
        now.locator("input").fill(f"{value:.3f} {next(u for u, f in one.question.answer.units.items() if f == 1)}")
    elif isinstance(one.question.answer, Choose):
        wrong = next(place for place in range(len(one.answers)) if place not in one.right)
        for place in one.right if right else (wrong,):
            now.locator(".bg-question__answers label").nth(place).click()
    elif right:
        for seat, place in enumerate(one.right):
            item = now.locator(f".bg-practice__order > li[data-place='{place}']")
            while item.evaluate("one => [...one.parentElement.children].indexOf(one)") > seat:
                item.get_by_role("button", name=re.compile("earlier")).click()
    tab.get_by_role("button", name="Check", exact=True).click()
    expect(tab.locator("[data-practice-said]")).to_have_text("Right." if right else re.compile("Not right"))
    tab.get_by_role("button", name="Next", exact=True).click()
    return name


def kept(tab: Page) -> dict[str, Any]:
    name = tab.evaluate("Object.keys(localStorage).find(key => key.includes('.practice.')) || ''")
    return json.loads(tab.evaluate("name => localStorage.getItem(name)", name)) if name else {}


@pytest.mark.browser
def test_what_is_right_moves_on_what_is_missed_comes_again_at_once_and_tomorrow(browser: Browser, site: Path) -> None:
    with fresh_tab(browser, (site / PAGE).as_uri()) as (tab, _):
        begin = datetime(2030, 1, 10, 12, tzinfo=UTC)
        tab.clock.set_fixed_time(begin)
        tab.goto((site / PAGE).as_uri())
        expect(tab.locator("[data-practice-due]")).to_have_text(f"Due today: {len(SHEET)} of {len(SHEET)} questions.")
        tab.get_by_role("button", name="Practise what is due").click()
        right, wrong = answer(tab, True), answer(tab, False)
        rows = kept(tab)
        assert rows[right]["box"] == 2
        assert rows[right]["due"] == f"{begin + timedelta(days=DAYS[1]):%Y-%m-%d}"
        assert (rows[wrong]["box"], rows[wrong]["last"]) == (1, "wrong")
        assert rows[wrong]["due"] == f"{begin + timedelta(days=DAYS[0]):%Y-%m-%d}"
        for _ in range(len(SHEET) - 2):
            assert answer(tab, True) not in (right, wrong)
        assert answer(tab, True) == wrong
        expect(tab.locator("[data-practice-due]")).to_contain_text("Nothing is due today")
        assert kept(tab)[wrong]["last"] == "wrong"
        assert tab.get_by_role("button", name="Practise what is due").is_disabled()
        expect(tab.locator("[data-practice-sum]")).to_contain_text(f"{len(SHEET) - 1} of {len(SHEET)} right")
        for after, due in ((DAYS[0], 1), (DAYS[1], len(SHEET))):
            tab.clock.set_fixed_time(begin + timedelta(days=after))
            tab.reload()
            expect(tab.locator("[data-practice-due]")).to_contain_text(f"Due today: {due} of")


@pytest.mark.browser
def test_a_question_that_a_revision_has_changed_begins_anew_and_that_is_said(browser: Browser, site: Path) -> None:
    with opened(browser, (site / PAGE).as_uri()) as (tab, _):
        tab.get_by_role("button", name="Practise what is due").click()
        changed, same = answer(tab, True), answer(tab, True)
        key = tab.evaluate("Object.keys(localStorage).find(key => key.includes('.practice.'))")
        rows = kept(tab)
        rows[changed]["wording"] = rows[same]["wording"]  # as if something else had been asked under its name
        tab.evaluate("([key, text]) => localStorage.setItem(key, text)", [key, json.dumps(rows)])
        tab.reload()
        due = tab.locator("[data-practice-due]")
        expect(due).to_contain_text(f"Due today: {len(SHEET) - 1} of")
        expect(due).to_contain_text("1 is asked or answered otherwise since you answered: it begins anew.")
        expect(tab.locator("[data-practice-sum]")).to_contain_text(f"1 of {len(SHEET)} right, 1 answered")


@pytest.mark.browser
def test_answers_are_told_with_their_question_to_who_does_not_see_it(browser: Browser, site: Path) -> None:
    """By their role and name in the accessibility tree (WAI-ARIA 1.2), one of each form."""
    with opened(browser, (site / PAGE).as_uri()) as (tab, _):
        tab.get_by_role("button", name="Practise all").click()
        forms = set()
        for _turn in range(12):
            now = tab.locator("[data-now]")
            form, asks = str(now.get_attribute("data-form")), now.locator("h3 > span").first.inner_text()
            forms.add(form)
            if form == "choose":
                group = now.get_by_role("group", name=asks, exact=True)
                assert group.get_by_role("radio").or_(group.get_by_role("checkbox")).count() >= 2
            elif form == "order":
                listed = now.get_by_role("list", name=asks, exact=True)
                assert listed.get_by_role("button", name=re.compile("^Move earlier: .")).count() >= 3
            else:
                expect(now.get_by_role("textbox", name="Number and unit")).to_have_accessible_description(
                    re.compile(re.escape(asks))
                )
            answer(tab, True)
        assert forms == {"choose", "order", "number"}


@pytest.mark.browser
def test_a_sitting_by_keyboard_alone(browser: Browser, site: Path) -> None:
    with opened(browser, (site / PAGE).as_uri()) as (tab, seen):
        tab.get_by_role("button", name="Practise all").focus()
        tab.keyboard.press("Enter")
        forms = set()
        for _ in range(12):
            expect(tab.locator("[data-now] h3")).to_be_focused()
            form = str(tab.locator("[data-now]").get_attribute("data-form"))
            forms.add(form)
            tab.keyboard.press("Tab")
            if form == "choose":
                tab.keyboard.press("Space")
            elif form == "number":
                tab.keyboard.type("7 min")
                if tab.locator("[data-now]").get_attribute("data-kind") == "lengths":
                    tab.keyboard.press("Enter")
                    expect(tab.locator("[data-practice-said]")).to_contain_text("number with its unit")
                    tab.keyboard.press("Control+a")
                    tab.keyboard.type("7.5m")
            else:
                first = tab.locator("[data-now] li").first
                words = first.locator("span").inner_text()
                tab.keyboard.press("Tab")  # from “earlier” to “later”
                tab.keyboard.press("Enter")
                expect(tab.locator("[data-now] li").nth(1).locator("span")).to_have_text(words)
                expect(tab.locator("[data-practice-said]")).to_contain_text("Now 2 of")
            tab.get_by_role("button", name="Check", exact=True).focus()
            tab.keyboard.press("Enter")
            expect(tab.get_by_role("button", name="Next", exact=True)).to_be_focused()
            tab.keyboard.press("Enter")
        assert forms == {"choose", "order", "number"}
        assert seen.messages == []
        assert seen.outside() == []


@pytest.mark.browser
def test_a_number_is_right_in_any_of_its_units(browser: Browser, site: Path) -> None:
    """Factors from the SI Brochure (BIPM, 9th edition), table 8: 1 h = 60 min = 3600 s."""
    with opened(browser, (site / PAGE).as_uri()) as (tab, _):
        name = f"limits:{CASE.sortie.id}:length"
        seconds = CASE.sortie.limits.length.likely
        for text, right in ((f"{seconds / 60:g} min", True), (f"{seconds / 3600:g}h", True), ("6 h 45 min", True),
                            ("6,75 h", True), (f"{seconds / 60 + 1:g} min", False), ("6 h", False)):  # fmt: skip
            tab.get_by_role("button", name="Practise all").click()
            while tab.locator("[data-now]").get_attribute("data-question") != name:
                answer(tab, True)
            tab.locator("[data-now] input").fill(text)
            tab.get_by_role("button", name="Check", exact=True).click()
            expect(tab.locator("[data-practice-said]")).to_have_text("Right." if right else re.compile("Not right"))
            tab.get_by_role("button", name="Stop").click()


@pytest.mark.browser
def test_what_is_saved_as_a_file_is_valid_and_clearing_forgets_it(browser: Browser, site: Path, tmp_path: Path) -> None:
    with opened(browser, (site / PAGE).as_uri()) as (tab, _):
        tab.get_by_role("button", name="Practise all").click()
        asked = [answer(tab, right) for right in (True, False, True, True, False)]
        tab.get_by_role("button", name="Stop").click()
        tab.get_by_text("Keep, hand in, clear").click()
        with tab.expect_download() as download:
            tab.get_by_role("button", name="Save as a file").click()
        download.value.save_as(tmp_path / "results.json")
        assert download.value.suggested_filename == f"practice-{CASE.sortie.id}-ev1.json"
        text = (tmp_path / "results.json").read_text(encoding="utf-8")
        schema = json.loads((site / SCHEMA).read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        validator = jsonschema.Draft202012Validator(
            schema, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
        )
        assert list(validator.iter_errors(json.loads(text))) == []
        results = Results.model_validate_json(text)
        assert {one.question for one in results.answers} == set(asked)
        assert (results.person, results.name, results.questions) == ("ev1", "Heron", len(SHEET))
        assert results.right() == 3
        tab.get_by_role("button", name="Clear my answers").click()
        tab.get_by_role("button", name="Really clear them").click()
        assert kept(tab) == {}
        expect(tab.locator("[data-practice-sum]")).to_contain_text(f"0 of {len(SHEET)} right, 0 answered")


@pytest.mark.browser
@pytest.mark.parametrize(
    "trouble",
    [
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no') }})",
        "Storage.prototype.setItem = () => { throw new DOMException('full') }",
        "Storage.prototype.getItem = () => '{not json'",
        "Storage.prototype.getItem = () => JSON.stringify({'limits:x': {box: 99}, y: null, z: {box: 1, due: '<b>'}})",
    ],
)
def test_a_browser_that_keeps_nothing_or_rubbish_practises_all_the_same(
    browser: Browser, site: Path, trouble: str
) -> None:
    with fresh_tab(browser, (site / PAGE).as_uri()) as (tab, seen):
        # The frame's own scripts are not what is tried here: trouble begins when they are through.
        tab.route("**/briefgen/practice.js", lambda route: route.fulfill(
            body=trouble + ";\n" + (site / "briefgen/practice.js").read_text(encoding="utf-8"),
            content_type="text/javascript"))  # fmt: skip
        tab.goto((site / PAGE).as_uri())
        tab.get_by_role("button", name="Practise what is due").click()
        answer(tab, True)
        answer(tab, False)
        tab.get_by_role("button", name="Stop").click()
        expect(tab.locator("[data-practice-sum]")).to_contain_text(f"1 of {len(SHEET)} right, 2 answered")
        assert [one for one in seen.messages if "uncaught" in one] == []


@pytest.mark.browser
def test_without_a_script_questions_are_text_with_answers_to_open(browser: Browser, site: Path) -> None:
    with opened(browser, (site / PAGE).as_uri(), scripts=False) as (tab, _):
        assert not tab.locator("[data-practice-bar]").is_visible()
        assert not tab.locator("[data-practice-check]").is_visible()
        assert tab.locator(".bg-question__asks:visible").count() == len(SHEET)
        first = tab.locator(".bg-question").first
        assert not first.locator(".bg-question__right").is_visible()
        first.locator("summary").click()
        assert first.locator(".bg-question__right").is_visible()


@pytest.mark.browser
@pytest.mark.parametrize("width", [NARROW, WIDE])
def test_the_question_and_its_buttons_are_on_one_screen_and_big_enough_to_touch(
    browser: Browser, site: Path, width: int
) -> None:
    """Targets of 24 px at least (WCAG 2.2, success criterion 2.5.8)."""
    with opened(browser, (site / PAGE).as_uri(), width=width, height=800) as (tab, _):
        tab.get_by_role("button", name="Practise all").click()
        for _ in range(10):
            box = tab.locator("[data-now] h3").bounding_box()
            assert box is not None
            assert 0 <= box["y"] < 700
            for button in tab.locator(".bg-practice button:visible, [data-now] .bg-answer").all():
                size = button.bounding_box()
                assert size is not None
                assert min(size["width"], size["height"]) >= 24
            assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")
            answer(tab, False)


def test_the_search_tells_no_answer(site: Path) -> None:
    names = json.loads((site / "briefgen/find-names.js").read_text(encoding="utf-8").partition("=")[2])
    found = [row for row in names["rows"] if names["pages"][row[2]].startswith(("practice/", "tests/"))]
    assert len(found) > 10
    text = " ".join(str(row) for row in found)
    made = [one for one in SHEET.values() if one.question.kind in ("holds", "controls")]
    assert made
    for one in made:
        assert one.question.asks.split(" while ")[0] not in text
        assert all(words not in text for words in one.answers)


@pytest.mark.browser
def test_another_tab_of_the_same_page_shows_what_was_answered_here(browser: Browser, site: Path) -> None:
    with opened(browser, (site / PAGE).as_uri()) as (tab, _):
        other = tab.context.new_page()
        other.goto((site / PAGE).as_uri())
        tab.get_by_role("button", name="Practise all").click()
        answer(tab, True)
        expect(other.locator("[data-practice-sum]")).to_contain_text(f"1 of {len(SHEET)} right, 1 answered")
        other.close()


TEST = f"tests/{CASE.sortie.id}/ev1.html"


def test_the_key_has_a_line_for_every_question_and_says_what_is_right(article: Article) -> None:
    made = paper_test(CASE, "ev1", questions(CASE))
    asked = article(TEST).select(".bg-test__one")
    keys = article(TEST).select(".bg-test__key li")
    assert len(asked) == len(keys) == len(made)
    for one, row, key in zip(made, asked, keys, strict=True):
        letters = {str(item.b.get_text()): item for item in row.select(".bg-test__answers > li") if item.b}
        if one.question.figure:
            letters = {ring.get_text(): ring for ring in row.select(".bg-test__picture > .bg-pin")}
        bold = key.select_one("b")
        assert bold is not None
        if isinstance(one.question.answer, Number):
            assert bold.get_text() == one.question.answer.shown
            assert not letters
        else:
            assert bold.get_text() == ", ".join(sorted(letters)[place] for place in one.right)
            assert len(letters) == len(one.answers)


@pytest.mark.browser
def test_on_paper_the_key_begins_a_sheet_and_no_question_is_split(browser: Browser, site: Path, tmp_path: Path) -> None:
    """The text of each sheet as poppler's pdftotext finds it, a form feed behind each."""
    if shutil.which("pdftotext") is None:
        missing("pdftotext")
    with opened(browser, (site / TEST).as_uri(), scheme="dark") as (tab, _):
        (tmp_path / "test.pdf").write_bytes(tab.pdf(format="A4"))
    done = subprocess.run(
        ["pdftotext", "-layout", tmp_path / "test.pdf", "-"], capture_output=True, text=True, check=True
    )
    sheets = done.stdout.split("\f")[:-1]
    (key,) = [number for number, text in enumerate(sheets) if "Key to:" in text]
    assert key == len(sheets) - 1
    assert 1 < len(sheets) <= 5
    asked = [number for text in sheets[:key] for number in re.findall(r"^ *(\d+)\. ", text, re.MULTILINE)]
    told = re.findall(r"^ *(\d+)\. ", sheets[key], re.MULTILINE)
    assert asked == told == [str(number) for number in range(1, len(told) + 1)]
    assert len(told) == 20
    assert re.search(r"^ *A +", sheets[key], re.MULTILINE) is None


@pytest.mark.browser
def test_a_ring_that_is_pointed_at_is_where_the_figure_has_its_callout(browser: Browser, site: Path) -> None:
    pointed = [one for one in SHEET.values() if one.question.figure]
    assert len(pointed) > 3
    with opened(browser, (site / PAGE).as_uri(), width=NARROW) as (tab, _):
        for one in pointed:
            question = tab.locator(f"[data-question='{one.question.id}']")
            picture = question.locator("img").bounding_box()
            assert picture
            for place, callout in enumerate(one.answers):
                ring = question.locator("label").nth(place)
                box = ring.bounding_box()
                assert box
                x, y = map(float, CASE.library.figures[one.question.figure].callouts[Text(callout)].at)
                far = (
                    box["x"] + box["width"] / 2 - (picture["x"] + x * picture["width"]),
                    box["y"] + box["height"] / 2 - (picture["y"] + y * picture["height"]),
                )
                # The letter stands beside its ring, at the end of a line of 22 px, along or across it or both.
                assert 20 < max(map(abs, far)) * (1 if min(map(abs, far)) < 2 else 2**0.5) < 25
                assert min(box["width"], box["height"]) >= 24
            shows = CASE.library.figures[one.question.figure].callouts
            assert len({str(shows[Text(callout)].shows) for callout in one.answers}) == len(one.answers)
