"""Stopping in each sortie: where it can be stopped cleanly, and elsewhere what is open and how it is closed up."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import hours
from briefgen.pages.desk import Desk
from briefgen.pages.planning.stopping import after, clean_row, stretch_row, stuck_words, unsearched_words, way_out
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Key
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.homeward import until_home
from briefgen.proof.stopping.stops import Stop
from briefgen.proof.stopping.stretches import TimeLeft, left, longest_without, stretches, worst
from briefgen.units import show_duration, show_elapsed


def pages(desk: Desk) -> Iterator[Page]:
    """One page a sortie in which anybody does anything."""
    for number, case in enumerate(desk.cases, start=1):
        far = worst(case.stops)
        if far is not None:
            yield _page(desk, case, number, far)


def _page(desk: Desk, case: SortieEvidence, number: int, far: Stop) -> Page:
    identifier = str(case.sortie.id)
    title = f"Stopping: {desk.short(identifier)}"
    rows = list(stretches(case.stops))
    return Page(
        uri=desk.links.record_uri("stopping", identifier),
        title=title,
        section="sorties",
        template="planning/stopping.html",
        icon="home",
        order=(1, number, 5),
        about="Where the sortie can be stopped cleanly, and elsewhere what is left open and how it is closed up.",
        rows={
            "title": title,
            "sortie": desk.link("sortie", identifier),
            "keys": tuple(_keys(case, far)),
            "stuck": stuck_words(case.stops),
            "unsearched": unsearched_words(case.stops),
            "charts": (desk.plots.draw("stopping", case),),
            "clean": tuple(clean_row(desk, case, row) for row in rows if row.clean),
            "stretches": tuple(
                stretch_row(desk, case, row, place) for place, row in enumerate(rows, start=1) if not row.clean
            ),
            "worst": {
                "at": show_elapsed(far.at),
                "after": after(desk, case, far),
                "takes": until_home(far.seconds),
                "bare": until_home(far.bare),
                "left": _left_words(desk, left(case, far.at)),
                "enough": far.seconds <= left(case, far.at).seconds,
                "homes": tuple((desk.mark(person), until_home(seconds)) for person, seconds in far.homes.items()),
                "steps": tuple(way_out(desk, case, far)),
            },
        },
    )


def _left_words(desk: Desk, one: TimeLeft) -> str:
    what = f"{desk.callsign(one.person)}'s {one.supply.replace('-', ' ')}" if one.person else "the sortie's length"
    return f"{show_duration(max(0.0, one.seconds))}, by {what}"


def _keys(case: SortieEvidence, far: Stop) -> Iterator[Key]:
    clean, stretch = sum(stop.clean for stop in case.stops), longest_without(case.stops)
    yield Key("Clean stops", str(clean), "times")
    if stretch:
        yield Key("Longest without one", hours(stretch.seconds), "h")
    yield Key("To close up, at most", until_home(far.seconds))
    yield Key("Longest when called at", show_elapsed(far.at), "elapsed")
    least = min(left(case, stop.at).seconds - stop.seconds for stop in case.stops)
    yield Key("Spare for a stop, at least", until_home(least) if least >= 0 else f"{until_home(-least)} short")
