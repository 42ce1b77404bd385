"""Stopping on the built pages against the proof."""

from __future__ import annotations

import re

import pytest
from bs4 import Tag

from briefgen.pages.links import step_anchor
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.stopping.stops import Stop
from briefgen.proof.stopping.stretches import stretches, worst
from briefgen.units import show_duration, show_elapsed
from tests.demo import demo
from tests.pages.site_tools import BuiltSite

SORTIES = list(demo().evidence.sorties.values())
each_sortie = pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))


def text(part: Tag) -> str:
    return re.sub(r"\s+", " ", part.get_text(" "))


def article(site: BuiltSite, proved: SortieEvidence) -> Tag:
    return site.article(f"stopping/{proved.sortie.id}.html")


def targets(part: Tag) -> list[str]:
    return [str(link["href"]).rpartition("/")[2] for link in part.find_all("a")]


def address(proved: SortieEvidence, index: int) -> str:
    step = proved.plan.all_steps[index]
    return f"{step.task.id}.html#{step.step.key.replace('/', '--')}"


def seconds(words: str) -> float:
    hours, minutes, rest = words.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + int(rest)


def called(stop: Stop, words: str) -> bool:
    """Whether a stop's moment lies within one of the spans `0:10:00 to 0:57:24; 1:20:00`."""
    for span in words.split("; "):
        first, _, last = span.partition(" to ")
        if seconds(first) - 1 <= stop.at <= seconds(last or first) + 1:
            return True
    return False


@each_sortie
def test_for_every_moment_without_a_clean_stop_the_page_has_just_the_steps_that_close_up(
    demo_site: BuiltSite, proved: SortieEvidence
) -> None:
    for number, stretch in enumerate(stretches(proved.stops), start=1):
        if stretch.clean:
            continue
        part = article(demo_site, proved).find("section", attrs={"aria-labelledby": f"_stretch-{number}"})
        assert isinstance(part, Tag)
        rows = part.select("table")[1].select("tbody tr")
        said = [(targets(row)[0], text(row.select("td")[1]).strip()) for row in rows]
        for stop in stretch.stops:
            wanted = {address(proved, index) for index, _, _ in stop.closing}
            assert {step for step, words in said if called(stop, words)} == wanted


@each_sortie
def test_for_every_moment_without_a_clean_stop_the_page_has_what_is_open(
    demo_site: BuiltSite, proved: SortieEvidence
) -> None:
    for number, stretch in enumerate(stretches(proved.stops), start=1):
        if stretch.clean:
            continue
        part = article(demo_site, proved).find("section", attrs={"aria-labelledby": f"_stretch-{number}"})
        assert isinstance(part, Tag)
        rows = part.select("table")[0].select("tbody tr")
        said = [(targets(row)[0].removesuffix(".html"), text(row.select("td")[1]).strip()) for row in rows]
        for stop in stretch.stops:
            wanted = {one.matter if isinstance(one.matter, str) else one.matter[0] for one in stop.open}
            assert {name for name, words in said if called(stop, words)} == wanted


@each_sortie
def test_the_worst_moment_stands_there_with_its_way_out(demo_site: BuiltSite, proved: SortieEvidence) -> None:
    far = worst(proved.stops)
    part = article(demo_site, proved).find("section", attrs={"aria-labelledby": "_worst"})
    assert isinstance(part, Tag)
    assert far is not None
    assert show_elapsed(far.at) in text(part)
    assert show_duration(far.seconds) in text(part)
    steps = part.select("ol li")
    assert [targets(row)[0] for row in steps] == [address(proved, index) for index, _, _ in far.closing]


@each_sortie
def test_the_page_says_both_ways_home_and_who_decides(demo_site: BuiltSite, proved: SortieEvidence) -> None:
    said = text(article(demo_site, proved))
    assert "Immediate return" in said
    assert "Orderly stop" in said
    assert "the responsible authority decides" in said
    clean = sum(stop.clean for stop in proved.stops)
    assert f"{clean} of {len(proved.stops)} moments" in said


@each_sortie
def test_every_task_has_its_stops_and_the_cards_mark_the_clean_ones(
    demo_site: BuiltSite, proved: SortieEvidence
) -> None:
    by_step = {index: stop for stop in proved.stops for index in stop.ended}
    for step in proved.plan.steps:
        part = demo_site.article(f"tasks/{step.task.id}.html").find("h2", id="_stops").find_parent("details")
        assert isinstance(part, Tag)
        row = next(row for row in part.select("tbody tr") if targets(row)[0].endswith(f"#{step_anchor(step.step)}"))
        cells = [text(cell).strip() for cell in row.select("td")]
        assert cells[1:] == [show_duration(by_step[step.index].seconds), show_duration(by_step[step.index].bare)]
        assert ("Clean stop" in cells[0]) == by_step[step.index].clean
    for person, flow in proved.plan.flows.items():
        card = demo_site.article(f"cards/{proved.sortie.id}/{person}.html")
        marked = sum("Then a clean stop" in text(row) for row in card.select("li.bg-card__step"))
        # A block is told once: what is clean after some of its rounds only is said where these are ticked.
        marked += sum(text(row).count("a clean stop after step") for row in card.select(".bg-ticks__row"))
        rounds: dict[tuple[str, int], list[bool]] = {}
        for index in flow:
            step = proved.plan.steps[index]
            key = step.key if not step.step.origin.block else f"{step.task.id}/{step.step.origin.block}"
            rounds.setdefault((key, step.step.number), []).append(by_step[index].clean)
        assert marked == sum(1 if all(row) else sum(row) for row in rounds.values())
