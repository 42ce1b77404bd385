"""Figures for Plotly: the one module that imports it. Checks a figure, writes it small, hands out the one script."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from typing import Any

from briefgen.charts.chart import Chart
from briefgen.charts.interactive.cutting import cut
from briefgen.charts.interactive.sameness import with_change

CONFIG: Mapping[str, Any] = {"displayModeBar": False, "scrollZoom": False, "showTips": False, "doubleClick": "reset"}

TRACES = ("scatter", "bar")
"""The kinds of traces that figures are made of; the script draws no others."""

_AS_THEY_ARE = frozenset({str, int, bool, type(None)})


@cache
def plotly_script() -> tuple[str, str]:
    """The name and the text of the script that draws all figures of a site; the name holds its version."""
    from plotly.offline import get_plotlyjs, get_plotlyjs_version

    return f"plotly-{get_plotlyjs_version()}.min.js", cut(get_plotlyjs(), TRACES)


def check(figure: Mapping[str, Any]) -> None:
    """Raises ValueError where a figure says something that Plotly, or the script cut to our traces, does not know."""
    from plotly.graph_objects import Figure

    for trace in figure.get("data", []):
        if trace.get("type", "scatter") not in TRACES:
            raise ValueError(f"the script draws no {trace['type']}: see TRACES")
    Figure({"data": figure.get("data", []), "layout": figure.get("layout", {})})


def to_json(figure: Mapping[str, Any]) -> str:
    """A figure as JSON that may stand in a page's script block: short numbers, the same bytes for the same figure."""
    return written(_short(figure))


def chart_json(chart: Chart) -> str:
    """The JSON of a chart's figure; nothing for a chart of nothing. What a narrow figure shares with it stands once."""
    return written(with_change(_short(chart.figure))) if chart.figure else ""


def written(short: Any) -> str:
    """Plain data as JSON that may stand in a page's script block, every number in full."""
    text = json.dumps(short, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    # Within a script block only these could end it or begin a comment in it.
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


def _short(value: Any) -> Any:
    if type(value) in _AS_THEY_ARE:
        return value
    if isinstance(value, float):
        short = round(value, 4)
        return int(short) if short.is_integer() else short
    if isinstance(value, Mapping):
        return {str(key): _short(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_short(one) for one in value]
    return str(value) if isinstance(value, str) else value
