"""Hazard statements as they stand ahead of a step."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from briefgen.language.wording import capital
from briefgen.pages.desk import Desk
from briefgen.pages.rows import Chip

_SIGNALS = ("danger", "warning", "caution", "notice")


@dataclass(frozen=True)
class Statement:
    """A hazard: the signal word, what can hurt, what it would do, how to stay clear; texts are the author's."""

    signal: str
    word: str
    name: str
    target: str
    hazard: str
    consequence: str
    avoid: str
    controls: tuple[Chip, ...]
    where: str = ""


def statement(desk: Desk, identifier: str, where: str = "") -> Statement:
    """The statement of a hazard; `where` says in a few words why it stands here, if not for the step itself."""
    record = desk.library.hazards[identifier]
    return Statement(
        record.signal,
        capital(record.signal),
        desk.label("hazard", identifier),
        desk.links.target("hazard", identifier),
        str(record.hazard),
        str(record.consequence),
        str(record.avoid),
        tuple(desk.chip("equipment", str(name), str(state), "needs") for name, state in record.controls.items()),
        where,
    )


def gravity(signal: str) -> int:
    """0 for the gravest signal word (ANSI Z535.4)."""
    return _SIGNALS.index(signal)


def statements(desk: Desk, hazards: Iterable[str]) -> tuple[Statement, ...]:
    """Several, the gravest first, each once."""
    names = dict.fromkeys(map(str, hazards))
    gravest_first = sorted(names, key=lambda name: gravity(desk.library.hazards[name].signal))
    return tuple(statement(desk, name) for name in gravest_first)
