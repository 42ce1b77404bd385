"""The overview and each sortie begin with the picture: site and ways, a small timeline, the tasks by letter."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from tests.browser_tools import opened

PAGES = ("index.html", "sorties/sortie-1.html", "sorties/sortie-2.html")


@pytest.mark.parametrize("page", PAGES)
def test_a_drawing_with_ways_and_people_stands_before_any_table(article, page):
    whole = article(page)
    frame = whole.select_one(".bg-glance .bg-scene__frame")
    assert frame.img["src"].endswith("station-map.svg")
    assert len(frame.select(".bg-scene__way")) == 2, "each person outside has a way"
    bands = [one["data-pattern"] for one in frame.select(".bg-scene__band")]
    names = frame.find_next("figcaption").select("a.bg-mark")
    assert bands == [one["data-pattern"] for one in names], "each way has its person's mark, and a name under it"
    assert all(one.select_one(".bg-mark__name").text for one in names)
    inside = list(whole.descendants)
    assert not [one for one in inside[: inside.index(frame)] if one.name in ("table", "dl")]


@pytest.mark.parametrize("page", PAGES)
def test_every_letter_of_the_strip_names_a_task_of_the_list(article, page):
    whole = article(page)
    for glance in whole.select(".bg-glance"):
        letters = {one.text for one in glance.select(".bg-strip__track b")}
        tasks = glance.find_next("ol", class_="bg-list")
        named = [one.text for one in tasks.select(".bg-strip__letter")]
        assert letters
        assert sorted(letters) == sorted(named), "no letter is missing or given twice"
        on_site = {letter for one in glance.select(".bg-scene__site") for letter in one.text.split()}
        assert on_site
        assert on_site <= letters


def _covered(one, other):
    wide = min(one["right"], other["right"]) - max(one["left"], other["left"])
    high = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
    return wide > 1 and high > 1


@pytest.mark.parametrize("width", [390, 820, 1280])
@pytest.mark.parametrize("page", PAGES)
def test_on_the_drawing_no_letter_and_no_mark_covers_another(browser, address, page, width):
    with opened(browser, f"{address}{page}", width=width) as (tab, _):
        frames = tab.locator(".bg-glance .bg-scene__frame")
        assert frames.count() > 0
        for number in range(frames.count()):
            boxes = frames.nth(number).evaluate(
                "frame => [...frame.querySelectorAll('.bg-scene__site, .bg-scene__band')]"
                ".map(one => one.getBoundingClientRect().toJSON())"
            )
            assert len(boxes) > 4
            assert not [pair for pair in combinations(boxes, 2) if _covered(*pair)]


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("page", PAGES)
def test_the_hours_of_the_strip_stand_on_one_line_within_it(browser, address, page, width):
    with opened(browser, f"{address}{page}", width=width) as (tab, _):
        ends = tab.evaluate(
            "[...document.querySelectorAll('.bg-strip__hours > span')].filter(one => one.offsetWidth).map(one =>"
            " [one.getBoundingClientRect().right, one.parentElement.getBoundingClientRect().right, one.offsetHeight])"
        )
        assert len(ends) >= 3
        assert all(right <= edge + 1 for right, edge, _ in ends)
        assert len({high for *_, high in ends}) == 1


@pytest.mark.parametrize("page", PAGES)
def test_pieces_of_the_strip_lie_within_it_and_tasks_of_a_person_follow_each_other(article, page):
    def ends(piece):
        left, wide = (float(one.partition(":")[2].rstrip("%")) for one in piece["style"].split(";"))
        return left, left + wide

    for track in article(page).select(".bg-strip__track"):
        tasks = [ends(one) for one in track.select("[data-kind=task], [data-kind=optional]")]
        assert tasks
        assert all(0 <= start < end <= 100.01 for start, end in tasks)
        assert all(before[1] <= after[0] + 0.02 for before, after in pairwise(tasks))
        spans = tasks + [ends(one) for one in track.select("[data-kind=hold]")]
        assert all(0 <= start <= end <= 100.01 for start, end in spans)


@pytest.mark.browser
@pytest.mark.parametrize("person", ["ev1", "ev2", "iv", "ground"])
@pytest.mark.parametrize(("width", "height", "screens"), [(1280, 900, 9.5), (390, 844, 17)])
def test_a_persons_sorties_are_read_in_few_screens(browser, address, person, width, height, screens):
    with opened(browser, f"{address}people/{person}.html", width=width, height=height) as (tab, _):
        assert tab.evaluate("document.documentElement.scrollHeight / innerHeight") <= screens
        row = tab.locator(".bg-way-step").first
        assert row.locator(".bg-clock").is_visible()
        # On paper nothing is left out.
        tab.emulate_media(media="print")
        assert (
            tab.locator(".bg-way-steps--brief .bg-takes:visible").count()
            == tab.locator(".bg-way-steps--brief .bg-takes").count()
        )
        assert tab.locator(".bg-hazard__so:visible").count() == tab.locator(".bg-hazard__so").count()
