"""The timeline as a figure that Plotly draws. Time is in milliseconds on a date axis that begins at zero hours.

Across the lanes, 1 is a lane; `meta` names the strip that a trace lies in, so that `charts.js` can turn the figure
round for a narrow screen, leave lanes out, and move what is left together.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from briefgen.charts.drawing.marks import colour, tone
from briefgen.charts.drawing.words import for_plotly, wrap
from briefgen.charts.interactive.figures import CONFIG
from briefgen.charts.kinds.timeline import measures
from briefgen.charts.kinds.timeline.measures import BARS, RAIL, SLACK, SLIM, TITLE, Strip
from briefgen.charts.kinds.timeline.rows import Bar, Rows
from briefgen.units import show_duration, show_elapsed

Trace = dict[str, Any]
Size = tuple[float, float]
_HOVER = "<b>%{customdata[1]}</b><br>%{customdata[2]}<br>%{customdata[3]}<extra></extra>"


def figure(rows: Rows, wide: Size, narrow: Size) -> dict[str, Any]:
    """Data, layout, config, and the tools: which lanes and tasks there are to choose from. Sizes are the stills'."""
    tools = {**_tools(rows, narrow), "size": wide}
    return {"data": list(_data(rows)), "layout": _layout(rows), "config": dict(CONFIG), "tools": tools}


def _ms(seconds: float) -> int:
    return round(seconds * 1000)


def _data(rows: Rows) -> Iterable[Trace]:
    yield _joints(rows)
    yield _slack(rows)
    yield _stretches(rows)
    yield _idle(rows, "standby", SLIM, "edge", "paper")
    yield _idle(rows, "wait", BARS, "wait-ink", "wait-soft")
    yield _ways(rows)
    yield _steps(rows)
    yield _holds(rows)
    yield from _chain(rows)


def _tones(rows: Rows) -> tuple[str, ...]:
    return tuple(colour(tone(lane.person)) for lane in rows.lanes)


def _bars(bars: Sequence[Bar], rows: Rows, strip: Strip, name: str, **more: Any) -> Trace:
    return {
        "type": "bar", "orientation": "h", "name": name, "showlegend": False,
        "base": [_ms(bar.start) for bar in bars], "x": [_ms(bar.seconds) for bar in bars],
        "y": [bar.lane + strip.middle for bar in bars], "width": strip.wide,
        "customdata": [_about(bar, rows) for bar in bars], "hovertemplate": _HOVER, "textposition": "none", **more,
    }  # fmt: skip


def _about(bar: Bar, rows: Rows) -> list[str]:
    """Address, what, who and when, and the rest: the lines to hover over."""
    more = [bar.place] if bar.place else []
    more += [f"Together with {', '.join(_others(bar, rows))}"] if bar.together else []
    more += ["On the critical chain"] if bar.critical else []
    if bar.kind == "step" and not bar.critical:
        more.append(f"May slip {show_duration(bar.slack)} before the sortie ends later")
    more += ["Optional"] if bar.optional else []
    more += bar.hazards
    who = rows.lanes[bar.lane].person.label_text
    what = "<br>".join(wrap(for_plotly(bar.title), 46, 1))
    return [bar.href, what, for_plotly(f"{who}, {bar.when} ({bar.takes})"), "<br>".join(map(for_plotly, more))]


def _others(bar: Bar, rows: Rows) -> list[str]:
    return [rows.lanes[number].person.label_text for number in bar.together if number != bar.lane]


def _steps(rows: Rows) -> Trace:
    bars, tones = [bar for bar in rows.bars if bar.kind == "step"], _tones(rows)
    paper = colour("paper")
    ink = [tones[bar.lane] for bar in bars]
    marker = {
        "color": ink, "line": {"color": paper, "width": 0.8},
        "pattern": {"shape": ["\\" if bar.optional else "" for bar in bars], "fgcolor": ink, "bgcolor": paper,
                    "size": 7, "solidity": 0.7, "fillmode": "replace"},
    }  # fmt: skip
    return _bars(
        bars, rows, BARS, "steps", marker=marker, meta={"strip": "bars", "steps": True},
        ids=[_unique(bar) for bar in bars],
        text=[for_plotly(bar.short) for bar in bars], textposition="inside", insidetextanchor="middle", textangle=0,
        insidetextfont={"color": colour("on-lane"), "size": 12}, constraintext="none",
    )  # fmt: skip


def _unique(bar: Bar) -> str:
    """The step's fragment; in further lanes with the lane, as Plotly draws what has one id only once."""
    return bar.id if not bar.together or bar.lane == bar.together[0] else f"{bar.id}@{bar.lane}"


def _idle(rows: Rows, kind: str, strip: Strip, ink: str, ground: str) -> Trace:
    bars = [bar for bar in rows.bars if bar.kind == kind]
    marker = {
        "color": colour(ground), "line": {"color": colour(ink), "width": 0.8},
        "pattern": {"shape": "/", "fgcolor": colour(ink), "bgcolor": colour(ground), "size": 6, "solidity": 0.18},
    }  # fmt: skip
    words = (
        {"text": [for_plotly(bar.cause) for bar in bars], "textposition": "inside", "textangle": 0,
         "insidetextanchor": "middle", "insidetextfont": {"color": colour("ink"), "size": 12}, "constraintext": "none"}
        if kind == "wait" else {}
    )  # fmt: skip
    strip_name = "bars" if strip is BARS else "slim"
    return _bars(bars, rows, strip, kind, marker=marker, meta={"strip": strip_name}, **words)


def _ways(rows: Rows) -> Trace:
    bars = [bar for bar in rows.bars if bar.kind == "way"]
    marker = {
        "color": colour("travel"), "line": {"width": 0},
        "pattern": {"shape": "|", "fgcolor": colour("ink"), "bgcolor": colour("travel"), "size": 5, "solidity": 0.25},
    }  # fmt: skip
    return _bars(bars, rows, SLIM, "ways", marker=marker, meta={"strip": "slim"})


def _stretches(rows: Rows) -> Trace:
    tones = _tones(rows)
    own = rows.stretches
    return {
        "type": "bar", "orientation": "h", "name": "tasks", "showlegend": False,
        "base": [_ms(one.start) for one in own], "x": [_ms(one.end - one.start) for one in own],
        "y": [one.lane + TITLE.middle for one in own], "width": TITLE.wide,
        "marker": {"color": [tones[one.lane] for one in own], "opacity": 0.22,
                   "line": {"color": colour("paper"), "width": 2.5}},
        "text": [for_plotly(one.words) for one in own], "textposition": "inside", "insidetextanchor": "start",
        "textangle": 0, "insidetextfont": {"color": colour("ink"), "size": 12.5}, "constraintext": "none",
        "customdata": [[one.href, for_plotly(one.words), f"{show_elapsed(one.start)} to {show_elapsed(one.end)}",
                        one.letter, _ms(one.free)] for one in own],
        "hovertemplate": "<b>%{customdata[1]}</b><br>%{customdata[2]}<extra></extra>",
        "meta": {"strip": "title"},
    }  # fmt: skip


def _drawn(name: str, strip: str, points: Iterable[tuple[int | None, float | None]], **more: Any) -> Trace:
    """A line or shape without a hover; None breaks it."""
    own = list(points)
    return {
        "type": "scatter", "mode": "lines", "name": name, "showlegend": False, "hoverinfo": "skip",
        "x": [x for x, _ in own], "y": [y for _, y in own], "meta": {"strip": strip}, **more,
    }  # fmt: skip


def _joints(rows: Rows) -> Trace:
    """Bands behind the bars, from the first to the last lane of a joint step."""
    bars = [bar for bar in rows.bars if bar.together and bar.lane == bar.together[0]]
    spans = [(bar.together[0], bar.together[-1]) for bar in bars]
    marker = {
        "color": colour("joint"), "line": {"color": colour("soft"), "width": 0.8},
        "pattern": {"shape": ".", "fgcolor": colour("soft"), "bgcolor": colour("joint"), "size": 5, "solidity": 0.08},
    }  # fmt: skip
    return {
        "type": "bar", "orientation": "h", "name": "together", "showlegend": False, "hoverinfo": "skip",
        "base": [_ms(bar.start) for bar in bars], "x": [_ms(bar.seconds) for bar in bars],
        "y": [(first + last) / 2 + BARS.middle for first, last in spans],
        "width": [last - first + BARS.wide for first, last in spans],
        "marker": marker, "meta": {"strip": "bars", "spans": spans},
    }  # fmt: skip


def _slack(rows: Rows) -> Trace:
    most = rows.most_slack
    points: list[tuple[int | None, float | None]] = []
    for lane in rows.lanes:
        base, bars = lane.number + SLACK.ends, rows.of(lane.number, "step")
        if not bars or not most:
            continue
        begin = _ms(bars[0].start)
        points.append((begin, base))
        for bar in bars:
            high, end = base - SLACK.wide * bar.slack / most, _ms(bar.end)
            points += [(begin, high), (end, high)]
            begin = end
        points += [(begin, base), (None, None)]
    line = {"color": colour("edge"), "width": 0.8}
    ribbon = _drawn("slack", "slack", points, fill="toself", fillcolor=colour("slack"), line=line)
    ribbon["meta"]["more"] = True
    return ribbon


def _holds(rows: Rows) -> Trace:
    points: list[tuple[int | None, float | None]] = []
    symbols: list[str] = []
    for bar in rows.bars:
        if bar.kind != "wait" or bar.cause_lane is None or bar.cause_lane == bar.lane:
            continue
        falls = bar.cause_lane < bar.lane
        start = bar.cause_lane + (BARS.ends if falls else BARS.begins)
        tip = bar.lane + (BARS.begins if falls else BARS.ends)
        points += [(_ms(bar.end), start), (_ms(bar.end), tip), (None, None)]
        symbols += ["circle", "triangle-down" if falls else "triangle-up", "circle"]
    ink = colour("wait-ink")
    sizes = [0, 8, 0] * (len(symbols) // 3)
    marker = {"symbol": symbols, "size": sizes, "color": ink, "opacity": 1, "line": {"width": 0}}
    return _drawn("holds", "bars", points, mode="lines+markers", line={"color": ink, "width": 1.2}, marker=marker)


def _chain(rows: Rows) -> Iterable[Trace]:
    rails = _broken(measures.chain_pieces(rows.chain))
    for name, ink, wide in (("chain", "critical", 3.6), ("chain-core", "paper", 1.4)):
        yield _drawn(name, "rail", rails, line={"color": colour(ink), "width": wide})


def _broken(pieces: Iterable[measures.Piece]) -> list[tuple[int | None, float | None]]:
    """Pieces of the chain as the points of one line, with a break after each."""
    points: list[tuple[int | None, float | None]] = []
    for piece in pieces:
        points += [*((_ms(seconds), lane + RAIL.middle) for lane, seconds in piece), (None, None)]
    return points


def _layout(rows: Rows) -> dict[str, Any]:
    lanes = len(rows.lanes)
    text = {"family": "var(--bg-c-sans)", "color": colour("ink"), "size": 12}
    return {
        "barmode": "overlay", "bargap": 0, "showlegend": False, "font": text, "hovermode": "closest",
        "paper_bgcolor": "rgba(0,0,0,0)", "plot_bgcolor": "rgba(0,0,0,0)",
        "margin": {"l": 78, "r": 6, "t": 36, "b": 52},
        "hoverlabel": {"bgcolor": colour("paper"), "bordercolor": colour("edge"), "align": "left",
                       "font": {"family": "var(--bg-c-sans)", "color": colour("ink"), "size": 13}},
        "xaxis": {"type": "date", "range": [0, _ms(rows.until)], "minallowed": 0, "maxallowed": _ms(rows.until),
                  "tickformat": "%-H:%M", "side": "top", "gridcolor": colour("line"), "nticks": 14, "zeroline": False,
                  "ticks": "", "tickfont": {"size": 12}},
        "yaxis": {"range": [lanes, 0], "fixedrange": True, "showgrid": False, "zeroline": False,
                  "ticklabelstandoff": 6, "tickvals": [lane + 0.44 for lane in range(lanes)],
                  "ticktext": [measures.lane_words(lane.person) for lane in rows.lanes]},
        "shapes": list(_shapes(rows)),
        "annotations": [
            _annotation(seconds, words, row) for row, (seconds, words) in enumerate(measures.limits(rows))
        ],
    }  # fmt: skip


def _shapes(rows: Rows) -> Iterable[dict[str, Any]]:
    for start, end in rows.nights:
        # The word stays clear of the reserve, which lies over the night.
        yield _ground(start, end, "night", "night", "bottom left" if end > rows.usable else "bottom center")
    yield _ground(rows.usable, rows.length, "reserve", "reserve", "top center")
    for lane in range(1, len(rows.lanes)):
        yield {"type": "line", "xref": "paper", "x0": 0, "x1": 1, "y0": lane, "y1": lane, "layer": "below",
               "line": {"color": colour("edge"), "width": 0.7}}  # fmt: skip
    for seconds, dash, ink in (
        (rows.finish, "dash", "ink"),
        (rows.usable, "solid", "limit"),
        (rows.length, "solid", "limit"),
    ):
        yield {"type": "line", "yref": "paper", "y0": 0, "y1": 1, "x0": _ms(seconds), "x1": _ms(seconds),
               "line": {"color": colour(ink), "width": 1.5, "dash": dash}}  # fmt: skip


def _ground(start: float, end: float, fill: str, words: str, spot: str) -> dict[str, Any]:
    return {
        "type": "rect", "name": words, "yref": "paper", "y0": 0, "y1": 1, "x0": _ms(start), "x1": _ms(end),
        "layer": "below", "fillcolor": colour(fill), "opacity": 0.7, "line": {"width": 0},
        "label": {"text": words, "textposition": spot, "font": {"color": colour("ink"), "size": 12}},
    }  # fmt: skip


def _annotation(seconds: float, words: str, row: int) -> dict[str, Any]:
    return {
        "x": _ms(seconds), "y": 0, "yref": "paper", "yanchor": "top", "xanchor": "right", "yshift": -2 - 14 * row,
        "text": words, "showarrow": False, "font": {"size": 12, "color": colour("ink")},
    }  # fmt: skip


def _tools(rows: Rows, narrow: Size) -> dict[str, Any]:
    tasks: dict[str, list[Any]] = {}
    for one in rows.stretches:
        known = tasks.setdefault(one.task, [one.words, one.start, one.end])
        known[1], known[2] = min(known[1], one.start), max(known[2], one.end)
    ordered = sorted(tasks.items(), key=lambda task: (task[1][1], task[0]))
    # Below its line a word covers nothing, where 18 pixels are left to the next one.
    clear = (rows.usable - rows.finish) * narrow[1] / rows.until > 18
    narrow_notes = [
        {"y": _ms(seconds), "x": 1, "xref": "paper", "xanchor": "right", "yanchor": "top" if row or clear else "bottom",
         "text": words, "showarrow": False, "font": {"size": 12, "color": colour("ink")},
         "bgcolor": colour("paper"), "opacity": 0.9}
        for row, (seconds, words) in enumerate(measures.limits(rows))
    ]  # fmt: skip
    return {
        "turns": True,
        "more": f"Slack (up to {show_duration(rows.most_slack)})" if rows.most_slack else "",
        "people": [[lane.number, lane.person.label_text] for lane in rows.lanes],
        "tasks": [[words, _ms(start), _ms(end)] for _, (words, start, end) in ordered],
        "strips": measures.BOTH_WAYS,
        "narrow": {
            "layout": {"annotations": narrow_notes, "margin": {"l": 36, "r": 14, "t": 62, "b": 6}}, "size": narrow,
        },
    }  # fmt: skip
