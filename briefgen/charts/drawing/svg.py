"""Enough SVG to draw a still: elements with escaped attributes and short numbers, all on one line."""

from __future__ import annotations

import html
from collections.abc import Iterable
from functools import cache, lru_cache

from briefgen.charts.drawing.words import wrap

Value = str | float | int | None


def number(value: float) -> str:
    """At most one decimal, and no idle zero."""
    text = f"{value:.1f}"
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text


@lru_cache(maxsize=1 << 16)
def escape(text: str) -> str:
    """Words as markup, safe in text and in attributes."""
    return " ".join(html.escape(text).split())


def tag(name: str, *inside: str, **attributes: Value) -> str:
    """An element. `inside` is markup; attribute names lose a trailing `_` and swap `_` for `-`; None is left out."""
    written = "".join(
        [f' {_attribute(key)}="{_value(value)}"' for key, value in attributes.items() if value is not None]
    )
    content = "".join(inside)
    return f"<{name}{written}>{content}</{name}>" if content else f"<{name}{written}/>"


@cache
def _attribute(key: str) -> str:
    return key if key == "viewBox" else key.rstrip("_").replace("_", "-")


def _value(value: str | float) -> str:
    return escape(value) if isinstance(value, str) else number(value)


def group(*inside: str, **attributes: Value) -> str:
    """A `g`; nothing when there is nothing in it."""
    return tag("g", *inside, **attributes) if any(inside) else ""


def rect(x: float, y: float, wide: float, high: float, class_: str, **more: Value) -> str:
    """A rectangle; a width or height below nothing is nothing. In the drawing's pixels."""
    return tag("rect", x=x, y=y, width=max(0.0, wide), height=max(0.0, high), class_=class_, **more)


def line(x1: float, y1: float, x2: float, y2: float, class_: str, **more: Value) -> str:
    """A straight line between two points. In the drawing's pixels."""
    return tag("path", d=f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}", class_=class_, **more)


def path(points: Iterable[tuple[float, float]], class_: str, closed: bool = False, **more: Value) -> str:
    """A line through points, closed to a shape if asked."""
    return tag("path", d=_pen(points, closed), class_=class_, **more)


def paths(lines_: Iterable[Iterable[tuple[float, float]]], class_: str, closed: bool = False) -> str:
    """Several lines of one look as one element."""
    d = "".join(_pen(points, closed) for points in lines_)
    return tag("path", d=d, class_=class_) if d else ""


def _pen(points: Iterable[tuple[float, float]], closed: bool) -> str:
    """Path data: straight across and straight down are said with one number, and no point twice."""
    d, last = "", ("", "")
    for x, y in points:
        spot = (number(x), number(y))
        if spot == last:
            continue
        if not d:
            d = f"M{spot[0]} {spot[1]}"
        elif spot[1] == last[1]:
            d += f"H{spot[0]}"
        elif spot[0] == last[0]:
            d += f"V{spot[1]}"
        else:
            d += f"L{spot[0]} {spot[1]}"
        last = spot
    return f"{d}Z" if closed else d


def label(x: float, y: float, words: str, class_: str, **more: Value) -> str:
    """One line of text with its baseline at `y`."""
    return tag("text", escape(words), x=x, y=y, class_=class_, **more) if words else ""


def lines(x: float, y: float, words: Iterable[str], leading: float, class_: str, **more: Value) -> str:
    """Lines of text, the first one's baseline at `y`."""
    spans = [tag("tspan", escape(row), x=x, y=y + leading * k) for k, row in enumerate(words)]
    return tag("text", *spans, class_=class_, **more) if spans else ""


def paragraph(x: float, y: float, words: str, room: float, size: float, class_: str, most: int = 99) -> str:
    """Words wrapped to `room`, the first line's baseline at `y`."""
    return lines(x, y, wrap(words, room, size, most), size * 1.25, class_)


def link(href: str, *inside: str, title: str = "", **attributes: Value) -> str:
    """A link with a title to hover over; without an address only a group."""
    hint = tag("title", escape(title)) if title else ""
    if href:
        return tag("a", hint, *inside, href=href, **attributes)
    attributes.pop("tabindex", None)
    return tag("g", hint, *inside, **attributes)


def sample(inside: str) -> str:
    """A small drawing for a chart's key."""
    return tag("svg", inside, viewBox="0 0 30 16", width=30, height=16, class_="bg-c", aria_hidden="true")


def drawing(wide: float, high: float, *inside: str, words: str, class_: str = "") -> str:
    """The whole picture. A group, not an image: the links in it are to be reached."""
    name = f"bg-c {class_}".strip()
    return tag(
        "svg", *inside, viewBox=f"0 0 {number(wide)} {number(high)}", width=wide, height=high, class_=name,
        role="group", aria_label=words,
    )  # fmt: skip
