"""What the signs of the timeline stand for: only those that this timeline shows."""

from __future__ import annotations

from briefgen.charts.chart import KeyLine
from briefgen.charts.drawing import svg
from briefgen.charts.drawing.textures import area
from briefgen.charts.kinds.timeline.rows import Rows

_WIDE, _HIGH = 30.0, 16.0


def key(rows: Rows) -> tuple[KeyLine, ...]:
    """The key, in the order of importance."""
    kinds = {bar.kind for bar in rows.bars}
    steps = [bar for bar in rows.bars if bar.kind == "step"]
    signs: list[tuple[bool, str, str]] = [
        (bool(steps), _box("c-step"), "step"),
        (any(bar.together for bar in steps), _box("c-joint", "together"),
         "together: one step, several people"),
        (any(bar.optional for bar in steps), _box("c-step c-optional", "optional"),
         "optional task"),
        ("way" in kinds, _box("c-way", "way", 6), "on the way"),
        ("wait" in kinds, _box("c-wait", "wait"), "hold: waits for somebody"),
        ("standby" in kinds, _box("c-standby", "standby", 6), "stands by"),
        ("wait" in kinds, _arrow(), "from whoever is waited for"),
        (bool(rows.chain), _rail(), "critical chain"),
        (bool(rows.nights), _box("c-night", "night"), "night"),
        (rows.length > rows.usable, _box("c-reserve", "reserve"), "reserve"),
    ]  # fmt: skip
    told = [(drawing, words) for shown, drawing, words in signs if shown]
    told += [(_letter(letter), words) for letter, words in rows.tasks.items()]
    return tuple(KeyLine(_drawing(drawing), words) for drawing, words in told)


def _drawing(inside: str) -> str:
    return svg.tag(
        "svg", inside, viewBox=f"0 0 {_WIDE:g} {_HIGH:g}", width=_WIDE, height=_HIGH, class_="bg-c c-lane-1",
        aria_hidden="true",
    )  # fmt: skip


def _box(class_: str, name: str = "", high: float = 14) -> str:
    box = (1, (_HIGH - high) / 2, _WIDE - 2, high)
    return area(name, *box, class_) if name else svg.rect(*box, class_)


def _arrow() -> str:
    stem = svg.line(15, 15, 15, 6, "c-stem")
    return svg.group(stem, svg.path([(15, 1), (12, 7), (18, 7)], "c-arrow", closed=True))


def _rail() -> str:
    rail = [[(1.0, 8.0), (29.0, 8.0)]]
    return svg.paths(rail, "c-chain") + svg.paths(rail, "c-chain-core")


def _letter(letter: str) -> str:
    return svg.rect(1, 1, 28, 14, "c-stretch", rx=2) + svg.label(15, 12.5, letter, "c-title c-middle")
