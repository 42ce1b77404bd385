"""Stopping in each sortie: where it can be stopped cleanly, and elsewhere what is open and how it is closed up."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import hours
from briefgen.pages.context import PageContext
from briefgen.pages.planning.stopping import after, clean_row, stretch_row, stuck_words, unsearched_words, way_out
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Key
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.homeward import until_home
from briefgen.proof.stopping.stops import Stop
from briefgen.proof.stopping.stretches import TimeLeft, left, longest_without, stretches, worst
from briefgen.units import show_duration, show_elapsed


def pages(context: PageContext) -> Iterator[Page]:
    """One page a sortie in which anybody does anything."""
    for number, proved in enumerate(context.sorties, start=1):
        far = worst(proved.stops)
        if far is not None:
            yield _page(context, proved, number, far)


def _page(context: PageContext, proved: SortieEvidence, number: int, far: Stop) -> Page:
    identifier = str(proved.sortie.id)
    title = f"Stopping: {context.short(identifier)}"
    rows = list(stretches(proved.stops))
    return Page(
        uri=context.links.record_uri("stopping", identifier),
        title=title,
        section="sorties",
        template="planning/stopping.html",
        icon="home",
        order=(1, number, 5),
        about="Where the sortie can be stopped cleanly, and elsewhere what is left open and how it is closed up.",
        rows={
            "title": title,
            "sortie": context.link("sortie", identifier),
            "keys": tuple(_keys(proved, far)),
            "stuck": stuck_words(proved.stops),
            "unsearched": unsearched_words(proved.stops),
            "charts": (context.plots.draw("stopping", proved),),
            "clean": tuple(clean_row(context, proved, row) for row in rows if row.clean),
            "stretches": tuple(
                stretch_row(context, proved, row, place) for place, row in enumerate(rows, start=1) if not row.clean
            ),
            "worst": {
                "at": show_elapsed(far.at),
                "after": after(context, proved, far),
                "takes": until_home(far.seconds),
                "bare": until_home(far.bare),
                "left": _left_words(context, left(proved, far.at)),
                "enough": far.seconds <= left(proved, far.at).seconds,
                "homes": tuple((context.mark(person), until_home(seconds)) for person, seconds in far.homes.items()),
                "steps": tuple(way_out(context, proved, far)),
            },
        },
    )


def _left_words(context: PageContext, one: TimeLeft) -> str:
    what = f"{context.callsign(one.person)}'s {one.supply.replace('-', ' ')}" if one.person else "the sortie's length"
    return f"{show_duration(max(0.0, one.seconds))}, by {what}"


def _keys(proved: SortieEvidence, far: Stop) -> Iterator[Key]:
    clean, stretch = sum(stop.clean for stop in proved.stops), longest_without(proved.stops)
    yield Key("Clean stops", str(clean), "times")
    if stretch:
        yield Key("Longest without one", hours(stretch.seconds), "h")
    yield Key("To close up, at most", until_home(far.seconds))
    yield Key("Longest when called at", show_elapsed(far.at), "elapsed")
    least = min(left(proved, stop.at).seconds - stop.seconds for stop in proved.stops)
    yield Key("Spare for a stop, at least", until_home(least) if least >= 0 else f"{until_home(-least)} short")
