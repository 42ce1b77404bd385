"""A drawing as it is copied into the site: one file, by day as it was drawn, by night in a palette of its own.

Only what the reader of drawings (`reading.figures.drawing`) lets pass is rewritten, and nothing is added but names of
colours. What can't be said by night stays as it is: blended colours, filters and masks that work on colours, what is
dark already. Which palette holds is said by the page around it (CSS Color Adjustment Module Level 1, `color-scheme`,
and Media Queries Level 5, `prefers-color-scheme`); on paper it is always the day's.
"""

from __future__ import annotations

from functools import lru_cache
from xml.parsers import expat
from xml.sax.saxutils import escape, quoteattr

from briefgen.pages.html.night.colours import Colour, luminance
from briefgen.pages.html.night.ground import PaperGround
from briefgen.pages.html.night.palette import GROUND
from briefgen.pages.html.night.values import COLOURED, Colours, Unclear
from briefgen.reading.figures.drawing import svg_danger

_WORKS_ON_COLOURS = frozenset({"feBlend", "feColorMatrix", "mask"})
# Unless it is said otherwise these are black (SVG 2, sections 13.2 and 13.12.4); of filters only a shadow is left so.
_BLACK = {"svg": ("color", "fill"), "stop": ("stop-color",)}
_DARK = 0.18  # the luminance below which a ground is dark: white has more contrast with it than black


@lru_cache(maxsize=256)
def with_night(data: bytes) -> bytes:
    """The drawing with its palette for the dark. Linear in its length; the same bytes where there is none."""
    if svg_danger(data) is not None:
        return data
    try:
        return _Rewritten(data).text.encode("utf-8")
    except (Unclear, expat.ExpatError):
        return data


class _Rewritten:
    """Goes through a drawing once and writes it down again, with its colours named."""

    def __init__(self, data: bytes) -> None:
        self.colours = Colours()
        self.ground = PaperGround()
        self._written: list[str] = []
        self._open: list[str] = []
        self._style: list[str] = []
        self._prefix = ""
        self._unclosed = False
        parser = expat.ParserCreate("utf-8")
        parser.ordered_attributes = True
        parser.buffer_text = True
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._words
        parser.Parse(data.decode("utf-8-sig").encode("utf-8"), True)
        self.text = self._whole()

    def _whole(self) -> str:
        ground = self.ground.colour
        if ground and luminance(ground) < _DARK:
            raise Unclear
        night = f"{self.colours.by_night};background:{GROUND.written}"
        sheet = f":root{{{self.colours.by_day}}}@media screen and (prefers-color-scheme:dark){{:root{{{night}}}}}"
        root, end, *rest = self._written
        if end != ">":
            raise Unclear
        return f"{root}><{self._prefix}style>{sheet}</{self._prefix}style>{''.join(rest)}"

    def _start(self, tag: str, pairs: list[str]) -> None:
        attributes = dict(zip(pairs[::2], pairs[1::2], strict=True))
        prefix, _, name = tag.rpartition(":")
        if name in _WORKS_ON_COLOURS:
            raise Unclear
        if not self._open:
            self._prefix = f"{prefix}:" if prefix else ""
        if self._open:
            self._close()
        self._open.append(name)
        self.ground.look(name, attributes)
        said = self._black(name) | {key: self._attribute(key, value) for key, value in attributes.items()}
        self._written.append(f"<{tag}{''.join(f' {key}={quoteattr(value)}' for key, value in said.items())}")
        self._unclosed = True

    def _black(self, name: str) -> dict[str, str]:
        return {key: self.colours.name(Colour(0, 0, 0)) for key in _BLACK.get(name, ())}

    def _attribute(self, key: str, value: str) -> str:
        if key == "style":
            return self.colours.declarations(value)
        if key == "mix-blend-mode" and value.strip() != "normal":
            raise Unclear
        return self.colours.value(value) if key in COLOURED else value

    def _end(self, tag: str) -> None:
        name = self._open.pop()
        if name == "style":
            self._close()
            self.ground.read("".join(self._style))
            self._written.append(escape(self.colours.sheet("".join(self._style))))
            self._style.clear()
        self._written.append("/>" if self._unclosed else f"</{tag}>")
        self._unclosed = False

    def _words(self, words: str) -> None:
        if self._open and self._open[-1] == "style":
            self._style.append(words)
        else:
            self._close()
            self._written.append(escape(words))

    def _close(self) -> None:
        """Ends the tag of the element that holds what comes now."""
        if self._unclosed:
            self._written.append(">")
            self._unclosed = False
