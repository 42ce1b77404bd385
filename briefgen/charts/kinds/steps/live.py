"""A task's diagram as a figure that Plotly draws, in the pixels of the still; `charts.js` scales it as a whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from briefgen.charts.drawing.marks import colour, tone
from briefgen.charts.drawing.sheet import SMALL
from briefgen.charts.drawing.words import for_plotly, wrap
from briefgen.charts.interactive.figures import CONFIG
from briefgen.charts.kinds.steps.layout import Box, Diagram, Point

Trace = dict[str, Any]
_SHAPES = {"hazard": "triangle-up", "verifies": "diamond", "critical": "line-ew"}


def figure(wide: Diagram, narrow: Diagram) -> dict[str, Any]:
    """The figure for both widths; the narrow one stands whole under `tools`."""
    return {
        "data": list(_data(wide)), "layout": _layout(wide), "config": dict(CONFIG),
        "tools": {
            "fit": (wide.wide, wide.high), "most": wide.wide, "drag": False,
            "narrow": {"figure": {"data": list(_data(narrow)), "layout": _layout(narrow)},
                       "fit": (narrow.wide, narrow.high), "most": 560},
        },
    }  # fmt: skip


def _data(diagram: Diagram) -> Iterator[Trace]:
    yield _lines(diagram.sequences, "soft", "order")
    yield _bridges(diagram)
    yield _boxes(diagram)
    yield _rims(diagram)
    yield _tabs(diagram)
    yield _words(diagram)
    yield _signs(diagram)
    yield _lines(diagram.links, "wait-ink", "links")
    yield _heads(diagram)


def _lines(lines: Iterable[tuple[Point, ...]], ink: str, name: str) -> Trace:
    points: list[tuple[float | None, float | None]] = []
    sizes: list[int] = []
    for line in lines:
        # The arrow's marker is centred on its point, so it stands back by half its height.
        points += [*line[:-1], (line[-1][0], line[-1][1] - 4), (None, None)]
        sizes += [*(0 for _ in line[:-1]), 9, 0]
    return {
        **_quiet(name), "type": "scatter", "mode": "lines+markers",
        "x": [x for x, _ in points], "y": [y for _, y in points],
        "line": {"color": colour(ink), "width": 1.6},
        "marker": {"symbol": "triangle-down", "size": sizes, "color": colour(ink), "opacity": 1, "line": {"width": 0}},
    }  # fmt: skip


def _quiet(name: str) -> Trace:
    return {"name": name, "showlegend": False, "hoverinfo": "skip", "meta": {}}


def _bars(spans: list[tuple[float, float, float, float]], **more: Any) -> Trace:
    """Boxes (x, y, width, height) as bars, which know where the mouse is."""
    return {
        "type": "bar", "x": [x + wide / 2 for x, _, wide, _ in spans], "width": [wide for _, _, wide, _ in spans],
        "base": [y for _, y, _, _ in spans], "y": [high for _, _, _, high in spans], **more,
    }  # fmt: skip


def _boxes(diagram: Diagram) -> Trace:
    parts = [(box, part) for box in diagram.boxes for part in box.parts]
    spans = [(x, box.top, wide, box.high - box.tab_high) for box, (x, wide) in parts]
    people = diagram.rows.columns
    rims = [colour(tone(people[box.node.columns[0]].person)) for box, _ in parts]
    return _bars(
        spans, name="steps", showlegend=False, meta={"steps": True},
        marker={"color": colour("paper"), "line": {"color": rims, "width": 1.5}},
        customdata=[_about(box, diagram) for box, _ in parts],
        ids=[box.node.key if k == 0 else f"{box.node.key}@{k}" for box in diagram.boxes for k in range(len(box.parts))],
        hovertemplate="<b>%{customdata[1]}</b><br>%{customdata[2]}<br>%{customdata[3]}<extra></extra>",
    )  # fmt: skip


def _about(box: Box, diagram: Diagram) -> list[str]:
    node = box.node
    who = " and ".join(diagram.rows.columns[number].person.label_text for number in node.columns)
    when = f"{node.when} ({node.takes})" if node.when else node.takes
    more = [*node.hazards, *(f"verifies {words}" for words in node.verifies), *(one.words for one in node.foreign)]
    more += [node.hold] if node.hold else []
    what = "<br>".join(wrap(f"{node.number}. {for_plotly(node.do)}", 46, 1))
    return [node.href, what, for_plotly(f"{who}, {when}"), "<br>".join(map(for_plotly, more))]


def _rims(diagram: Diagram) -> Trace:
    """Each person's colour: down the side of their own step, along the top of a joint one."""
    spans, inks = [], []
    for box in diagram.boxes:
        for x, wide in box.parts:
            own = [c for c in box.node.columns if x <= diagram.left(c) < x + wide]
            for k, column in enumerate(own):
                inks.append(colour(tone(diagram.rows.columns[column].person)))
                if len(own) == 1:
                    spans.append((x, box.top, 5.0, box.high - box.tab_high))
                else:
                    long = diagram.column + (diagram.style.gutter if k < len(own) - 1 else 0)
                    spans.append((diagram.left(column), box.top, long, 5.0))
    return _bars(spans, **_quiet("people"), marker={"color": inks, "line": {"width": 0}})


def _bridges(diagram: Diagram) -> Trace:
    spans = []
    for box in diagram.boxes:
        if len(box.parts) > 1:
            x = box.parts[0][0] + box.parts[0][1]
            spans.append((x, box.top + 10, box.parts[-1][0] - x, 10.0))
    marker = {
        "color": colour("joint"), "line": {"color": colour("soft"), "width": 0.8},
        "pattern": {"shape": ".", "fgcolor": colour("soft"), "bgcolor": colour("joint"), "size": 5, "solidity": 0.18},
    }  # fmt: skip
    return _bars(spans, **_quiet("together"), marker=marker)


def _tabs(diagram: Diagram) -> Trace:
    spans = [(box.parts[0][0] + 8, box.y, box.parts[0][1] - 16, box.tab_high) for box in diagram.boxes if box.tabs]
    marker = {"color": colour("wait-soft"), "line": {"color": colour("wait-ink"), "width": 0.8}}
    return _bars(spans, **_quiet("waits"), marker=marker)


def _text(points: list[tuple[float, float, str]], name: str, size: float, spot: str = "bottom right") -> Trace:
    return {
        **_quiet(name), "type": "scatter", "mode": "text",
        "x": [x for x, _, _ in points], "y": [y for _, y, _ in points],
        "text": [words for _, _, words in points], "textposition": spot, "cliponaxis": False,
        "textfont": {"size": size, "color": colour("ink")},
    }  # fmt: skip


def _words(diagram: Diagram) -> Trace:
    style = diagram.style
    points = []
    for box in diagram.boxes:
        x, _ = box.parts[0]
        head = f"<b>{box.node.number}</b>  {for_plotly(_head(box, diagram))}"
        points.append((x + style.pad + 2, box.top + style.pad + 2, "<br>".join([head, *map(for_plotly, box.lines)])))
        if box.tabs:
            points.append((x + style.pad + 5, box.y + 5, "<br>".join(for_plotly(words) for words, _ in box.tabs)))
        for x, _ in box.parts[1:]:
            points.append((x + style.pad + 2, box.top + style.pad + 2, f"<b>{box.node.number}</b>  together"))
    return _text(points, "words", style.text)


def _head(box: Box, diagram: Diagram) -> str:
    people = [diagram.rows.columns[number].person.label_text for number in box.node.columns]
    room_for_names = diagram.column > 150 and len(people) > 1
    return f"{' and '.join(people)} together, {box.node.takes}" if room_for_names else box.node.takes


def _signs(diagram: Diagram) -> Trace:
    style = diagram.style
    points: list[tuple[float, float, str, str]] = []
    for box in diagram.boxes:
        y = box.top + style.pad + style.text + 1 + style.leading * (1 + len(box.lines)) - 4
        for shape, words in box.signs:
            points.append((box.parts[0][0] + style.pad + 10, y, shape, "\u00a0" + for_plotly(words)))
            y += style.leading
    inks = {"hazard": colour("danger"), "verifies": colour("link"), "critical": colour("critical"), "": colour("paper")}
    return {
        **_quiet("signs"), "type": "scatter", "mode": "markers+text",
        "x": [x for x, _, _, _ in points], "y": [y for _, y, _, _ in points],
        "text": [words for _, _, _, words in points], "textposition": "middle right", "cliponaxis": False,
        "textfont": {"size": SMALL, "color": colour("ink")},
        "marker": {"opacity": 1, "symbol": [_SHAPES.get(shape, "circle") for _, _, shape, _ in points],
                   "size": [9 if shape else 0 for _, _, shape, _ in points],
                   "color": [inks[shape] for _, _, shape, _ in points],
                   "line": {"color": [inks[shape] for _, _, shape, _ in points],
                            "width": [2 if shape == "critical" else 0 for _, _, shape, _ in points]}},
    }  # fmt: skip


def _heads(diagram: Diagram) -> Trace:
    points = [
        (diagram.left(column.number), 6.0, f"<b>{for_plotly(column.person.label_text)}</b> "
         + for_plotly(str(column.person.callsign or column.person.post)))
        for column in diagram.rows.columns
    ]  # fmt: skip
    return _text(points, "people", 13)


def _layout(diagram: Diagram) -> dict[str, Any]:
    hidden = {"visible": False, "fixedrange": True}
    return {
        "barmode": "overlay", "bargap": 0, "showlegend": False, "hovermode": "closest",
        "font": {"family": colour("sans"), "color": colour("ink"), "size": diagram.style.text},
        "paper_bgcolor": "rgba(0,0,0,0)", "plot_bgcolor": "rgba(0,0,0,0)", "margin": {"l": 0, "r": 0, "t": 0, "b": 0},
        "hoverlabel": {"bgcolor": colour("paper"), "bordercolor": colour("edge"), "align": "left",
                       "font": {"family": colour("sans"), "color": colour("ink"), "size": 13}},
        "xaxis": {"range": [0, diagram.wide], **hidden}, "yaxis": {"range": [diagram.high, 0], **hidden},
    }  # fmt: skip
