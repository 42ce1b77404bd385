"""The reader's card, the arm sheet and the booklet: all that they must hold, in order; on paper whole and filled."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from bs4 import Tag
from playwright.sync_api import Browser

from briefgen.pages.links import step_anchor
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_elapsed
from tests.browser_tools import missing, opened
from tests.demo import demo
from tests.site.conftest import Article
from tests.site.test_site_cards import PAPERS, SORTIES, Word, names, printed, words

DRIVEN = [
    proved
    for proved in SORTIES
    if any(len({*one.people} - {*one.outside}) and one.step.to for one in proved.plan.steps)
]
each_sortie = pytest.mark.parametrize("proved", SORTIES, ids=names)
CAUTION = "Training aid, not the approved procedure"


def callsigns(people: tuple[str, ...]) -> list[str]:
    return [str(demo().library.people[one].callsign) for one in people]


@each_sortie
def test_the_reader_has_everybodys_steps_once_in_the_order_of_time(article: Article, proved: SortieEvidence) -> None:
    card = article(f"readers/{proved.sortie.id}.html")
    rows = card.select(".bg-card__aloud")
    wanted = sorted(proved.timeline.times, key=lambda one: (one.start, one.end, one.step.index))
    assert len(rows) == len(wanted) > 40
    for row, times in zip(rows, wanted, strict=True):
        link = row.select_one(".bg-card__do > a:not(.bg-mark)")
        assert link is not None
        assert str(link["href"]).endswith(f"#{step_anchor(times.step.step)}")
        if times.step.step.origin.block:
            assert f"(rack {times.step.step.origin.item[0]})" in words(link)
        assert words(row.select_one(".bg-card__num")) == show_elapsed(times.start)
        marks = [words(one) for one in row.select(".bg-card__do .bg-mark__name")]
        assert marks == callsigns(times.step.people)


@each_sortie
def test_every_call_is_read_with_a_box_for_each_answer_and_every_hold_says_who_holds(
    article: Article, proved: SortieEvidence
) -> None:
    card = article(f"readers/{proved.sortie.id}.html")
    wanted = sorted(proved.timeline.times, key=lambda one: (one.start, one.end, one.step.index))
    calls = holds = 0
    for row, times in zip(card.select(".bg-card__aloud"), wanted, strict=True):
        said = [words(one) for one in row.select(".bg-call__say")]
        assert said == [str(call.say) for call in times.step.step.calls]
        answers = [words(one) for one in row.select(".bg-card__answer")]
        hearers = [name for call in times.step.step.calls for name in callsigns(tuple(map(str, call.to)))]
        assert answers == [f"{name} answers" for name in hearers]
        held = [one for one in proved.holds if one.step == times.step.index]
        told = [words(one) for one in row.select(".bg-hold__text")]
        assert len(told) == len(held)
        for words_, hold in zip(told, held, strict=True):
            who = words_.partition(" until ")[0]
            assert all(name in who for name in callsigns(hold.people))
        calls, holds = calls + len(said), holds + len(held)
    assert calls > 20
    assert holds > 5


@each_sortie
def test_the_reader_meets_each_hazard_before_the_first_step_that_carries_it(
    article: Article, proved: SortieEvidence
) -> None:
    card = article(f"readers/{proved.sortie.id}.html")
    rows = card.select(".bg-card[data-card=reader] > .bg-card__steps > li")
    wanted = iter(sorted(proved.timeline.times, key=lambda one: (one.start, one.end, one.step.index)))
    stated = set[tuple[str, str]]()
    ahead: list[str] = []
    for row in rows:
        if "bg-card__warns" in row["class"]:
            ahead.append(str(row.select(".bg-hazard")[0]["aria-label"]))
        elif "bg-card__aloud" in row["class"]:
            step = next(wanted).step
            task = str(step.task.id)
            stated |= {(task, one) for one in ahead}
            ahead = []
            for one in step.hazards:
                record = demo().library.hazards[one.hazard]
                assert (task, f"{str(record.signal).capitalize()}: {record.label_text}") in stated
    assert stated
    assert not ahead


def test_the_arm_sheet_has_every_ride_with_who_where_and_what_must_hold(article: Article) -> None:
    told = 0
    for proved in SORTIES:
        times = proved.timeline.times
        rides = [
            one for one in proved.plan.steps
            if {*one.people} - {*one.outside} and one.outside and one.leads_to != one.place
        ]  # fmt: skip
        rides.sort(key=lambda one: times[one.index].start)
        if not rides:
            continue
        sheet = article(f"arms/{proved.sortie.id}.html")
        rows = sheet.select(".bg-card__move")
        assert len(rows) == len(rides)
        places = demo().library.places
        for row, ride in zip(rows, rides, strict=True):
            way = words(row.select_one(".bg-card__do")).lower()
            assert ride.place is not None
            assert ride.leads_to is not None
            assert str(places[ride.place].label_text).lower() in way.partition("→")[0]
            assert str(places[ride.leads_to].label_text).lower() in way.partition("→")[2]
            assert words(row.select_one(".bg-clock")) == show_elapsed(times[ride.index].start)
            text = words(row)
            people = text.partition("Rides")[2]
            assert all(name in people.partition("Drives")[0] for name in callsigns(ride.outside))
            for name, state in ride.step.requires.items():
                assert f"{demo().library.equipment[name].label_text}: {state}".lower() in text.lower()
            assert [words(one) for one in row.select(".bg-call__say")] == [str(call.say) for call in ride.step.calls]
            assert "Stops at the word" in text
        cases = [str(one.case.when) for one in proved.cases if one.step in rides]
        assert [words(one).partition(": ")[2] for one in sheet.select(".bg-card__case summary")] == cases
        told += len(rides)
    assert told >= 4


@each_sortie
def test_a_booklet_holds_every_part_in_the_order_of_its_contents(article: Article, proved: SortieEvidence) -> None:
    page = article(f"booklets/{proved.sortie.id}.html")
    linked = [str(one["href"]).removeprefix("#") for one in page.select(".bg-card__parts a")]
    ids = [str(one["id"]) for one in page.select("[id]")]
    assert [one for one in ids if one in linked] == linked
    assert len(linked) == len(set(linked))
    parts = [str(one["aria-labelledby"]) for one in page.select("article.bg-card")]
    assert parts == ["card-cover-", *(one for one in linked if one != "card-map-")]
    assert {f"card-{person}" for person in proved.plan.flows} <= set(linked)
    single = {name: article(f"cards/{proved.sortie.id}/{name}.html") for name in proved.plan.flows}
    for name, alone in single.items():
        card = page.find("article", attrs={"aria-labelledby": f"card-{name}"})
        assert isinstance(card, Tag)
        assert words(card) == words(alone.select_one("article.bg-card"))


def test_the_sheets_are_reached_from_the_list_of_cards_and_from_the_sortie(article: Article) -> None:
    listed = {str(one["href"]) for one in article("cards/index.html").select("a[href]")}
    for proved in SORTIES:
        sortie = str(proved.sortie.id)
        assert {f"../booklets/{sortie}.html", f"../readers/{sortie}.html"} <= listed
        assert article(f"sorties/{sortie}.html").select(f'a[href="../booklets/{sortie}.html"]')
    assert DRIVEN
    assert {f"../arms/{proved.sortie.id}.html" for proved in DRIVEN} <= listed


# --- On paper ------------------------------------------------------------------------------------------------------

# Two tiny words at the first and the last line of everything that must not be cut by the end of a sheet.
_PROBES = """() => {
    const whole = ".bg-card__facts, .bg-card__step, .bg-hazard, .bg-hold, .bg-card__pocket li, svg.bg-c, .bg-figure img"
    const boxes = [...document.querySelectorAll(`.bg-card :is(${whole})`)]
        .filter(box => !box.closest("[data-narrow]") && !box.closest(".bg-chart__key"))
    // All is looked at before anything is changed: else the page would be laid out anew for every box.
    const hosts = boxes.map(box => ["svg", "IMG"].includes(box.tagName) ? box.parentElement : box)
    const still = hosts.filter(host => getComputedStyle(host).position === "static")
    for (const host of still) host.style.position = "relative"
    for (const [number, host] of hosts.entries()) {
        for (const [side, at] of [["from", "top"], ["till", "bottom"]]) {
            const probe = document.createElement("span")
            probe.textContent = `${side}${number}`
            probe.style.cssText = `position:absolute;left:0;${at}:0;font:2px/1 monospace;color:#eee`
            host.append(probe)
        }
    }
    for (const [place, card] of document.querySelectorAll(".bg-card").entries()) {
        const step = card.querySelector(".bg-card__step, .bg-card__pocket li")
        if (!step) continue
        for (const [side, host] of [["head", card.querySelector(".bg-card__head")], ["step", step]]) {
            host.style.position = "relative"
            const probe = document.createElement("span")
            probe.textContent = `${side}${place}`
            probe.style.cssText = "position:absolute;left:20px;top:0;font:2px/1 monospace;color:#eee"
            host.append(probe)
        }
    }
    return boxes.length
}"""
SHEETS = [
    *((proved, "booklets", paper) for proved in SORTIES for paper in ("a4", "a5")),
    *((proved, "readers", "a5") for proved in SORTIES), *((proved, "arms", "a5") for proved in DRIVEN),
]  # fmt: skip


@pytest.mark.browser
@pytest.mark.parametrize(("proved", "kind", "paper"), SHEETS, ids=names)
def test_no_box_is_cut_no_sheet_is_half_empty_and_each_bears_the_caution(
    browser: Browser, site: Path, tmp_path: Path, proved: SortieEvidence, kind: str, paper: str
) -> None:
    with opened(browser, (site / f"{kind}/{proved.sortie.id}.html").as_uri()) as (tab, seen):
        tab.check(f"input[value={paper}]")
        boxes = tab.evaluate(_PROBES)
        sizes, found = printed(tab.pdf(prefer_css_page_size=True), tmp_path)
        assert seen.outside() == []
    assert boxes > 8
    wide, high = PAPERS[paper]
    size = (high, wide) if kind == "booklets" and paper == "a4" else (wide, high)
    assert all(one == pytest.approx(size, abs=1) for one in sizes)
    at = {word.text: word for word in found if re.fullmatch(r"(from|till)\d+", word.text)}
    assert len(at) == 2 * boxes
    assert [n for n in range(boxes) if at[f"from{n}"].sheet != at[f"till{n}"].sheet] == []
    # An empty box is as high as the probe; what is cut between two columns ends far above its beginning.
    assert [n for n in range(boxes) if at[f"from{n}"].top > at[f"till{n}"].top + 9] == []
    heads = {word.text: word.sheet for word in found if re.fullmatch(r"(head|step)\d+", word.text)}
    assert heads
    apart = [name for name, sheet in heads.items() if name.startswith("head") and heads[f"step{name[4:]}"] != sheet]
    assert apart == [], "a card's head stands above its first step"
    own: dict[int, list[Word]] = {sheet: [] for sheet in range(1, len(sizes) + 1)}
    for word in found:
        if word.text not in at:
            own[word.sheet].append(word)
    for sheet, written in own.items():
        assert CAUTION in " ".join(word.text for word in written)
        if sheet < len(sizes):
            assert lowest(written, size[1]) > 0.6, f"sheet {sheet} of {len(sizes)} is half empty"
    assert pages_of(tmp_path / "cards.pdf") == len(sizes)


@pytest.mark.browser
@each_sortie
def test_on_a4_a_booklet_takes_half_as_many_sheets_as_on_a5(
    browser: Browser, site: Path, tmp_path: Path, proved: SortieEvidence
) -> None:
    sheets = {}
    with opened(browser, (site / f"booklets/{proved.sortie.id}.html").as_uri()) as (tab, _):
        for paper in PAPERS:
            tab.check(f"input[value={paper}]")
            sheets[paper] = len(printed(tab.pdf(prefer_css_page_size=True), tmp_path)[0])
    assert sheets["a5"] > 20
    assert sheets["a4"] <= (sheets["a5"] + 1) // 2 + 1
    assert sheets["letter"] <= (sheets["a5"] + 1) // 2 + 1


def lowest(written: list[Word], height: float) -> float:
    """How far down a sheet its text reaches, as a share of its height, but for what stands in the lower margin."""
    return max(word.top for word in written if word.top < 0.93 * height) / height


def pages_of(file: Path) -> int:
    """The number of sheets as poppler's pdfinfo counts them."""
    if shutil.which("pdfinfo") is None:
        missing("pdfinfo")
    done = subprocess.run(["pdfinfo", str(file)], capture_output=True, text=True, check=True)
    (number,) = re.findall(r"^Pages:\s+(\d+)", done.stdout, re.MULTILINE)
    return int(number)
