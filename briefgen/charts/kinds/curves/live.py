"""Curves over time as a figure that Plotly draws; time is in milliseconds on a date axis that begins at zero hours."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from briefgen.charts.drawing.marks import colour
from briefgen.charts.drawing.words import for_plotly
from briefgen.charts.interactive.figures import CONFIG
from briefgen.charts.kinds.curves.rows import Rows
from briefgen.charts.kinds.curves.still import Frame, ends, frames, sizes
from briefgen.units import show_number

Trace = dict[str, Any]
_HOVER = "<b>%{fullData.name} at %{x|%-H:%M:%S}</b><br>%{y:.3~f}"


def figure(rows: Rows) -> dict[str, Any]:
    """The figure for both widths; the panels of the narrow one stand below each other."""
    wide, narrow = sizes(rows)
    return {
        "data": list(_data(rows)), "layout": _layout(rows, narrow=False), "config": dict(CONFIG),
        "tools": {"size": wide, "zoom": True,
                  "narrow": {"figure": {"layout": _layout(rows, narrow=True)}, "size": narrow}},
    }  # fmt: skip


def _ms(seconds: float) -> int:
    return round(seconds * 1000)


def _axis(letter: str, number: int) -> str:
    return letter if number == 0 else f"{letter}{number + 1}"


def _data(rows: Rows) -> Iterator[Trace]:
    for number, panel in enumerate(rows.panels):
        for curve in panel.curves:
            yield {
                "type": "scatter", "mode": "lines", "name": for_plotly(curve.label), "showlegend": False,
                "meta": {}, "xaxis": _axis("x", number), "yaxis": _axis("y", number),
                "x": [_ms(seconds) for seconds, _ in curve.points], "y": [value for _, value in curve.points],
                "line": {"color": colour(curve.tone), "width": 2.4, "dash": curve.dash[0]},
                "hovertemplate": f"{_HOVER} {for_plotly(panel.unit)}<extra></extra>",
            }  # fmt: skip
        if panel.signs:
            yield {
                "type": "scatter", "mode": "markers", "name": for_plotly(rows.signs), "showlegend": False, "meta": {},
                "xaxis": _axis("x", number), "yaxis": _axis("y", number),
                "x": [_ms(seconds) for seconds, _ in panel.signs], "y": [value for _, value in panel.signs],
                "marker": {"symbol": "diamond", "size": 10, "color": colour("paper"),
                           "line": {"color": colour("ink"), "width": 1.8}},
                "hovertemplate": f"{_HOVER} {for_plotly(panel.unit)}<extra></extra>",
            }  # fmt: skip


def _layout(rows: Rows, narrow: bool) -> dict[str, Any]:
    sheet, high = sizes(rows)[narrow]
    layout: dict[str, Any] = {
        "showlegend": False, "hovermode": "closest", "hoverdistance": 30,
        "font": {"family": colour("sans"), "color": colour("ink"), "size": 12},
        "paper_bgcolor": "rgba(0,0,0,0)", "plot_bgcolor": "rgba(0,0,0,0)", "margin": {"l": 0, "r": 0, "t": 0, "b": 0},
        "hoverlabel": {"bgcolor": colour("paper"), "bordercolor": colour("edge"), "align": "left",
                       "font": {"family": colour("sans"), "color": colour("ink"), "size": 13}},
        "shapes": [], "annotations": [],
    }  # fmt: skip
    for number, frame in enumerate(frames(rows, narrow)):
        suffix = "" if number == 0 else str(number + 1)
        layout[f"xaxis{suffix}"] = _time_axis(rows, frame, number, sheet)
        layout[f"yaxis{suffix}"] = _value_axis(frame, number, high)
        layout["shapes"] += list(_shapes(rows, frame, number))
        layout["annotations"] += list(_notes(frame, number))
    return layout


def _time_axis(rows: Rows, frame: Frame, number: int, sheet: float) -> dict[str, Any]:
    axis = {
        "type": "date", "range": [0, _ms(rows.until)], "tickformat": "%-H:%M", "nticks": 8, "zeroline": False,
        "domain": [frame.left / sheet, (frame.left + frame.wide) / sheet], "anchor": _axis("y", number),
        "gridcolor": colour("line"), "tickfont": {"size": 12}, "minallowed": 0, "maxallowed": _ms(rows.until),
    }  # fmt: skip
    return axis if number == 0 else {**axis, "matches": "x"}


def _value_axis(frame: Frame, number: int, high: float) -> dict[str, Any]:
    return {
        "range": [0, frame.panel.most], "fixedrange": True, "gridcolor": colour("line"), "zeroline": False,
        "domain": [1 - (frame.top + frame.high) / high, 1 - frame.top / high], "anchor": _axis("x", number),
        "tickvals": list(frame.panel.ticks()), "ticktext": [show_number(value, 2) for value in frame.panel.ticks()],
        "tickfont": {"size": 12},
    }  # fmt: skip


def _shapes(rows: Rows, frame: Frame, number: int) -> Iterator[dict[str, Any]]:
    x, y = _axis("x", number), _axis("y", number)
    for start, end in rows.nights:
        yield {"type": "rect", "xref": x, "yref": f"{y} domain", "x0": _ms(start), "x1": _ms(min(end, rows.until)),
               "y0": 0, "y1": 1, "layer": "below", "fillcolor": colour("night"), "opacity": 0.7,
               "line": {"width": 0}}  # fmt: skip
    for level in frame.panel.levels:
        beyond = 0 if level.below else frame.panel.most
        yield {"type": "rect", "xref": f"{x} domain", "yref": y, "x0": 0, "x1": 1, "y0": level.value, "y1": beyond,
               "layer": "below", "fillcolor": colour("reserve"), "opacity": 0.7, "line": {"width": 0}}  # fmt: skip
        yield {"type": "line", "xref": f"{x} domain", "yref": y, "x0": 0, "x1": 1, "y0": level.value, "y1": level.value,
               "line": {"color": colour("limit"), "width": 1.5}}  # fmt: skip


def _notes(frame: Frame, number: int) -> Iterator[dict[str, Any]]:
    x, y = _axis("x", number), _axis("y", number)
    plain: dict[str, Any] = {"showarrow": False, "xanchor": "left", "font": {"size": 12, "color": colour("ink")}}
    title = f"<b>{for_plotly(frame.panel.title)}</b>, {for_plotly(frame.panel.unit)}"
    yield {**plain, "xref": f"{x} domain", "yref": f"{y} domain", "x": 0, "y": 1, "yanchor": "bottom", "text": title,
           "font": {"size": 13, "color": colour("ink")}, "yshift": 4}  # fmt: skip
    for level in frame.panel.levels:
        yield {**plain, "xref": f"{x} domain", "yref": y, "x": 0.01, "y": level.value, "yanchor": "bottom",
               "text": for_plotly(level.words)}  # fmt: skip
    last = list(ends(frame))
    # None stands below the axis, where its own words are.
    over = max(0, max((lowest for *_, lowest in last), default=0) - frame.top - frame.high)
    for curve, _, lowest in last:
        seconds, value = curve.points[-1]
        label, down = for_plotly(curve.label), lowest - over - frame.y(value) - 4
        yield {
            **plain,
            "xref": x,
            "yref": y,
            "x": _ms(seconds),
            "y": value,
            "text": label,
            "xshift": 3,
            "yshift": -down,
        }
