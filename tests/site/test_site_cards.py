"""Cue cards on paper: every step of the plan, whole, in order, on the paper that was chosen."""

from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest
from bs4 import Tag
from playwright.sync_api import Browser

from briefgen.pages.links import step_anchor
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.schedule.timeline import StepTimes
from briefgen.units import show_elapsed
from tests.browser_tools import missing, opened
from tests.demo import demo
from tests.site.conftest import Article

SORTIES = list(demo().evidence.sorties.values())
# Widths and heights in points (1/72 inch): ISO 216 for A4 and A5, ANSI/ASME Y14.1 for letter.
PAPERS = {"a4": (595, 842), "a5": (420, 595), "letter": (612, 792)}
PEOPLE = [(proved, person) for proved in SORTIES for person in proved.plan.flows]


def names(value: object) -> str:
    return str(value.sortie.id) if isinstance(value, SortieEvidence) else str(value)


def words(tag: Tag | None) -> str:
    return re.sub(r"\s+", " ", tag.get_text(" ")).strip() if tag else ""


def told(proved: SortieEvidence, person: str) -> list[StepTimes]:
    """A person's steps as a card tells them: in order, a block once, by its first round."""
    return [times for times in proved.timeline.of(person) if times.step.step.origin.round <= 1]


def planned(card: Tag) -> list[Tag]:
    """The steps on a card that have a time."""
    return [step for step in card.select(".bg-card__step") if step.select_one(".bg-card__time .bg-clock")]


@pytest.mark.parametrize(("proved", "person"), PEOPLE, ids=names)
@pytest.mark.parametrize("whole", [True, False], ids=["whole", "single"])
def test_a_card_has_every_step_of_its_person_in_the_order_of_the_flow(
    article: Article, proved: SortieEvidence, person: str, whole: bool
) -> None:
    page = f"cards/{proved.sortie.id}.html" if whole else f"cards/{proved.sortie.id}/{person}.html"
    card = article(page).find("article", attrs={"aria-labelledby": f"card-{person}"})
    assert isinstance(card, Tag)
    steps = planned(card)
    times = told(proved, person)
    assert len(steps) == len(times) > 0
    for step, row in zip(steps, times, strict=True):
        assert words(step.select_one(".bg-card__num")) == f"Step {proved.evidence.numbers[row.step.key]}"
        link = step.select_one(".bg-card__do a")
        assert link is not None
        assert str(link["href"]).endswith(f"tasks/{row.step.task.id}.html#{step_anchor(row.step.step)}")
        assert words(step.select_one(".bg-card__time .bg-clock")) == show_elapsed(row.start)
        assert len(step.select(".bg-call")) == len(row.step.step.calls)
        # A block's steps are ticked round by round, ahead of them.
        alone = row.step.step.each and not row.step.step.origin.block
        assert len(step.select(".bg-tick")) == (len(row.step.items) if alone else 0)
    rounds = [times for times in proved.timeline.of(person) if times.step.step.origin.block]
    assert len(card.select(".bg-card__rounds .bg-tick")) == sum(len(times.step.items) for times in rounds)
    said = " ".join(words(one) for one in card.select(".bg-card__rounds .bg-ticks__row"))
    for number in {times.step.step.origin.round for times in rounds}:
        begin = min(times.start for times in rounds if times.step.step.origin.round == number)
        assert show_elapsed(begin) in said


@pytest.mark.parametrize(("proved", "person"), PEOPLE, ids=names)
def test_holds_and_hazards_stand_before_their_step_with_their_word(
    article: Article, proved: SortieEvidence, person: str
) -> None:
    card = article(f"cards/{proved.sortie.id}/{person}.html")
    for step, row in zip(planned(card), told(proved, person), strict=True):
        number = step.select_one(".bg-card__num")
        assert number is not None
        before = number.find_previous_siblings(True)
        holds = [one for one in proved.holds if one.step == row.step.index and person in one.people]
        assert sum("bg-hold" in one.get("class", []) for one in before) == len(holds)
        signs = [words(one) for one in step.select(".bg-sign")]
        above = step.find_previous_siblings("li", class_="bg-card__warns")
        own = int(words(number).removeprefix("Step "))
        covering = [one for one in above if own in numbers_in(words(one.select_one(".bg-card__covers")))]
        stated = [str(box["aria-label"]) for one in covering for box in one.select(".bg-hazard")]
        for carried in row.step.hazards:
            record = demo().library.hazards[carried.hazard]
            name = f"{str(record.signal).capitalize()}: {record.label_text}"
            assert name in stated, (row.step.key, name)
            assert any(one.replace(" :", ":") == name for one in signs), (row.step.key, name)
        assert number.find_next_sibling(class_=["bg-hazard", "bg-hold"]) is None


def numbers_in(covers: str) -> set[int]:
    """The steps that a statement says it covers: `Steps 4, 6 and 9 to 11`."""
    found: set[int] = set()
    for first, last in re.findall(r"(\d+)(?: to (\d+))?", covers):
        found.update(range(int(first), int(last or first) + 1))
    return found


def test_written_ways_back_stand_folded_on_the_card_of_whoever_goes_them(article: Article) -> None:
    seen = 0
    for proved, person in PEOPLE:
        card = article(f"cards/{proved.sortie.id}/{person}.html")
        assert not card.select("details.bg-card__back[open]")
        shown = [words(one) for one in card.select(".bg-card__back .bg-card__do a")]
        tasks = dict.fromkeys(str(row.step.task.id) for row in proved.timeline.of(person))
        ways = [
            way for task in tasks for way in demo().library.tasks[task].undo if any(person in s.who for s in way.steps)
        ]
        wanted = [str(step.do) for way in ways for step in way.steps]
        assert sorted(shown) == sorted(wanted)
        seen += len(shown)
    assert seen >= 10


def cases_after(step: Tag) -> list[Tag]:
    """The cases that stand right after a step's row."""
    found: list[Tag] = []
    row = step.find_next_sibling("li")
    while isinstance(row, Tag) and "bg-card__case" in row["class"]:
        found.append(row)
        row = row.find_next_sibling("li")
    return found


def test_a_case_stands_folded_right_after_its_step_on_the_card_of_whoever_does_the_step(article: Article) -> None:
    seen = 0
    for proved, person in PEOPLE:
        card = article(f"cards/{proved.sortie.id}/{person}.html")
        assert not card.select(".bg-card__case details[open]")
        own = 0
        for step, row in zip(planned(card), told(proved, person), strict=True):
            proofs = [one for one in proved.cases if one.step is row.step and row.step.step.origin.round <= 1]
            cases = cases_after(step)
            assert len(cases) == len(proofs)
            for shown, proof in zip(cases, proofs, strict=True):
                assert words(shown.select_one("summary")).endswith(str(proof.case.when))
                assert [words(one) for one in shown.select(".bg-card__do a")] == [str(s.do) for s in proof.case.steps]
                assert len(shown.select(".bg-call")) == sum(len(s.calls) for s in proof.case.steps)
                assert show_elapsed(proof.finish) in words(shown.select_one(".bg-card__then"))
                # Steps of somebody else say whose they are, joint ones with whom.
                marked = [words(one.select_one(".bg-mark__name")) for one in shown.select(".bg-card__step")]
                others = [next((one for one in s.who if one != person), "") for s in proof.case.steps]
                wanted = [demo().library.people[one].callsign if one else "" for one in others]
                assert marked == wanted
            own += len(cases)
        assert len(card.select(".bg-card__case")) == own
        seen += own
    assert seen >= 6


def test_tether_moves_tools_and_settings_are_on_the_card(article: Article) -> None:
    moves = uses = 0
    for proved, person in PEOPLE:
        card = article(f"cards/{proved.sortie.id}/{person}.html")
        for step, row in zip(planned(card), told(proved, person), strict=True):
            record, text = row.step.step, words(step)
            if record.anchors:
                assert "Tether to" in text
                moves += 1
            for use in record.uses:
                thing = demo().library.thing(use.tool)
                assert thing is not None
                assert str(thing.label_text).lower() in text.lower()
                assert str(use.setting or "") in text
                uses += 1
    assert moves > 4
    assert uses > 40


@pytest.mark.parametrize("proved", SORTIES, ids=names)
def test_every_bag_that_is_carried_has_a_pocket_list_of_all_that_is_in_it(
    article: Article, proved: SortieEvidence
) -> None:
    page = article(f"cards/{proved.sortie.id}.html")
    spots, moved = proved.custody.starts, {move.thing for move in proved.custody.moves}
    bags = [name for name in demo().library.bags if name in moved and spots[name].kind != "bags"]
    assert len(bags) >= 3
    for bag in bags:
        pocket = page.find("article", attrs={"aria-labelledby": f"card-bag-{bag}"})
        assert isinstance(pocket, Tag)
        listed = [words(line).lower() for line in pocket.select(".bg-card__pocket li[style]")]
        inside = [thing for thing in spots if _within(spots, thing, bag)]
        assert len(listed) == len(inside)
        for thing in inside:
            record = demo().library.thing(thing)
            assert record is not None
            assert any(line.startswith(str(record.label_text).lower()) for line in listed), thing
        assert all(re.search(r"\d+ pieces?$", line) for line in listed)


def _within(spots, thing: str, bag: str) -> bool:  # type: ignore[no-untyped-def]
    while (spot := spots.get(thing)) and spot.kind == "bags":
        if spot.id == bag:
            return True
        thing = spot.id
    return False


def test_cards_are_reached_from_sorties_and_people(article: Article) -> None:
    for proved, person in PEOPLE:
        sortie = str(proved.sortie.id)
        assert article(f"sorties/{sortie}.html").select(f'a[href="../cards/{sortie}.html"]')
        assert article(f"people/{person}.html").select(f'a[href="../cards/{sortie}/{person}.html"]')


# --- On paper ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Word:
    """A word on a sheet; `top` in points from the sheet's upper edge."""

    sheet: int
    top: float
    text: str


# Two tiny words at the first and the last line of each step, out of its flow: they move nothing.
_PROBES = """() => document.querySelectorAll(".bg-card__step").forEach((step, number) => {
    step.style.position = "relative"
    for (const [side, at] of [["from", "top"], ["till", "bottom"]]) {
        const probe = document.createElement("span")
        probe.textContent = `${side}${number}`
        probe.style.cssText = `position:absolute;left:0;${at}:0;font:2px/1 monospace;color:#eee`
        step.append(probe)
    }
})"""


def printed(pdf: bytes, folder: Path) -> tuple[list[tuple[float, float]], list[Word]]:
    """The sheets' sizes, and every word with its sheet and height, as poppler's pdftotext finds them."""
    if shutil.which("pdftotext") is None:
        missing("pdftotext")
    file = folder / "cards.pdf"
    file.write_bytes(pdf)
    done = subprocess.run(["pdftotext", "-bbox", str(file), "-"], capture_output=True, text=True, check=True)
    sizes: list[tuple[float, float]] = []
    found: list[Word] = []
    for line in done.stdout.splitlines():
        if sheet := re.search(r'<page width="([\d.]+)" height="([\d.]+)"', line):
            sizes.append((float(sheet[1]), float(sheet[2])))
        elif word := re.search(r'<word .*?yMin="([\d.-]+)".*?>(.*)</word>', line):
            found.append(Word(len(sizes), float(word[1]), word[2]))
    return sizes, found


@pytest.mark.browser
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("proved", SORTIES, ids=names)
def test_no_step_is_split_and_none_is_missing_on_paper(
    browser: Browser, site: Path, tmp_path: Path, proved: SortieEvidence, paper: str
) -> None:
    with opened(browser, (site / f"cards/{proved.sortie.id}.html").as_uri(), scheme="dark") as (tab, seen):
        tab.check(f"input[value={paper}]")
        steps = tab.locator(".bg-card__step").count()
        people = tab.locator('.bg-card:not([data-card="pocket"])').count()
        tab.evaluate(_PROBES)
        sizes, found = printed(tab.pdf(prefer_css_page_size=True), tmp_path)
        assert seen.outside() == []
    for width, height in sizes:
        assert (width, height) == pytest.approx(PAPERS[paper], abs=1)

    assert steps >= sum(len(flow) for flow in proved.plan.flows.values())
    at = {word.text: word for word in found if re.fullmatch(r"(from|till)\d+", word.text)}
    assert len(at) == 2 * steps, "every step is on paper"
    split = [n for n in range(steps) if at[f"from{n}"].sheet != at[f"till{n}"].sheet]
    assert split == []
    for number in range(steps):
        first, last = at[f"from{number}"], at[f"till{number}"]
        assert 0 <= first.top < last.top < PAPERS[paper][1], "a step is whole within its sheet"
    for earlier, later in zip(range(steps), range(1, steps), strict=False):
        one, next_ = at[f"till{earlier}"], at[f"from{later}"]
        assert (one.sheet, one.top) <= (next_.sheet, next_.top + 2), "no step stands over another"

    # Each person's card begins on a sheet of its own, and says what it is.
    heads = [word.sheet for word in found if word.text == "procedure."]
    assert len(set(heads[:people])) == people


@pytest.mark.browser
@pytest.mark.parametrize(("proved", "person"), PEOPLE, ids=names)
def test_a_card_takes_at_most_eight_small_sheets_and_nothing_on_it_is_cut_or_tiny(
    browser: Browser, site: Path, tmp_path: Path, proved: SortieEvidence, person: str
) -> None:
    with opened(browser, (site / f"cards/{proved.sortie.id}/{person}.html").as_uri()) as (tab, _):
        tab.check("input[value=a5]")
        sizes, found = printed(tab.pdf(prefer_css_page_size=True), tmp_path)
        tab.emulate_media(media="print")
        tab.set_viewport_size({"width": 491, "height": 725})  # A5 within its margins: 130 mm by 192 mm
        cut, tiny = tab.evaluate(_CUT_OR_TINY)
    assert 1 <= len(sizes) <= 8
    assert set(range(1, len(sizes) + 1)) == {word.sheet for word in found}
    assert cut == []
    assert tiny == []


# What is wider than its box, and text below 8 points, of all that a reader sees of the card.
_CUT_OR_TINY = """() => {
    const seen = [...document.querySelectorAll(".bg-card, .bg-card *")].filter(
        e => !e.closest(".bg-sr") && e.getClientRects().length > 0 && !e.closest(".bg-icon"))
    const told = e => `${e.className}: ${e.textContent.trim().slice(0, 40)}`
    const own = e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())
    return [
        seen.filter(e => e.clientWidth > 0 && e.scrollWidth > e.clientWidth + 1).map(told),
        seen.filter(e => own(e) && parseFloat(getComputedStyle(e).fontSize) < 8 * 96 / 72 - 0.01).map(told),
    ]
}"""


@pytest.mark.browser
def test_the_print_button_prints(browser: Browser, site: Path) -> None:
    with opened(browser, (site / "cards/sortie-1/ev1.html").as_uri()) as (tab, seen):
        tab.evaluate("() => { window.print = () => { window.printed = (window.printed || 0) + 1 } }")
        tab.focus("[data-print]")
        tab.keyboard.press("Enter")
        assert tab.evaluate("window.printed") == 1
        assert seen.messages == []


@pytest.mark.browser
@pytest.mark.parametrize("signal", ["danger", "warning", "caution", "notice"])
def test_signals_on_paper_are_told_by_word_shape_and_pattern(browser: Browser, site: Path, signal: str) -> None:
    """What is left where nothing but black is printed: the word, the panel's end, and the pattern at its edge."""
    with opened(browser, (site / "cards/sortie-1.html").as_uri()) as (tab, _):
        tab.emulate_media(media="print")
        box = tab.locator(f'.bg-card .bg-hazard[data-signal="{signal}"] .bg-hazard__signal').first
        if box.count() == 0:
            tab.goto((site / "cards/sortie-2.html").as_uri())
        assert box.inner_text().strip().lower() == signal
        shape, pattern = box.evaluate(
            "e => [getComputedStyle(e).clipPath, getComputedStyle(e, '::before').backgroundImage]"
        )
        assert "gradient" in pattern
        others = {
            other: (
                tab.locator(f'.bg-card .bg-hazard[data-signal="{other}"] .bg-hazard__signal').first.evaluate(
                    "e => [getComputedStyle(e).clipPath, getComputedStyle(e, '::before').backgroundImage]"
                )
            )
            for other in ("danger", "warning", "caution", "notice")
            if other != signal and tab.locator(f'.bg-card .bg-hazard[data-signal="{other}"]').count()
        }
        assert others
        for other, look in others.items():
            assert look[0] != shape, f"{other} has the same end"
            assert look[1] != pattern, f"{other} has the same pattern"
