"""The states chart as a figure that Plotly draws; time is in milliseconds on a date axis that begins at zero hours."""

from __future__ import annotations

from typing import Any

from briefgen.charts.figures import CONFIG
from briefgen.charts.look import colour
from briefgen.charts.states.layout import BAND, BAND_HIGH, FOOT, HEAD, LANE, NAME, NEED, Frame
from briefgen.charts.states.rows import Rows
from briefgen.charts.words import for_plotly, wrap
from briefgen.units import show_elapsed

Trace = dict[str, Any]
_HOVER = "<b>%{customdata[1]}</b><br>%{customdata[2]}<br>%{customdata[3]}<extra></extra>"


def figure(rows: Rows, wide: Frame, narrow: Frame) -> dict[str, Any]:
    """One figure for both widths: lanes lie across, and across the lanes a unit is a lane."""
    return {
        "data": [_needs(rows), _bands(rows), _looks(rows)], "layout": _layout(rows), "config": dict(CONFIG),
        "tools": {"size": (wide.wide, wide.high), "zoom": True, "strips": {"bars": (0, 1, 0, 1)},
                  "narrow": {"size": (narrow.wide, narrow.high)}},
    }  # fmt: skip


def _ms(seconds: float) -> int:
    return round(seconds * 1000)


def _bands(rows: Rows) -> Trace:
    own = [(number, lane, band) for number, lane in enumerate(rows.lanes) for band in lane.bands]
    inks = [colour("sunk" if band.begun else "link") for _, _, band in own]
    return {
        "type": "bar", "orientation": "h", "name": "states", "showlegend": False,
        "meta": {"strip": "bars", "steps": True},
        "base": [_ms(band.start) for _, _, band in own], "x": [_ms(band.end - band.start) for _, _, band in own],
        "y": [number + (BAND + BAND_HIGH / 2) / LANE for number, _, _ in own], "width": BAND_HIGH / LANE,
        "marker": {"color": inks, "line": {"color": colour("edge"), "width": 1}},
        "text": [for_plotly(band.state) for _, _, band in own], "textposition": "inside", "insidetextanchor": "start",
        "textangle": 0, "constraintext": "none",
        "insidetextfont": {"size": 11, "color": [colour("ink" if band.begun else "paper") for _, _, band in own]},
        "customdata": [
            [band.href, for_plotly(f"{lane.name}: {band.state}"),
             f"{show_elapsed(band.start)} to {'the end' if band is lane.bands[-1] else show_elapsed(band.end)}",
             _wrapped(band.cause)]
            for _, lane, band in own
        ],
        "hovertemplate": _HOVER,
    }  # fmt: skip


def _wrapped(words: str) -> str:
    return "<br>".join(wrap(for_plotly(words), 46, 1))


def _needs(rows: Rows) -> Trace:
    own = [(number, use) for number, lane in enumerate(rows.lanes) for use in lane.uses if not use.looks]
    return {
        "type": "bar", "orientation": "h", "name": "needs", "showlegend": False, "meta": {"strip": "bars"},
        "base": [_ms(use.start) for _, use in own], "x": [_ms(use.end - use.start) for _, use in own],
        "y": [number + NEED / LANE for number, _ in own], "width": 3 / LANE,
        "marker": {"color": colour("ink"), "line": {"width": 0}},
        "customdata": [[use.href, _wrapped(use.words), f"{show_elapsed(use.start)} to {show_elapsed(use.end)}", ""]
                       for _, use in own],
        "hovertemplate": "<b>%{customdata[1]}</b><br>%{customdata[2]}<extra></extra>",
    }  # fmt: skip


def _looks(rows: Rows) -> Trace:
    own = [(number, use) for number, lane in enumerate(rows.lanes) for use in lane.uses if use.looks]
    return {
        "type": "scatter", "mode": "markers", "name": "confirmed", "showlegend": False, "meta": {"strip": "bars"},
        "x": [_ms(use.end) for _, use in own], "y": [number + (BAND - 3) / LANE for number, _ in own],
        "marker": {"symbol": "diamond", "size": 10, "opacity": 1, "color": colour("link"),
                   "line": {"color": colour("paper"), "width": 1}},
        "customdata": [[use.href, _wrapped(use.words), show_elapsed(use.end)] for _, use in own],
        "hovertemplate": "<b>%{customdata[1]}</b><br>%{customdata[2]}<extra></extra>",
    }  # fmt: skip


def _layout(rows: Rows) -> dict[str, Any]:
    until = _ms(rows.until)
    name = {"x": 0, "xref": "paper", "xanchor": "left", "yanchor": "middle", "showarrow": False, "align": "left"}
    return {
        "barmode": "overlay", "bargap": 0, "showlegend": False, "hovermode": "closest",
        "font": {"family": colour("sans"), "color": colour("ink"), "size": 12},
        "paper_bgcolor": "rgba(0,0,0,0)", "plot_bgcolor": "rgba(0,0,0,0)",
        "margin": {"l": 8, "r": 8, "t": HEAD, "b": FOOT},
        "hoverlabel": {"bgcolor": colour("paper"), "bordercolor": colour("edge"), "align": "left",
                       "font": {"family": colour("sans"), "color": colour("ink"), "size": 13}},
        "xaxis": {"type": "date", "range": [0, until], "minallowed": 0, "maxallowed": until, "tickformat": "%-H:%M",
                  "side": "top", "gridcolor": colour("line"), "nticks": 14, "zeroline": False,
                  "tickfont": {"size": 11}},
        "yaxis": {"range": [len(rows.lanes), 0], "fixedrange": True, "visible": False,
                  "tickvals": list(range(len(rows.lanes)))},
        "annotations": [
            {**name, "y": number + (NAME - 4) / LANE, "font": {"size": 13, "color": colour("ink")},
             "text": f"<b>{for_plotly(lane.name)}</b>" + ("  control" if lane.control else "")}
            for number, lane in enumerate(rows.lanes)
        ],
    }  # fmt: skip
