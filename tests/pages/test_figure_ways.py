"""Ways over a figure: between the places that it shows, for each sortie that leads there; on no other figure."""

from __future__ import annotations

import pytest

from briefgen.pages.context import PageContext
from briefgen.pages.studying.pictured import ways_on
from tests.demo import demo
from tests.pages.site_tools import BuiltSite

FIGURES = demo().library.figures


def places_of(figure: str) -> set[str]:
    shown = [str(callout.shows).partition(":") for callout in FIGURES[figure].callouts.values()]
    return {name for kind, _, name in shown if kind == "place"}


@pytest.mark.parametrize("figure", list(FIGURES))
def test_ways_stand_on_a_figure_with_two_places_and_on_no_other(context: PageContext, figure: str) -> None:
    found = list(ways_on(context, figure))
    assert bool(found) == (len(places_of(figure)) > 1)
    for sortie, picture in found:
        assert sortie.target
        assert picture.ways
        for way in picture.ways:
            corners = [tuple(map(float, point.split(","))) for point in way.line.split(" ")]
            assert len(corners) > 1
            assert all(0 <= x <= picture.width and 0 <= y <= picture.height for x, y in corners)


def test_a_figures_page_shows_them_for_each_sortie_with_whose_they_are(demo_site: BuiltSite) -> None:
    page = demo_site.article("figures/station-map.html")
    assert len(page.select(".bg-glance__site")) == 2
    for site in page.select(".bg-glance__site"):
        assert len(site.select(".bg-scene__ways .bg-scene__way")) == len(site.select("figcaption .bg-mark")) > 0
    assert not demo_site.article("figures/pump-front.html").select(".bg-scene__ways")
