"""The pages of tools, bags and states against the proof."""

from __future__ import annotations

import re

from bs4 import Tag

from briefgen.pages.links import step_anchor
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.custody import Spot
from tests.demo import demo
from tests.pages.site_tools import BuiltSite


def names(section: Tag) -> set[str]:
    return {str(link["href"]).rpartition("/")[2].removesuffix(".html") for link in section.select("a.bg-chip")}


def section(site: BuiltSite, proved: SortieEvidence, page: str, anchor: str) -> Tag:
    found = site.article(f"{page}/{proved.sortie.id}.html").find("section", attrs={"aria-labelledby": anchor})
    assert isinstance(found, Tag)
    return found


def at_home(proved: SortieEvidence, spots: dict[str, Spot], thing: str) -> bool:
    spot = spots[thing]
    while spot.kind == "bags":
        spot = spots[spot.id]
    return spot == Spot("places", proved.plan.home or "")


def test_what_comes_home_is_what_the_proof_says_is_at_home_in_the_end(demo_site: BuiltSite) -> None:
    for proved in demo().evidence.sorties.values():
        ends = dict(proved.custody.ends)
        moved = {move.thing for move in proved.custody.moves}
        home = {thing for thing in moved if at_home(proved, ends, thing)}
        assert home
        assert home <= names(section(demo_site, proved, "ledgers", "_back"))
        assert not (moved - home) & names(section(demo_site, proved, "ledgers", "_back"))


def test_what_goes_out_and_does_not_come_home_is_said_to_stay_out(demo_site: BuiltSite) -> None:
    for proved in demo().evidence.sorties.values():
        ends = dict(proved.custody.ends)
        out, back = (names(section(demo_site, proved, "ledgers", anchor)) for anchor in ("_out", "_back"))
        lost = out - back
        assert all(not at_home(proved, ends, thing) for thing in lost)
        if lost:
            assert lost <= names(section(demo_site, proved, "ledgers", "_stays"))


def test_every_move_stands_in_the_ledger_in_the_order_of_time(demo_site: BuiltSite) -> None:
    for proved in demo().evidence.sorties.values():
        trails = section(demo_site, proved, "ledgers", "_things").select(".bg-trail")
        shown = 0
        for trail in trails:
            clocks = [clock.get_text() for clock in trail.select("li > .bg-clock")]
            seconds = [int(h) * 3600 + int(m) * 60 + int(s) for h, m, s in (clock.split(":") for clock in clocks)]
            assert seconds == sorted(seconds)
            shown += len(clocks)
        assert shown == len(proved.custody.moves)


def test_every_change_of_a_state_stands_on_the_states_page(demo_site: BuiltSite) -> None:
    for proved in demo().evidence.sorties.values():
        table = section(demo_site, proved, "states", "_all")
        said = re.sub(r"\s+", " ", table.get_text(" "))
        for changes in proved.states.changes.values():
            for step, state in changes.items():
                assert state in said
                assert step_anchor(proved.plan.steps[step].step) in {
                    str(a["href"]).rpartition("#")[2] for a in table.find_all("a")
                }


def test_a_control_names_who_sets_and_who_confirms_it(demo_site: BuiltSite) -> None:
    for proved in demo().evidence.sorties.values():
        relied = [met for met in proved.states.met if met.control and not met.need.confirms]
        if not relied:
            continue
        anchors = {
            str(a["href"]).rpartition("#")[2] for a in section(demo_site, proved, "states", "_guards").find_all("a")
        }
        for met in relied:
            for step in (met.need.step, met.answer.source, met.confirmed_by):
                assert step is None or proved.plan.steps[step].step.key in anchors
