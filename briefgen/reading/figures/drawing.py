"""Whether an SVG is a drawing and nothing else: only what is on the lists here may stand in it.

Elements and attributes: Scalable Vector Graphics (SVG) 2, W3C Candidate Recommendation of 4 October 2018, appendices
F and G (from memory). Nothing is left that loads, runs, animates or links; what is referred to lies in the same file.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from xml.parsers import expat

from briefgen.reading.figures.styles import style_problem

LARGEST = 4_000_000
_MOST_ELEMENTS = 50_000
_DEEPEST = 60
_WIDEST = 1_000_000
_SVG, _XLINK, _XML = (
    "http://www.w3.org/2000/svg",
    "http://www.w3.org/1999/xlink",
    "http://www.w3.org/XML/1998/namespace",
)

_DRAWN = """
    svg g defs symbol use title desc style path rect circle ellipse line polyline polygon text tspan textPath marker
    linearGradient radialGradient stop pattern clipPath mask filter feBlend feColorMatrix feComposite feDropShadow
    feFlood feGaussianBlur feMerge feMergeNode feOffset
"""
_STYLING = """
    alignment-baseline baseline-shift clip-path clip-rule color color-interpolation color-interpolation-filters
    color-rendering direction display dominant-baseline fill fill-opacity fill-rule filter flood-color flood-opacity
    font font-family font-size font-size-adjust font-stretch font-style font-variant font-weight image-rendering
    isolation letter-spacing marker marker-end marker-mid marker-start mask mask-type mix-blend-mode opacity overflow
    paint-order pointer-events shape-rendering stop-color stop-opacity stroke stroke-dasharray stroke-dashoffset
    stroke-linecap stroke-linejoin stroke-miterlimit stroke-opacity stroke-width style text-anchor text-decoration
    text-rendering transform transform-origin unicode-bidi vector-effect visibility white-space word-spacing
    writing-mode gradientTransform patternTransform
"""
_PLACING = """
    id class lang role version baseProfile viewBox preserveAspectRatio width height x y x1 y1 x2 y2 cx cy r rx ry fx fy
    fr d points dx dy rotate pathLength textLength lengthAdjust startOffset method side spacing offset gradientUnits
    spreadMethod patternUnits patternContentUnits markerUnits markerWidth markerHeight refX refY orient clipPathUnits
    maskUnits maskContentUnits filterUnits primitiveUnits in in2 result stdDeviation mode values type operator k1 k2 k3
    k4 media href
"""
ELEMENTS = frozenset(_DRAWN.split())
_STYLED = frozenset(_STYLING.split())
ATTRIBUTES = _STYLED | frozenset(_PLACING.split())
_FREE = re.compile(r"(?:aria|data)-[a-z0-9-]+")
_XML_ATTRIBUTES = frozenset({f"{_XLINK} href", f"{_XML} space", f"{_XML} lang"})
_DECLARED = re.compile(r"<\?xml\b[^>]{0,200}?\bencoding\s*=\s*['\"]([^'\"]{1,60})['\"]")
_NUMBER = r"[+-]?[0-9]{0,15}\.?[0-9]{0,15}(?:[eE][+-]?[0-9]{1,2})?"
_FOUR = re.compile(rf"\s*({_NUMBER})[\s,]+({_NUMBER})[\s,]+({_NUMBER})[\s,]+({_NUMBER})\s*")
_PIXELS = re.compile(r"([0-9]{1,7}(?:\.[0-9]{1,15})?)(?:px)?")


@dataclass(frozen=True)
class Danger:
    """What makes a file more than a drawing, in words that follow “the picture …”; line and column count from one."""

    words: str
    line: int = 1
    column: int = 1


class _Found(Exception):
    def __init__(self, words: str, allowed: str = "") -> None:
        self.words = f"{words}{f'. Allowed are: {allowed}' if allowed else ''}"


@lru_cache(maxsize=512)
def svg_danger(data: bytes) -> Danger | None:
    """What is first in an SVG that may not stand in one; nothing where it is a drawing. Linear in its length.

    >>> svg_danger(b"<svg xmlns='http://www.w3.org/2000/svg'><path d='M0 0'/></svg>")
    >>> svg_danger(b"<svg xmlns='http://www.w3.org/2000/svg'><set/></svg>").words[:21]
    'holds a <set> element'
    """
    if len(data) > LARGEST:
        return Danger(f"is larger than {LARGEST // 1_000_000} MB")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return Danger("is not UTF-8 text")
    declared = _DECLARED.match(text)
    if declared and declared[1].lower() not in ("utf-8", "utf8", "us-ascii", "ascii"):
        return Danger(f"says that it is written in “{declared[1]}”, and only UTF-8 is read")
    parser = _parser()
    walk = _Walk(parser)
    try:
        parser.Parse(text.encode("utf-8"), True)
        walk.count_uses()
    except _Found as found:
        return Danger(found.words, *walk.at)
    except expat.ExpatError as error:
        return Danger(
            f"is not well-formed XML at line {error.lineno}, column {error.offset + 1}", error.lineno, error.offset + 1
        )
    return None


def svg_size(head: bytes) -> tuple[float, float] | None:
    """Width and height that the outermost element of an SVG names, in pixels, or else those of its viewBox."""
    parser = _parser()
    seen: list[dict[str, str]] = []

    def start(_: str, attributes: dict[str, str]) -> None:
        seen.append(attributes)
        raise _Found("enough")

    parser.StartElementHandler = start
    with suppress(_Found, expat.ExpatError, ValueError):
        parser.Parse(head, False)
    return _size(seen[0]) if seen else None


def _size(root: dict[str, str]) -> tuple[float, float] | None:
    width, height = (_PIXELS.fullmatch(root.get(key, "")) for key in ("width", "height"))
    if width and height:
        return float(width[1]), float(height[1])
    box = _box(root.get("viewBox", ""))
    return (box[2], box[3]) if box else None


def _box(words: str) -> tuple[float, ...] | None:
    found = _FOUR.fullmatch(words) if len(words) <= 200 else None
    try:
        box = tuple(float(number) for number in found.groups()) if found else ()
    except ValueError:
        return None
    fits = len(box) == 4 and all(math.isfinite(one) and abs(one) <= _WIDEST for one in box)
    return box if fits and box[2] > 0 and box[3] > 0 else None


def _parser() -> expat.XMLParserType:
    return expat.ParserCreate("utf-8", " ")


class _Walk:
    """Goes through a file, element by element, and stops at the first that may not stand there."""

    def __init__(self, parser: expat.XMLParserType) -> None:
        self.parser = parser
        self.at = (1, 1)
        self.open: list[str] = []
        self.ids: list[str] = []
        self.elements = 0
        self.style: list[str] = []
        self.within: dict[str, int] = {}
        self.uses: dict[str, list[str]] = {}
        parser.StartElementHandler = self.start
        parser.EndElementHandler = self.end
        parser.CharacterDataHandler = self.text
        parser.StartDoctypeDeclHandler = self.refused("declares a document type, or entities")
        parser.ProcessingInstructionHandler = self.refused("holds an instruction (“<?…?>”)")

    def refused(self, words: str) -> Callable[..., None]:
        """A handler for what may not stand in a drawing at all."""

        def refuse(*_: object) -> None:
            self.come_by()
            raise _Found(words)

        return refuse

    def come_by(self) -> None:
        """Remembers the place, from which a finding is told."""
        self.at = (self.parser.CurrentLineNumber, self.parser.CurrentColumnNumber + 1)

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        self.come_by()
        namespace, _, name = tag.rpartition(" ")
        if namespace != _SVG or name not in ELEMENTS:
            raise _Found(f"holds a <{name[:60]}> element", ", ".join(sorted(ELEMENTS)))
        if (name == "svg") != (not self.open):
            raise _Found("is no drawing: one <svg> element holds all others")
        self.elements += 1
        self.open.append(name)
        if len(self.open) > _DEEPEST or self.elements > _MOST_ELEMENTS:
            raise _Found(f"has more than {_DEEPEST} elements in each other, or more than {_MOST_ELEMENTS:,} in all")
        for key, value in attributes.items():
            _check_attribute(name, key, value)
        self.note_uses(name, attributes)

    def note_uses(self, name: str, attributes: dict[str, str]) -> None:
        """Which element (by id) holds how many, and which others it repeats."""
        self.ids.append(attributes.get("id", ""))
        repeated = attributes.get("href", attributes.get(f"{_XLINK} href", ""))[1:] if name == "use" else ""
        for identifier in {*self.ids, ""}:
            self.within[identifier] = self.within.get(identifier, 0) + 1
            if repeated:
                self.uses.setdefault(identifier, []).append(repeated)

    def end(self, _: str) -> None:
        self.ids.pop()
        if self.open.pop() == "style":
            problem = style_problem("".join(self.style))
            self.style.clear()
            if problem:
                raise _Found(problem)

    def text(self, words: str) -> None:
        if self.open and self.open[-1] == "style":
            self.style.append(words)

    def count_uses(self) -> None:
        """Refuses drawings whose <use> elements repeat each other without bound; goes along them, each once."""
        total: dict[str, int] = {}
        path: list[tuple[str, int]] = [("", 0)]
        on_path = {""}
        while path:
            identifier, done = path.pop()
            repeated = self.uses.get(identifier, [])
            if done < len(repeated):
                path.append((identifier, done + 1))
                other = repeated[done]
                if other in on_path:
                    raise _Found(f'repeats <use href="#{other[:60]}"> within itself')
                if other not in total:
                    path.append((other, 0))
                    on_path.add(other)
                continue
            on_path.discard(identifier)
            total[identifier] = self.within.get(identifier, 0) + sum(total[other] for other in repeated)
            if total[identifier] > _MOST_ELEMENTS:
                raise _Found(f"shows more than {_MOST_ELEMENTS:,} elements by <use>")


def _check_attribute(element: str, key: str, value: str) -> None:
    name = key.rpartition(" ")[2]
    if key not in ATTRIBUTES and key not in _XML_ATTRIBUTES and not _FREE.fullmatch(key):
        raise _Found(f"has the attribute “{name[:60]}” on <{element}>", ", ".join(sorted(ATTRIBUTES)))
    if name == "href" and not re.fullmatch(r"#[^\s#]+", value):
        raise _Found(f"points to “{value.strip()[:60]}”, and only “#id” within the same drawing is allowed")
    if name == "type" and element == "style" and value != "text/css":
        raise _Found(f"has a style of the type “{value[:60]}”, and only text/css is allowed")
    if element == "svg" and name == "viewBox" and _box(value) is None:
        raise _Found(f"has a viewBox that is not four numbers up to {_WIDEST:,}, with a width and a height above 0")
    problem = style_problem(value) if name in _STYLED else ""
    if problem:
        raise _Found(f"{problem} (“{name}” on <{element}>)")
