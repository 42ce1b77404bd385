"""The sortie played: a map with everybody moving along the computed timeline, and what they do beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from briefgen.charts.chart import Chart
from briefgen.charts.kinds import site_map
from briefgen.charts.kinds.player.rows import Play, Span, points_of
from briefgen.charts.kinds.site_map import NARROW, WIDE, lay_out
from briefgen.charts.kinds.site_map.layout import TURNOVER
from briefgen.tables.table import Cell, Table, headed
from briefgen.units import show_elapsed


@dataclass(frozen=True)
class Played:
    """What a page needs to play a sortie. `data` is what `player.js` reads, `table` the readable equal."""

    id: str
    play: Play
    map: Chart
    data: dict[str, Any]
    table: Table


def play_sortie(play: Play, places: site_map.Rows) -> Played:
    """A sortie, ready to be played over the map of these places."""
    name = f"play-{play.rows.sortie}"
    chart = replace(
        site_map.CHART.chart(places), id=f"{name}-map", title=f"Where everybody is: {play.rows.title}", summary=""
    )
    sheets = {"wide": lay_out(places, WIDE), "narrow": lay_out(places, NARROW)}
    data = _data(play)
    data["sheets"] = {
        width: {"size": (sheet.wide, sheet.high), "points": points_of(play, sheet.points), "words": _words(sheet)}
        for width, sheet in sheets.items()
    }
    return Played(name, play, chart, data, _table(play))


def _words(sheet: site_map.Sheet) -> list[tuple[float, ...]]:
    """Where names and lengths stand on the map, as left, top, right, bottom, and the place or route's middle."""
    names: list[tuple[float, ...]] = [(*name.area, *sheet.points[name.spot.id]) for name in sheet.names]
    return names + [(x - 14, y - 7, x + 14, y + 7, x, y) for _, (x, y) in sheet.lengths]


def _data(play: Play) -> dict[str, Any]:
    """Lists rather than names wherever there are many: the whole sortie is then some tens of kilobytes."""
    rows = play.rows
    return {
        "turnover": TURNOVER,
        "finish": rows.finish,
        "nights": rows.nights,
        "moments": play.moments,
        "people": [
            {"label": lane.person.label_text, "outside": lane.person.outside, "spans": [_span(span) for span in spans]}
            for lane, spans in zip(rows.lanes, play.spans, strict=True)
        ],
        "steps": [
            {"n": one.number, "task": one.task, "do": one.do, "place": one.place, "takes": one.takes, "href": one.href,
             "hazards": one.hazards, "figures": one.figures, "holds": one.holds, "calls": one.calls}
            for one in play.steps
        ],
        "tasks": [{"title": one.title, "script": one.script, "href": one.href} for one in play.tasks],
        "hazards": [
            {"signal": one.signal, "hazard": one.hazard, "avoid": one.avoid, "href": one.href} for one in play.hazards
        ],
        "figures": [
            {"file": one.file, "alt": one.alt, "caption": one.caption, "href": one.href} for one in play.figures
        ],
    }  # fmt: skip


def _span(span: Span) -> list[Any]:
    return [span.kind, span.start, span.end, span.step, span.track, span.anchor, span.words]


def _table(play: Play) -> Table:
    """A row a moment; a column a person, with what begins for them then."""
    begins = [{span.start: span for span in spans} for spans in play.spans]
    return Table(
        name="player",
        title=f"Moments of the sortie: {play.rows.title}, in elapsed time (hours:minutes:seconds)",
        columns=headed("Elapsed", *(lane.person.label_text for lane in play.rows.lanes), figures={0}),
        rows=tuple(
            (
                Cell(show_elapsed(moment), f"#t={show_elapsed(moment)}"),
                *(_begins(own.get(moment), play) for own in begins),
            )
            for moment in play.moments
        ),
    )


def _begins(span: Span | None, play: Play) -> Cell:
    if span is None or span.kind == "standby":
        return Cell("")
    if span.kind == "step":
        step = play.steps[span.step]
        return Cell(step.do, step.href)
    return Cell(span.words or "Done")
