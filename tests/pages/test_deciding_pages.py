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

CASES = list(demo().evidence.sorties.values())
each_sortie = pytest.mark.parametrize("case", CASES, ids=lambda case: str(case.sortie.id))


def text(part: Tag | None) -> str:
    return re.sub(r"\s+", " ", part.get_text(" ")).strip() if part else ""


def article(site: BuiltSite, case: SortieEvidence) -> Tag:
    return site.article(f"deciding/{case.sortie.id}.html")


def table(site: BuiltSite, case: SortieEvidence, name: str) -> list[list[str]]:
    caption = article(site, case).find(id=name)
    assert isinstance(caption, Tag)
    rows = caption.find_parent("table").select("tbody tr")  # type: ignore[union-attr]
    return [[text(cell) for cell in row.find_all(["th", "td"])] for row in rows]


def seconds(clock: str) -> int:
    hours, minutes, rest = map(int, clock.split(":"))
    return hours * 3600 + minutes * 60 + rest


def title(case: SortieEvidence, task: str) -> str:
    return str(case.library.tasks[task].label_text)


@each_sortie
def test_the_head_says_the_chance_the_margin_and_the_finish(demo_site: BuiltSite, case: SortieEvidence) -> None:
    head = text(article(demo_site, case).find("header"))
    chance = case.chance
    assert f"ends at {show_elapsed(case.timeline.finish)}, {show_duration(case.timeline.margin)} before" in head
    assert f"by then is {chance.finish.within(chance.usable).words};" in head
    assert f"within the limit, {chance.finish.within(chance.length).words}." in head
    assert chance.bare is not None
    assert f"of the first is {chance.bare.within(chance.usable).words}." in head


@each_sortie
def test_every_task_stands_with_its_moments_in_the_order_of_time(demo_site: BuiltSite, case: SortieEvidence) -> None:
    rows = table(demo_site, case, "_latest")
    assert [row[0] for row in rows] == [title(case, one.task) for one in case.latest]
    for row, one in zip(rows, case.latest, strict=True):
        assert row[2] == show_elapsed(one.begins)
        # Rounded down to the minute: never later than computed, never a whole minute earlier.
        assert 0 <= one.latest - seconds(row[3]) < 60
        assert seconds(row[3]) % 60 == 0
        assert row[4] == show_duration(one.spare)
        mean, deviation = map(float, re.fullmatch(r"([\d.]+) min ± ([\d.]+) min", row[5]).groups())  # type: ignore[union-attr]
        lasts = case.chance.tasks[one.task].lasts
        assert (mean, deviation) == (
            pytest.approx(lasts.mean / 60, abs=0.051),
            pytest.approx(lasts.deviation / 60, abs=0.051),
        )


@each_sortie
def test_what_to_leave_out_stands_with_what_it_gives_back(demo_site: BuiltSite, case: SortieEvidence) -> None:
    rows = table(demo_site, case, "_drops")
    for number, (row, one) in enumerate(zip(rows, case.dropping.drops, strict=True), start=1):
        along = "".join(f", and with it {title(case, name)}" for name in one.takes_along)
        assert row[0] == f"{number}. {title(case, one.task)}{along}"
        assert row[2] == (show_duration(one.gives_back) if one.gives_back >= 0.5 else "No earlier")
        reached = case.chance.tasks[one.task].reached
        assert reached is not None
        assert row[5].lower() == reached.words


def test_a_task_for_whoever_is_free_says_who_that_is_today_and_is_on_everybodys_card(demo_site: BuiltSite) -> None:
    said = " ".join(demo_site.article("tasks/wipe-window.html").get_text(" ").split()).replace(" :", ":")
    assert "Whoever is free." in said
    for case in demo().evidence.sorties.values():
        found = [one for one in case.extras.fitting if one.task == "wipe-window"]
        people = [case.library.people[between.person] for one in found for between in one.between]
        title, today = str(case.sortie.title), [name for who in people for name in (who.label_text, str(who.callsign))]
        told = [f"{title}: today's plan says {name}" for name in today] or [f"{title}: it does not fit as planned"]
        assert any(one in said for one in told)
        for person in case.plan.outside:
            assert (
                "Wipe the pane from the middle" in demo_site.article(f"cards/{case.sortie.id}/{person}.html").get_text()
            )


@each_sortie
def test_every_get_ahead_is_placed_or_says_why_not(demo_site: BuiltSite, case: SortieEvidence) -> None:
    page = text(article(demo_site, case))
    rows = table(demo_site, case, "_get-aheads") if case.extras.fitting else []
    for number, (row, one) in enumerate(zip(rows, case.extras.fitting, strict=True), start=1):
        assert row[0] == f"{number}. {title(case, one.task)}"
        assert row[2:4] == [show_elapsed(one.begins), show_elapsed(one.ends)]
        for gap in one.between:
            assert gap.after is None or title(case, gap.after) in row[1]
    for one in case.extras.unfit:
        assert re.search(rf"{re.escape(title(case, one.task))} (Fits|There is time|Needs|No gap)", page)
    if case.extras.fitting:
        assert f"the sortie ends at {show_elapsed(case.extras.finish)}" in page
        assert ("Every order was tried" in page) == case.extras.exact


@each_sortie
def test_the_page_says_how_the_chances_come_about_and_warns(demo_site: BuiltSite, case: SortieEvidence) -> None:
    page = demo_site.pages[f"deciding/{case.sortie.id}.html"]
    assert f"{RUNS} runs of the plan (seed {SEED})" in text(article(demo_site, case))
    assert "not the approved procedure" in text(page.select_one(".bg-caution"))
    assert article(demo_site, case).select_one(f"#finish-{case.sortie.id} .bg-chart__still svg")


@each_sortie
def test_the_steps_that_decide_are_all_there_once(demo_site: BuiltSite, case: SortieEvidence) -> None:
    told: dict[tuple[str, int], str] = {}
    for task, numbers, share in table(demo_site, case, "_decisive"):
        for part in re.split(r", | and ", numbers):
            first, _, last = part.partition(" to ")
            for number in range(int(first), int(last or first) + 1):
                assert (task, number) not in told
                told[task, number] = share
    wanted = {
        (title(case, str(step.task.id)), case.evidence.numbers[step.key]): share.words
        for step, share in zip(case.plan.steps, case.chance.critical, strict=True)
        if share.value >= 0.05
    }
    assert told == wanted


@each_sortie
def test_a_tasks_page_says_by_when_it_must_begin_and_an_optional_ones_what_it_gives_back(
    demo_site: BuiltSite, case: SortieEvidence
) -> None:
    for one in case.latest:
        keys = text(demo_site.article(f"tasks/{one.task}.html").select_one("header .bg-keys"))
        found = re.search(r"Begin no later than(?:, [^\d]*\d[^\d]*)? (\d+:\d\d) h elapsed", keys)
        assert found, keys
        assert ("Leaving it out" in keys) == ("Reached" in keys) == one.optional
        if len([other for other in CASES if one.task in other.tasks]) == 1:
            assert 0 <= one.latest - seconds(f"{found[1]}:00") < 60


@each_sortie
def test_a_card_says_once_for_each_task_by_when_its_person_must_begin(
    demo_site: BuiltSite, case: SortieEvidence
) -> None:
    for person in case.plan.flows:
        card = demo_site.article(f"cards/{case.sortie.id}/{person}.html")
        told = [seconds(text(part).removeprefix("begin by ")) for part in card.select(".bg-card__by")]
        moments = {one.task: dict(one.parts)[person] for one in case.latest if person in one.people}
        wanted = dict.fromkeys(str(case.plan.steps[index].task.id) for index in case.plan.flows[person])
        assert len(told) == len(wanted)
        for moment, task in zip(told, wanted, strict=True):
            assert 0 <= moments[task] - moment < 60


def test_the_sorties_page_leads_there(demo_site: BuiltSite) -> None:
    for case in CASES:
        tiles = demo_site.article(f"sorties/{case.sortie.id}.html").select(".bg-tile__link")
        assert f"../deciding/{case.sortie.id}.html" in [tile["href"] for tile in tiles]
