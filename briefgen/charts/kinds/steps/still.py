"""A task's diagram drawn at build time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from briefgen.charts.drawing import svg
from briefgen.charts.drawing.marks import token, tone
from briefgen.charts.drawing.sheet import SMALL
from briefgen.charts.drawing.textures import area
from briefgen.charts.drawing.words import clip, wrap
from briefgen.charts.kinds.steps.layout import Box, Diagram, Point


def draw(diagram: Diagram) -> str:
    """The diagram as SVG."""
    return svg.drawing(
        diagram.wide, diagram.high,
        svg.paths(diagram.sequences, "c-sequence"), svg.paths(map(_arrow, diagram.sequences), "c-tip", closed=True),
        *(_box(box, diagram) for box in diagram.boxes),
        svg.paths(diagram.links, "c-link"), svg.paths(map(_arrow, diagram.links), "c-arrow", closed=True),
        *_heads(diagram),
        words=f"Steps of {diagram.rows.title}, from the first downwards, a column a person", class_="c-steps",
    )  # fmt: skip


def _arrow(line: Sequence[Point]) -> list[Point]:
    """The tip of an arrow at the end of a line."""
    x, y = line[-1]
    return [(x, y), (x - 4, y - 7), (x + 4, y - 7)]


def _heads(diagram: Diagram) -> Iterator[str]:
    for column in diagram.rows.columns:
        x, person = diagram.left(column.number), column.person
        mark = svg.group(token(person, 18), transform=f"translate({svg.number(x + 10)} 17)")
        names = svg.label(x + 25, 17, clip(person.label_text, diagram.column - 26, 13), "c-name")
        more = clip(str(person.callsign or person.post), diagram.column - 26, SMALL)
        yield svg.link(column.href, mark, names, svg.label(x + 25, 31, more, "c-small"), title=person.name or "")


def _box(box: Box, diagram: Diagram) -> str:
    node, style = box.node, diagram.style
    people = diagram.rows.columns
    body = box.high - box.tab_high
    shapes = _bridge(box)
    for number, (x, wide) in enumerate(box.parts):
        frame = svg.rect(x, box.top, wide, body, "c-box", rx=3)
        columns = [c for c in node.columns if x <= diagram.left(c) < x + wide]
        joint = len(columns) > 1
        stripes = _joint_rim(box, columns, diagram) if joint else svg.rect(x, box.top, 5, body, "c-rim")
        tone_name = tone(people[columns[0]].person)
        shapes += svg.group(frame, stripes, _words(box, diagram, x, wide, number), class_=f"c-{tone_name}")
    # A finger hovers over nothing, so the narrow still does without the hint.
    drawn = svg.link(node.href, shapes, title=node.when if style.hints else "")
    return _tabs(box, style.text, style.leading, style.pad) + drawn


def _bridge(box: Box) -> str:
    """Joins the boxes of people who are not neighbours, behind what stands between them."""
    if len(box.parts) < 2:
        return ""
    (first, wide), (last, _) = box.parts[0], box.parts[-1]
    x, y = first + wide, box.top + 10
    return area("together", x, y, last - x, 10, "c-joint")


def _joint_rim(box: Box, columns: list[int], diagram: Diagram) -> str:
    """A rim at the top of a joint box with each person's colour above their own column."""
    rims = []
    for k, column in enumerate(columns):
        wide = diagram.column + (diagram.style.gutter if k < len(columns) - 1 else 0)
        name = tone(diagram.rows.columns[column].person)
        rims.append(svg.rect(diagram.left(column), box.top, wide, 5, f"c-rim c-{name}"))
    return "".join(rims)


def _words(box: Box, diagram: Diagram, x: float, wide: float, part: int) -> str:
    style, node = diagram.style, box.node
    inset = x + style.pad + 5
    y = box.top + style.pad + style.text + 1
    people = [diagram.rows.columns[c].person.label_text for c in node.columns]
    if part:
        more = wrap(f"{node.number} together with {people[0]}", wide - 2 * style.pad - 5, style.text)
        return svg.lines(inset, y, more, style.leading, "c-small")
    told = svg.label(inset, y, f"{node.number}", "c-name") + svg.label(
        x + wide - style.pad, y, _duration(box, people, wide, diagram), "c-small c-end"
    )
    told += svg.lines(inset, y + style.leading, box.lines, style.leading, "c-do")
    y += style.leading * (1 + len(box.lines))
    for shape, words in box.signs:
        told += _sign(shape, inset + 5, y - 4) + svg.label(inset + 15, y, words, "c-small")
        y += style.leading
    return told


def _duration(box: Box, people: list[str], wide: float, diagram: Diagram) -> str:
    takes = box.node.takes
    if len(people) < 2:
        return takes
    return clip(f"{' and '.join(people)} together, {takes}", wide - 3 * diagram.style.pad - 20, SMALL) or takes


def _sign(shape: str, x: float, y: float) -> str:
    if shape == "hazard":
        return svg.path([(x, y - 5), (x + 5.5, y + 4.5), (x - 5.5, y + 4.5)], "c-hazard", closed=True)
    if shape == "verifies":
        return svg.path([(x, y - 5), (x + 5, y), (x, y + 5), (x - 5, y)], "c-verifies", closed=True)
    if shape == "critical":
        points = [(x - 5, y), (x + 5, y)]
        return svg.path(points, "c-chain") + svg.path(points, "c-chain-core")
    return ""


def _tabs(box: Box, text: float, leading: float, pad: float) -> str:
    if not box.tabs:
        return ""
    x, wide = box.parts[0]
    told = svg.rect(x + 8, box.y, wide - 16, box.tab_high, "c-tab", rx=3)
    for k, (words, href) in enumerate(box.tabs):
        line = svg.label(x + pad + 8, box.y + 4 + text + k * leading, words, "c-small c-linked" if href else "c-small")
        told += svg.link(href, line)
    return told
