"""Deciding on the built pages, against the proof."""

from __future__ import annotations

import re

import pytest
from bs4 import Tag

from briefgen.proof.chance.share import RUNS, SEED
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_duration, show_elapsed
from tests.demo import demo
from tests.pages.site_tools import BuiltSite

SORTIES = list(demo().evidence.sorties.values())
each_sortie = pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))


def text(part: Tag | None) -> str:
    return re.sub(r"\s+", " ", part.get_text(" ")).strip() if part else ""


def article(site: BuiltSite, proved: SortieEvidence) -> Tag:
    return site.article(f"deciding/{proved.sortie.id}.html")


def table(site: BuiltSite, proved: SortieEvidence, name: str) -> list[list[str]]:
    caption = article(site, proved).find(id=name)
    assert isinstance(caption, Tag)
    rows = caption.find_parent("table").select("tbody tr")  # type: ignore[union-attr]
    return [[text(cell) for cell in row.find_all(["th", "td"])] for row in rows]


def seconds(clock: str) -> int:
    hours, minutes, rest = map(int, clock.split(":"))
    return hours * 3600 + minutes * 60 + rest


def title(proved: SortieEvidence, task: str) -> str:
    return str(proved.library.tasks[task].label_text)


@each_sortie
def test_the_head_says_the_chance_the_margin_and_the_finish(demo_site: BuiltSite, proved: SortieEvidence) -> None:
    head = text(article(demo_site, proved).find("header"))
    chance = proved.chance
    assert f"ends at {show_elapsed(proved.timeline.finish)}, {show_duration(proved.timeline.margin)} before" in head
    assert f"by then is {chance.finish.within(chance.usable).words};" in head
    assert f"within the limit, {chance.finish.within(chance.length).words}." in head
    assert chance.bare is not None
    assert f"of the first is {chance.bare.within(chance.usable).words}." in head


@each_sortie
def test_every_task_stands_with_its_moments_in_the_order_of_time(demo_site: BuiltSite, proved: SortieEvidence) -> None:
    rows = table(demo_site, proved, "_latest")
    assert [row[0] for row in rows] == [title(proved, one.task) for one in proved.latest]
    for row, one in zip(rows, proved.latest, strict=True):
        assert row[2] == show_elapsed(one.begins)
        # Rounded down to the minute: never later than computed, never a whole minute earlier.
        assert 0 <= one.latest - seconds(row[3]) < 60
        assert seconds(row[3]) % 60 == 0
        assert row[4] == show_duration(one.spare)
        mean, deviation = map(float, re.fullmatch(r"([\d.]+) min ± ([\d.]+) min", row[5]).groups())  # type: ignore[union-attr]
        lasts = proved.chance.tasks[one.task].lasts
        assert (mean, deviation) == (
            pytest.approx(lasts.mean / 60, abs=0.051),
            pytest.approx(lasts.deviation / 60, abs=0.051),
        )


@each_sortie
def test_what_to_leave_out_stands_with_what_it_gives_back(demo_site: BuiltSite, proved: SortieEvidence) -> None:
    rows = table(demo_site, proved, "_drops")
    for number, (row, one) in enumerate(zip(rows, proved.dropping.drops, strict=True), start=1):
        along = "".join(f", and with it {title(proved, name)}" for name in one.takes_along)
        assert row[0] == f"{number}. {title(proved, one.task)}{along}"
        assert row[2] == (show_duration(one.gives_back) if one.gives_back >= 0.5 else "No earlier")
        reached = proved.chance.tasks[one.task].reached
        assert reached is not None
        assert row[5].lower() == reached.words


def test_a_task_for_whoever_is_free_says_who_that_is_today_and_is_on_everybodys_card(demo_site: BuiltSite) -> None:
    said = " ".join(demo_site.article("tasks/wipe-window.html").get_text(" ").split()).replace(" :", ":")
    assert "Whoever is free." in said
    task = demo().library.tasks["wipe-window"]
    placed = 0
    for proved in demo().evidence.sorties.values():
        title, library = str(proved.sortie.title), proved.library
        found = next((one for one in proved.extras.fitting if one.task == "wipe-window"), None)
        if found:
            wiper, other = (str(library.people[found.record.step(key).who[0]].callsign) for key in ("4", "look-up"))
            assert f"{title}: today's plan says {wiper}, with {other} as the other" in said
            assert {between.person for between in found.between} == {*proved.plan.outside}
            placed += 1
        else:
            assert f"{title}: it does not fit as planned" in said
        for person in proved.plan.outside:
            # Either of the two may do either part, so both parts are on both cards, each with its role.
            card = demo_site.article(f"cards/{proved.sortie.id}/{person}.html")
            part = next(
                one for one in card.select(".bg-card__task") if str(task.title) in one.select("h3")[0].get_text()
            )
            rows = {
                row.select(".bg-card__do a")[0].get_text(): row.get_text(" ") for row in part.select(".bg-card__step")
            }
            for step in task.steps:
                role = "The other" if step.key == "look-up" else "One of you"
                assert role in rows[str(step.do)]
    assert placed


@each_sortie
def test_every_get_ahead_is_placed_or_says_why_not(demo_site: BuiltSite, proved: SortieEvidence) -> None:
    page = text(article(demo_site, proved))
    rows = table(demo_site, proved, "_get-aheads") if proved.extras.fitting else []
    for number, (row, one) in enumerate(zip(rows, proved.extras.fitting, strict=True), start=1):
        assert row[0] == f"{number}. {title(proved, one.task)}"
        assert row[2:4] == [show_elapsed(one.begins), show_elapsed(one.ends)]
        for gap in one.between:
            assert gap.after is None or title(proved, gap.after) in row[1]
    for one in proved.extras.unfit:
        assert re.search(rf"{re.escape(title(proved, one.task))} (Fits|There is time|Needs|No gap)", page)
    if proved.extras.fitting:
        assert f"the sortie ends at {show_elapsed(proved.extras.finish)}" in page
        assert ("Every order was tried" in page) == proved.extras.exact


@each_sortie
def test_the_page_says_how_the_chances_come_about_and_warns(demo_site: BuiltSite, proved: SortieEvidence) -> None:
    page = demo_site.pages[f"deciding/{proved.sortie.id}.html"]
    assert f"{RUNS} runs of the plan (seed {SEED})" in text(article(demo_site, proved))
    assert "not the approved procedure" in text(page.select_one(".bg-caution"))
    assert article(demo_site, proved).select_one(f"#finish-{proved.sortie.id} .bg-chart__still svg")


@each_sortie
def test_the_steps_that_decide_are_all_there_once(demo_site: BuiltSite, proved: SortieEvidence) -> None:
    told: dict[tuple[str, int], str] = {}
    for task, numbers, share in table(demo_site, proved, "_decisive"):
        for part in re.split(r", | and ", numbers):
            first, _, last = part.partition(" to ")
            for number in range(int(first), int(last or first) + 1):
                assert (task, number) not in told
                told[task, number] = share
    wanted = {
        (title(proved, str(step.task.id)), proved.evidence.numbers[step.key]): share.words
        for step, share in zip(proved.plan.steps, proved.chance.critical, strict=True)
        if share.value >= 0.05
    }
    assert told == wanted


@each_sortie
def test_a_tasks_page_says_by_when_it_must_begin_and_an_optional_ones_what_it_gives_back(
    demo_site: BuiltSite, proved: SortieEvidence
) -> None:
    for one in proved.latest:
        keys = text(demo_site.article(f"tasks/{one.task}.html").select_one("header .bg-keys"))
        found = re.search(r"Begin no later than(?:, [^\d]*\d[^\d]*)? (\d+:\d\d) h elapsed", keys)
        assert found, keys
        assert ("Leaving it out" in keys) == ("Reached" in keys) == one.optional
        if len([other for other in SORTIES if one.task in other.tasks]) == 1:
            assert 0 <= one.latest - seconds(f"{found[1]}:00") < 60


@each_sortie
def test_a_card_says_once_for_each_task_by_when_its_person_must_begin(
    demo_site: BuiltSite, proved: SortieEvidence
) -> None:
    for person in proved.plan.flows:
        card = demo_site.article(f"cards/{proved.sortie.id}/{person}.html")
        told = [seconds(text(part).removeprefix("begin by ")) for part in card.select(".bg-card__by")]
        moments = {one.task: dict(one.parts)[person] for one in proved.latest if person in one.people}
        wanted = dict.fromkeys(str(times.step.task.id) for times in proved.timeline.of(person))
        assert len(told) == len(wanted)
        for moment, task in zip(told, wanted, strict=True):
            assert 0 <= moments[task] - moment < 60


def test_the_sorties_page_leads_there(demo_site: BuiltSite) -> None:
    for proved in SORTIES:
        tiles = demo_site.article(f"sorties/{proved.sortie.id}.html").select(".bg-tile__link")
        assert f"../deciding/{proved.sortie.id}.html" in [tile["href"] for tile in tiles]
