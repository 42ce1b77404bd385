"""On what a drawing is drawn: the colour of the rectangle that fills it, if there is one."""

from __future__ import annotations

import re
from collections.abc import Mapping

from briefgen.pages.html.night.colours import Colour, read

_NEARLY = 0.9  # a frame round the sheet may be left free
_STEP = re.compile(r"([a-zA-Z])|([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:e[+-]?[0-9]+)?)", re.IGNORECASE)
_LONGEST = 200  # letters of a path that is a rectangle
_SEE_THROUGH = frozenset({"opacity", "fill-opacity"})


class PaperGround:
    """Looks at one element after another; `colour` is that of the last that fills the drawing, where it can be told."""

    def __init__(self) -> None:
        self.colour: Colour | None = None
        self._size: tuple[float, float] | None = None
        self._classes: dict[str, str] = {}

    def look(self, name: str, attributes: Mapping[str, str]) -> None:
        """Takes in an element."""
        if name == "svg":
            self._size = _size(attributes)
            self.colour = _said(attributes.get("style", ""), "background", "background-color")
        elif self._size and not _SEE_THROUGH & attributes.keys() and self._is_filled(name, attributes):
            self.colour = self._fill(attributes) or self.colour

    def read(self, sheet: str) -> None:
        """Takes in a style sheet: what its classes are filled with."""
        for rule in sheet.split("}"):
            selector, _, inside = rule.partition("{")
            for one in selector.split(","):
                self._classes[one.strip().removeprefix(".")] = inside

    def _is_filled(self, name: str, attributes: Mapping[str, str]) -> bool:
        wide, high = self._size or (0.0, 0.0)
        if name == "rect":
            across, down = (_length(attributes.get(key, ""), of) for key, of in (("width", wide), ("height", high)))
        elif name == "path":
            across, down = _reach(attributes.get("d", ""))
        else:
            return False
        return across >= _NEARLY * wide and down >= _NEARLY * high

    def _fill(self, attributes: Mapping[str, str]) -> Colour | None:
        names = attributes.get("class", "").split()
        by_class = next((found for name in names if (found := _said(self._classes.get(name, ""), "fill"))), None)
        said = _said(attributes.get("style", ""), "fill") or by_class
        return said or read(attributes.get("fill", "" if names else "black"))


def _said(style: str, *keys: str) -> Colour | None:
    pairs = (one.partition(":") for one in style.split(";"))
    return next((read(value) for key, _, value in pairs if key.strip().lower() in keys), None)


def _size(attributes: Mapping[str, str]) -> tuple[float, float] | None:
    numbers = [float(found[2]) for found in _STEP.finditer(attributes.get("viewBox", "")[:_LONGEST]) if found[2]]
    if len(numbers) == 4:
        return numbers[2], numbers[3]
    wide, high = (_length(attributes.get(key, ""), 0) for key in ("width", "height"))
    return (wide, high) if wide and high else None


def _length(words: str, whole: float) -> float:
    found = _STEP.match(words.strip()[:_LONGEST])
    if not found or not found[2]:
        return 0.0
    return float(found[2]) / 100 * whole if words.strip().endswith("%") else float(found[2])


def _reach(path: str) -> tuple[float, float]:
    """Width and height of a path of straight lines along the edges; none for any other."""
    if len(path) > _LONGEST or re.search(r"[^MmHhVvLlZz0-9eE.,+\s-]", path):
        return 0.0, 0.0
    spot, points, command, numbers = [0.0, 0.0], [], "M", iter(_STEP.findall(path))
    for letter, number in numbers:
        if letter:
            command = letter
            continue
        start = spot if command.islower() else [0.0, 0.0]
        if command in "Hh":
            spot = [start[0] + float(number), spot[1]]
        elif command in "Vv":
            spot = [spot[0], start[1] + float(number)]
        else:
            down = next(numbers, ("", ""))[1]
            spot = [start[0] + float(number), start[1] + float(down or 0)]
        points.append(spot)
    if not points:
        return 0.0, 0.0
    across, down_all = zip(*points, strict=True)
    return max(across) - min(across), max(down_all) - min(down_all)
