"""What stands in every built page, cue cards and prose included; tests/pages holds the single pages to the plan."""

from __future__ import annotations

import re
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

from bs4 import Tag

from briefgen.pages.links import step_anchor
from tests.demo import demo
from tests.pages.site_tools import BuiltSite

# What a browser fetches by itself; a link is followed only when it is pressed.
LOADING = {
    "script": "src", "img": "src", "iframe": "src", "source": "src", "audio": "src", "video": "src", "embed": "src",
    "object": "data", "link": "href", "image": "href", "use": "href",
}  # fmt: skip


def test_nothing_that_a_page_loads_lies_outside_the_site(parsed: BuiltSite) -> None:
    seen = 0
    for name, page in parsed.pages.items():
        for tag in page.find_all(list(LOADING)):
            address = str(tag.get(LOADING[tag.name], "") or tag.get("xlink:href", ""))
            seen += bool(address)
            assert not re.match(r"(?:[a-z]+:)?//", address), f"{name}: {address}"
        for style in [*page.find_all("style"), *page.find_all(style=True)]:
            text = style.get_text() if style.name == "style" else str(style["style"])
            assert not re.search(r"url\(\s*[\"']?(?:[a-z]+:)?//", text), name
    assert seen > 1000


def test_no_style_sheet_and_no_picture_asks_for_anything_outside(parsed: BuiltSite) -> None:
    files = [*parsed.folder.rglob("*.css"), *parsed.folder.rglob("*.svg")]
    assert len(files) > 15
    for file in files:
        text = file.read_text(encoding="utf-8")
        asked = re.findall(r"(?:url\(\s*[\"']?|@import\s+[\"']|(?:href|src)=[\"'])((?:https?:)?//[^\"')]+)", text)
        assert asked == [], file.name


def test_every_picture_has_words_and_a_size(parsed: BuiltSite) -> None:
    seen = 0
    for name, page in parsed.pages.items():
        for image in page.find_all("img"):
            seen += 1
            assert image.has_attr("alt"), name
            # A small picture beside a step is told by the words in its link.
            link = image.find_parent("a")
            assert image["alt"] or (isinstance(link, Tag) and link.get_text(strip=True)), name
            assert image.has_attr("width"), name
            assert image.has_attr("height"), name
    assert seen > 150


def test_every_chart_has_a_still_and_a_table_with_a_caption_and_rows(parsed: BuiltSite) -> None:
    kinds = set()
    for name, page in parsed.pages.items():
        for chart in page.select("figure.bg-chart"):
            kinds.add(str(chart["data-chart"]))
            still = chart.select_one(".bg-chart__still svg")
            assert still is not None, name
            assert still.get("aria-label"), name
            # The player's table stands beside its chart, not in it.
            around = chart if chart.find("table") else chart.find_parent(class_="bg-player")
            table = around.find("table") if isinstance(around, Tag) else None
            assert isinstance(table, Tag), f"{name}: {chart.get('id')} has no table"
            assert table.caption is not None, name
            assert table.caption.get_text(strip=True), name
            assert len(table.select("tbody tr")) > 0, name
    assert {"timeline", "steps", "map", "supplies", "homeward", "states"} <= kinds


def test_hazards_come_before_the_words_of_their_step_everywhere(parsed: BuiltSite) -> None:
    """On task pages, on people's pages and on cards: within a step's row nothing warns after the instruction."""
    seen = 0
    for name, article in parsed.articles():
        for row in article.select("li.bg-step, li.bg-way-step, li.bg-card__step"):
            told = row.select_one(":scope > .bg-step__said, :scope > .bg-card__do, :scope > p:has(> .bg-clock)")
            assert told is not None, name
            late = told.find_next_siblings(class_="bg-hazard")
            assert not late, f"{name}: {told.get_text(strip=True)}"
            seen += len(row.find_all(class_="bg-hazard", recursive=False))
        # On a card a statement is a row of its own: the row of a step that it covers follows it.
        for warns in article.select("li.bg-card__warns"):
            assert warns.find_next_siblings("li", class_="bg-card__step"), f"{name}: {warns.get_text(strip=True)}"
            seen += len(warns.find_all(class_="bg-hazard", recursive=False))
    assert seen > 100


def test_on_a_persons_way_each_step_bears_the_signs_of_what_can_hurt_there_and_each_is_stated_ahead(
    parsed: BuiltSite,
) -> None:
    seen = 0
    for proved in demo().evidence.sorties.values():
        for person, flow in proved.plan.flows.items():
            way = parsed.article(f"people/{person}.html").find("section", {"aria-labelledby": f"_{proved.sortie.id}"})
            assert isinstance(way, Tag)
            for index, row in zip(flow, way.select(".bg-way-step"), strict=True):
                signs = row.select(".bg-sign")
                assert len(signs) == len({str(one.hazard) for one in proved.plan.steps[index].hazards})
                for sign in signs:
                    stated = way.find(id=str(sign["href"])[1:])
                    assert isinstance(stated, Tag)
                    assert any(sign is one for one in stated.find_all_next(class_="bg-sign"))
                    seen += 1
    assert seen > 50


def test_every_step_is_two_clicks_from_the_overview(parsed: BuiltSite) -> None:
    """One to a page that the overview itself links; one more to the step, unless it stands on that page."""
    first = {page for page, _ in _inner_links(parsed, "index.html")}
    reached = {(page, part) for one in first for page, part in _inner_links(parsed, one)}
    steps = {
        (f"tasks/{task.id}.html", step_anchor(step)) for task in demo().library.tasks.values() for step in task.steps
    }
    assert len(steps) > 250
    standing = {(page, part) for page, part in steps if page in first and parsed.pages[page].find(id=part)}
    assert sorted(steps - reached - standing) == []


def _inner_links(parsed: BuiltSite, name: str) -> set[tuple[str, str]]:
    """What the inside of a page links to: pages of the site, each with the part that is meant."""
    links = set()
    for link in parsed.article(name).select("a[href]"):
        address = urlsplit(str(link["href"]))
        page = normpath(join(dirname(name), address.path)) if address.path else name
        if page in parsed.pages:
            links.add((page, unquote(address.fragment)))
    return links


def test_every_main_value_says_its_unit(parsed: BuiltSite) -> None:
    seen = 0
    for name, article in parsed.articles():
        for value in article.select(".bg-keys__item > dd"):
            number = value.find(class_="bg-num")
            if number:
                seen += 1
                unit = value.find(class_="bg-unit")
                assert isinstance(unit, Tag), f"{name}: {value.get_text()}"
                assert unit.get_text(strip=True), f"{name}: {value.get_text()}"
            else:
                assert not re.fullmatch(r"[\d.,:]+", value.get_text(strip=True)), f"{name}: {value.get_text()}"
    assert seen > 100
