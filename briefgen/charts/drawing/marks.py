"""How people look: colours by name, and the pattern of their mark. Nothing is told by colour alone.

A colour is a CSS variable (`charts.css` gives it a value for day, night and print), so one drawing serves all three.
"""

from __future__ import annotations

from briefgen.charts.drawing.svg import group, rect, tag
from briefgen.model.fields.choices import PATTERNS
from briefgen.model.people import Person


def colour(name: str) -> str:
    """A colour for a figure, looked up when the chart is drawn: `lane-2`, `stripe-red`, `ink`, `night`."""
    return f"var(--bg-c-{name})"


def tone(person: Person) -> str:
    """The name of a person's colour: for people outside the mark's own, or else the pattern's; grey for the others."""
    if not person.outside:
        return "lane-0"
    if person.mark and person.mark.colour:
        return f"stripe-{person.mark.colour}"
    pattern = person.mark.pattern if person.mark else "plain"
    return f"lane-{PATTERNS.index(pattern) + 1}"


def pattern_word(person: Person) -> str:
    """The word for a person's mark, or else for their post."""
    return str(person.mark.word) if person.mark else str(person.post)


def token(person: Person, size: float) -> str:
    """A person as a small sign around 0, 0: outside a disc with the mark's pattern, inside a square, on the ground a
    triangle.
    """
    r = size / 2
    if person.outside:
        mark = _MARKS[person.mark.pattern if person.mark else "plain"]
        shape = tag("circle", r=r, class_="c-token") + group(mark, transform=f"scale({r:g})")
    elif person.post == "inside":
        shape = rect(-r, -r, size, size, "c-token", rx=2)
    else:
        shape = tag("path", d=f"M0 {-r:g}L{r:g} {r:g}H{-r:g}Z", class_="c-token")
    return group(shape, class_=f"c-{tone(person)}")


def _strokes(d: str) -> str:
    return tag("path", d=d, class_="c-mark")


# Each pattern within a disc of radius 1.
_MARKS = {
    "plain": "",
    "bars": _strokes("M-.6 -.5H.6M-.8 0H.8M-.6 .5H.6"),
    "rings": _strokes("M.62 0A.62 .62 0 1 0 -.62 0A.62 .62 0 1 0 .62 0M.2 0A.2 .2 0 1 0 -.2 0A.2 .2 0 1 0 .2 0"),
    "dots": tag("path", d="M-.45 -.45h0M.45 -.45h0M-.45 .45h0M.45 .45h0M0 0h0", class_="c-mark-dots"),
    "checks": tag("path", d="M0 0V-.7H.7V0ZM0 0V.7H-.7V0Z", class_="c-mark-fill"),
    "chevrons": _strokes("M-.55 -.05L0 -.6L.55 -.05M-.55 .55L0 0L.55 .55"),
}
