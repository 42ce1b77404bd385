"""The finish as a figure that Plotly draws; time is in milliseconds on a date axis that begins at zero hours."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from briefgen.charts.drawing.marks import colour
from briefgen.charts.drawing.sheet import NARROW, WIDE
from briefgen.charts.interactive.figures import CONFIG
from briefgen.charts.kinds.finish.rows import Moment, Rows
from briefgen.charts.kinds.finish.still import FOOT, HEAD, HIGH, LEFT, RIGHT, share_ticks
from briefgen.units import show_elapsed, show_number

_HOVER = "<b>%{customdata[0]} to %{customdata[1]}</b><br>%{customdata[2]} of the runs end<br>"
_BY = "%{customdata[3]} have ended by then<extra></extra>"


def figure(rows: Rows) -> dict[str, Any]:
    """The figure; both widths share all but their size."""
    narrow = {"figure": {"layout": _layout(rows, NARROW)}, "size": (NARROW, HIGH)}
    return {
        "data": [_bars(rows)], "layout": _layout(rows, WIDE), "config": dict(CONFIG),
        "tools": {"size": (WIDE, HIGH), "narrow": narrow},
    }  # fmt: skip


def _ms(seconds: float) -> int:
    return round(seconds * 1000)


def _bars(rows: Rows) -> dict[str, Any]:
    bars = [bar for bar in rows.bars if bar.share.hits]
    return {
        "type": "bar", "name": "finish", "showlegend": False, "meta": {},
        "x": [_ms((bar.start + bar.end) / 2) for bar in bars], "y": [100 * bar.share.value for bar in bars],
        "width": [_ms(0.94 * rows.wide)] * len(bars), "marker": {"color": colour("lane-1")},
        "customdata": [
            [show_elapsed(bar.start), show_elapsed(bar.end), bar.share.words, bar.by.words] for bar in bars
        ],
        "hovertemplate": _HOVER + _BY,
    }  # fmt: skip


def _layout(rows: Rows, sheet: float) -> dict[str, Any]:
    across = [LEFT / sheet, 1 - RIGHT / sheet]
    ticks = share_ticks(rows.most)
    return {
        "showlegend": False, "hovermode": "closest", "bargap": 0,
        "font": {"family": colour("sans"), "color": colour("ink"), "size": 12},
        "paper_bgcolor": "rgba(0,0,0,0)", "plot_bgcolor": "rgba(0,0,0,0)", "margin": {"l": 0, "r": 0, "t": 0, "b": 0},
        "hoverlabel": {"bgcolor": colour("paper"), "bordercolor": colour("edge"), "align": "left",
                       "font": {"family": colour("sans"), "color": colour("ink"), "size": 13}},
        "xaxis": {"type": "date", "range": [_ms(rows.begin), _ms(rows.until)], "tickformat": "%-H:%M",
                  "nticks": 12 if sheet == WIDE else 6, "domain": across, "zeroline": False, "showgrid": False,
                  "ticks": "outside", "tickcolor": colour("line"), "tickfont": {"size": 12}, "fixedrange": True},
        "yaxis": {"range": [0, 106 * rows.most], "domain": [FOOT / HIGH, 1 - HEAD / HIGH], "fixedrange": True,
                  "gridcolor": colour("line"), "zeroline": False, "tickvals": [100 * share for share in ticks],
                  "ticktext": [f"{show_number(100 * share, 0)} %" for share in ticks], "tickfont": {"size": 12}},
        "shapes": list(_shapes(rows)), "annotations": list(_notes(rows, sheet)),
    }  # fmt: skip


def _shapes(rows: Rows) -> Iterator[dict[str, Any]]:
    limits = [one.seconds for one in rows.moments if one.limit]
    if len(limits) > 1:
        yield {"type": "rect", "xref": "x", "yref": "y domain", "x0": _ms(limits[0]), "x1": _ms(limits[1]), "y0": 0,
               "y1": 1, "layer": "below", "fillcolor": colour("reserve"), "opacity": 0.7,
               "line": {"width": 0}}  # fmt: skip
    for number, one in enumerate(rows.moments):
        dash = {"color": colour("limit"), "width": 1.5} if one.limit else {"color": colour("ink"), "dash": "dash"}
        yield {"type": "line", "xref": "x", "yref": "paper", "x0": _ms(one.seconds), "x1": _ms(one.seconds),
               "y0": FOOT / HIGH, "y1": _height(number), "line": dash}  # fmt: skip


def _notes(rows: Rows, sheet: float) -> Iterator[dict[str, Any]]:
    for number, one in enumerate(rows.moments):
        left = (one.seconds - rows.begin) / (rows.until - rows.begin) > 1 - 130 / sheet
        yield {"xref": "x", "yref": "paper", "x": _ms(one.seconds), "y": _height(number), "text": _words(one),
               "showarrow": False, "xanchor": "right" if left else "left", "yanchor": "top",
               "font": {"size": 12, "color": colour("ink")}}  # fmt: skip


def _height(number: int) -> float:
    return 1 - (6 + 16 * number) / HIGH


def _words(one: Moment) -> str:
    return f"{one.words} {show_elapsed(one.seconds)}"
