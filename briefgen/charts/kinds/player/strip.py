"""The whole sortie as a strip a few millimetres high: what one drags along to another moment."""

from __future__ import annotations

from briefgen.charts.drawing import svg
from briefgen.charts.drawing.marks import tone
from briefgen.charts.drawing.textures import texture
from briefgen.charts.kinds.timeline.rows import Rows

_WIDE, _LANE = 1000.0, 12.0


def strip(rows: Rows) -> str:
    """A lane a person, as thin as can be; stretched to any width."""
    scale = _WIDE / max(rows.finish, 1.0)
    high = _LANE * len(rows.lanes)
    shapes = [
        svg.rect(start * scale, 0, (min(end, rows.finish) - start) * scale, high, "c-night")
        for start, end in rows.nights
        if start < rows.finish
    ]
    for bar in rows.bars:
        if bar.kind == "standby":
            continue
        x, wide = bar.start * scale, bar.seconds * scale
        y, thick = bar.lane * _LANE + (4 if bar.kind == "way" else 2), 4 if bar.kind == "way" else _LANE - 4
        shapes.append(svg.rect(x, y, wide, thick, f"c-{bar.kind} c-{tone(rows.lanes[bar.lane].person)}"))
        if bar.kind == "wait":
            shapes.append(texture("wait", x, y, wide, thick))
    return svg.tag(
        "svg", *shapes, viewBox=f"0 0 {_WIDE:g} {high:g}", preserveAspectRatio="none",
        class_="bg-c c-strip", aria_hidden="true",
    )  # fmt: skip
