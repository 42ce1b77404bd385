"""The demo's built site, page by page."""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise

import pytest
from bs4 import Tag

from briefgen.model.library import KINDS
from briefgen.pages.links import step_anchor
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_duration, show_elapsed
from tests.demo import demo
from tests.pages.site_tools import BuiltSite

OWN_PAGES = {
    "sorties": "sorties", "tasks": "tasks", "people": "people", "suits": "suits", "places": "places", "tools": "tools",
    "bags": "bags", "equipment": "equipment", "hazards": "hazards", "figures": "figures",
}  # fmt: skip
SHARED_PAGES = {"routes": "routes", "outcomes": "outcomes", "questions": "questions", "terms": "glossary"}


def proved_sorties() -> list[SortieEvidence]:
    return list(demo().evidence.sorties.values())


def words(tag: Tag | None) -> str:
    return re.sub(r"\s+", " ", tag.get_text(" ")).strip() if tag else ""


def test_every_link_anchor_picture_and_script_of_the_site_resolves(demo_site: BuiltSite) -> None:
    assert list(demo_site.broken_links()) == []


def test_every_record_of_the_library_has_its_page_or_its_anchor(demo_site: BuiltSite) -> None:
    missing = []
    for kind, record in demo().library.every():
        if kind in OWN_PAGES and f"{OWN_PAGES[kind]}/{record.id}.html" not in demo_site.pages:
            missing.append(f"{kind}/{record.id}")
        if kind in SHARED_PAGES and record.id not in demo_site.ids[f"{SHARED_PAGES[kind]}.html"]:
            missing.append(f"{kind}#{record.id}")
    assert missing == []
    assert {*OWN_PAGES, *SHARED_PAGES, "programme"} == set(KINDS)


def test_every_step_of_every_task_has_an_anchor_that_is_its_heading(demo_site: BuiltSite) -> None:
    for name, task in demo().library.tasks.items():
        article = demo_site.article(f"tasks/{name}.html")
        for step in task.steps:
            anchor = article.find(id=step_anchor(step))
            assert isinstance(anchor, Tag), f"{name}/{step.key} has no anchor"
            # A block is told once: its later rounds lead to the heading of their step.
            heading = anchor.find_parent("h3") if step.origin.again else anchor
            assert isinstance(heading, Tag)
            assert heading.name == "h3"
            assert _bare(str(step.do)) == _bare(words(heading))


def test_no_id_stands_twice_on_a_page(demo_site: BuiltSite) -> None:
    for name, page in demo_site.pages.items():
        counted = Counter(str(tag["id"]) for tag in page.find_all(id=True))
        assert [identifier for identifier, number in counted.items() if number > 1] == [], name


def test_every_page_has_one_first_heading_and_skips_no_level(demo_site: BuiltSite) -> None:
    for name, article in demo_site.articles():
        levels = [int(heading.name[1]) for heading in article.find_all(re.compile(r"h[1-6]"))]
        assert levels[0] == 1, name
        assert levels.count(1) == 1, name
        assert all(second <= first + 1 for first, second in pairwise(levels)), name


def test_every_page_says_that_it_is_a_training_aid(demo_site: BuiltSite) -> None:
    for name, page in demo_site.pages.items():
        caution = words(page.find(class_="bg-caution"))
        assert "not the approved procedure" in caution, name


def test_the_overview_leads_to_every_step_in_two_clicks(demo_site: BuiltSite) -> None:
    first = {
        _page_of("index.html", str(link["href"])) for link in demo_site.pages["index.html"].find_all("a", href=True)
    }
    reached: set[str] = set()
    for name in first & demo_site.pages.keys():
        for link in demo_site.pages[name].find_all("a", href=True):
            path, _, anchor = str(link["href"]).partition("#")
            reached.add(f"{_page_of(name, path) if path else name}#{anchor}")
    for proved in proved_sorties():
        for step in proved.plan.steps:
            assert f"tasks/{step.task.id}.html#{step_anchor(step.step)}" in reached


def _page_of(name: str, address: str) -> str:
    parts = (name.rpartition("/")[0] + "/" + address.partition("#")[0]).split("/")
    path: list[str] = []
    for part in parts:
        if part == "..":
            path.pop()
        elif part:
            path.append(part)
    return "/".join(path)


def test_hazards_stand_ahead_of_the_step_that_carries_them(demo_site: BuiltSite) -> None:
    seen = 0
    for name, task in demo().library.tasks.items():
        for step in task.steps:
            item = demo_site.article(f"tasks/{name}.html").find(id=step_anchor(step))
            assert isinstance(item, Tag)
            box = item.find_parent("li")
            assert isinstance(box, Tag)
            ahead = {str(row["id"]): words(row) for row in box.find_previous_siblings("li", class_="bg-steps__hazard")}
            signs = [str(sign["href"]).removeprefix("#") for sign in box.select(".bg-step__head .bg-sign")]
            assert set(signs) <= set(ahead), f"{name}/{step.key}: a hazard stands after the step"
            statements = [ahead[sign] for sign in signs]
            for hazard in step.hazards:
                record = demo().library.hazards[hazard]
                texts = [record.hazard, record.consequence, record.avoid, record.signal.capitalize()]
                assert any(all(_bare(text) in _bare(statement) for text in texts) for statement in statements)
                seen += 1
    assert seen > 20


def _bare(text: str) -> str:
    """Letters and digits only, Markdown's addresses left out."""
    return re.sub(r"[^\w]+", "", re.sub(r"\]\([^)]*\)", "]", text))


def test_holds_stand_ahead_of_the_step_that_waits(demo_site: BuiltSite) -> None:
    for proved in proved_sorties():
        assert proved.holds
        for hold in proved.holds:
            step, first = proved.plan.steps[hold.step], proved.plan.steps[hold.first]
            heading = demo_site.article(f"tasks/{step.task.id}.html").find(id=step_anchor(step.step))
            assert isinstance(heading, Tag)
            row = heading.find_parent("li")
            boxes = [tag for tag in heading.find_all_previous(class_="bg-hold") if tag.find_parent("li") is row]
            targets = [str(link["href"]).rpartition("#")[2] for box in boxes for link in box.select("a:not(.bg-mark)")]
            told = first.task.named(f"{first.step.origin.block}/{first.step.origin.local}")[:1] or (first.step,)
            assert {step_anchor(first.step), step_anchor(told[0])} & {*targets}


def test_the_times_on_a_task_page_are_those_of_the_timeline(demo_site: BuiltSite) -> None:
    for proved in proved_sorties():
        for times in proved.timeline.times:
            heading = demo_site.article(f"tasks/{times.step.task.id}.html").find(id=step_anchor(times.step.step))
            assert isinstance(heading, Tag)
            clocks = words(heading.find_parent("li"))
            begins, again = show_elapsed(times.start), times.step.step.origin.again
            assert re.search(rf", then at .*{begins}" if again else rf"{begins} to {show_elapsed(times.end)}", clocks)


def test_the_sums_of_a_person_make_the_planned_length(demo_site: BuiltSite) -> None:
    for proved in proved_sorties():
        rows = demo_site.article(f"sorties/{proved.sortie.id}.html").select("tbody tr")
        assert len(rows) == len(proved.plan.flows)
        for row in rows:
            work, way, waiting, after, planned = (_seconds(words(cell)) for cell in row.find_all("td"))
            assert planned == round(proved.timeline.finish)
            assert work + way + waiting + after == pytest.approx(planned, abs=2)  # each is rounded to a second


def _seconds(text: str) -> int:
    units = {"h": 3600, "min": 60, "s": 1}
    return sum(int(number) * units[unit] for number, unit in re.findall(r"(\d+) (h|min|s)", text))


def test_a_persons_page_has_every_step_of_theirs_in_the_order_of_time(demo_site: BuiltSite) -> None:
    for proved in proved_sorties():
        for person in proved.plan.flows:
            section = demo_site.article(f"people/{person}.html").find(
                "section", attrs={"aria-labelledby": f"_{proved.sortie.id}"}
            )
            assert isinstance(section, Tag)
            shown = [words(tag) for tag in section.select(".bg-way-step > p > .bg-clock")]
            planned = [f"{show_elapsed(one.start)} to {show_elapsed(one.end)}" for one in proved.timeline.of(person)]
            assert shown == planned
            ways = [words(tag) for tag in section.select(".bg-way .bg-takes")]
            legs = [leg for leg in proved.timeline.legs if leg.person == person]
            assert len(ways) == len(legs)
            assert all(show_duration(leg.end - leg.start) in said for leg, said in zip(legs, ways, strict=True))


_UNITS = (
    r"%|°|(?:s|min|h|m|kg|g|W|N·m|Ah|V|Pa|kPa|mm|m/min|MJ|km)\b|turns?\b|pieces?\b|items?\b|steps?\b|tasks?\b|people\b|"
    r"person\b|planned\b|times\b|elapsed\b|bags?\b|words"
)  # fmt: skip


def test_every_value_that_is_a_number_says_its_unit(demo_site: BuiltSite) -> None:
    """Every list of values on every page: whatever begins with a figure goes on with a unit, or is a clock."""
    checked = 0
    parts = "|".join({str(part) for one in demo().library.equipment.values() for part in one.parts})
    item = rf"\b(?:{parts}) \w+\b"  # an item's name, as “rack 1”, is no figure
    for name, article in demo_site.articles():
        for value in article.select("dd, td.bg-table__num, .bg-takes"):
            if value.find_parent(class_="bg-chart") or value.find("ul") or value.find("a"):
                continue
            text = re.sub(rf"\d{{4}}-\d\d-\d\d \d\d:\d\d UTC|{item}", "", words(value))
            for found in re.finditer(r"(?<![\w./:-])\d+(?:[.:/]\d+)*", text):
                checked += 1
                rest = text[found.end() :].strip(" ,)")
                clock = re.fullmatch(r"\d+:\d\d:\d\d", found[0])
                assert clock or re.match(_UNITS, rest), f"{name}: “{text}” has a figure without a unit"
    assert checked > 500


def test_terms_are_marked_where_they_are_used_and_lead_to_their_meaning(demo_site: BuiltSite) -> None:
    marked = {
        str(link["href"]).rpartition("#")[2]
        for _, article in demo_site.articles()
        for link in article.select(".bg-termlink")
    }
    assert len(marked) > 0.8 * len(demo().library.terms)
    assert marked <= set(demo().library.terms)


def test_figures_show_every_callout_with_its_number_on_the_picture_and_in_the_list(demo_site: BuiltSite) -> None:
    for name, figure in demo().library.figures.items():
        article = demo_site.article(f"figures/{name}.html")
        pins = article.select(".bg-pin")
        lines = article.select(".bg-callouts > li")
        assert len(pins) == len(lines) == len(figure.callouts)
        for pin, (callout, record) in zip(pins, figure.callouts.items(), strict=True):
            assert str(pin["href"]) == f"#{name}-{callout}"
            across, down = re.findall(r"([\d.]+)%", str(pin["style"]))
            assert float(across) == pytest.approx(100 * record.at[0], abs=0.01)
            assert float(down) == pytest.approx(100 * record.at[1], abs=0.01)


def test_each_item_of_a_step_has_a_box_of_its_own(demo_site: BuiltSite) -> None:
    boxes, rounds = 0, set[str]()
    for proved in proved_sorties():
        for step in proved.plan.steps:
            if step.step.each:
                article = demo_site.article(f"tasks/{step.task.id}.html")
                heading = article.find(id=step_anchor(step.step))
                assert isinstance(heading, Tag)
                row = heading.find_parent("li")
                assert isinstance(row, Tag)
                assert not (step.step.origin.block and row.select(".bg-tick"))
                # A block has one grid for all its steps and rounds, ahead of its first step.
                place = row.find_previous_sibling("li", class_="bg-rounds") if step.step.origin.block else row
                assert isinstance(place, Tag)
                keep = f"task:{step.task.id}#{step_anchor(step.step)}/"
                ticks = [tick for tick in place.select(".bg-tick input") if str(tick["data-keep"]).startswith(keep)]
                assert len(ticks) == len(step.items)
                assert len({str(tick["data-keep"]) for tick in ticks}) == len(ticks)
                boxes += len(ticks)
                rounds |= {step.key} if step.step.origin.block else set()
    assert boxes > 50
    assert len(rounds) >= 6


def test_a_card_tells_a_block_once_and_has_a_box_for_each_round_of_the_persons_steps(demo_site: BuiltSite) -> None:
    seen = 0
    for proved in proved_sorties():
        for person in proved.plan.flows:
            card = demo_site.article(f"cards/{proved.sortie.id}/{person}.html")
            kept = Counter(str(tick["data-keep"]) for tick in card.select(".bg-card__rounds .bg-tick input"))
            for times in proved.timeline.of(person):
                step = times.step.step
                if step.origin.block:
                    told = [
                        str(link["href"])
                        for link in card.select(".bg-card__do a")
                        if str(link["href"]).endswith(f"{times.step.task.id}.html#{step_anchor(step)}")
                    ]
                    assert len(told) == (0 if step.origin.again else 1)
                    key = f"task:{times.step.task.id}#{step_anchor(step)}/"
                    assert sum(number for name, number in kept.items() if name.startswith(key)) == len(times.step.items)
                    heads = [words(one) for one in card.select(".bg-card__rounds .bg-ticks__row")]
                    item = ", ".join(f"{part} {name}" for part, name in zip(["rack"], step.origin.item, strict=True))
                    assert any(head.lower().startswith(item) for head in heads)
                    seen += 1
            assert set(kept.values()) <= {1}
    assert seen >= 9


def test_a_chart_stands_with_its_still_and_its_table_and_only_such_pages_load_its_script(demo_site: BuiltSite) -> None:
    with_charts = 0
    for name, page in demo_site.pages.items():
        charts = page.select("figure.bg-chart")
        loads = any("charts.js" in str(tag.get("src")) for tag in page.find_all("script"))
        assert loads == bool(charts), name
        assert not any("plotly" in str(tag.get("src")) for tag in page.find_all("script")), name
        for chart in charts:
            with_charts += 1
            assert chart.find("svg"), name
            assert chart.select("details table tbody tr") or page.select(".bg-player table tbody tr"), name
    assert with_charts >= len(demo().library.tasks)


def test_the_right_answer_of_every_question_is_marked_and_explained(demo_site: BuiltSite) -> None:
    article = demo_site.article("questions.html")
    for name, question in demo().library.questions.items():
        box = article.find(id=name)
        assert isinstance(box, Tag)
        answers = box.select(".bg-answer")
        right = [number for number, answer in enumerate(answers, start=1) if answer.has_attr("data-correct")]
        assert right == list(question.correct)
        assert _bare(question.because) in _bare(words(box))


def test_a_task_in_nobodys_flow_says_how_much_work_it_is(demo_site: BuiltSite) -> None:
    free = {str(name) for proved in proved_sorties() for name in proved.sortie.get_aheads}
    assert free
    for name in free:
        task = demo().library.tasks[name]
        items = {key: len(record.items) for key, record in demo().library.equipment.items()}
        whole = [step for step in task.steps if step.each is None or not step.each.where]
        value = _seconds(words(_value(demo_site, f"tasks/{name}.html", "Work, without the ways")))
        for person in {str(person) for step in task.steps for person in step.who}:
            mine = sum(
                step.takes.likely * (items[step.each.equipment] if step.each else 1)
                for step in whole
                if person in step.who
            )
            assert value >= mine


def _value(site: BuiltSite, page: str, name: str) -> Tag | None:
    head = site.article(page).find("dt", string=name)
    found = head.find_next("dd") if isinstance(head, Tag) else None
    return found if isinstance(found, Tag) else None
