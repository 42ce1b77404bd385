"""Hazard statements as they stand ahead of a step."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from briefgen.language.wording import capital
from briefgen.pages.context import PageContext
from briefgen.pages.rows import Chip

_SIGNALS = ("danger", "warning", "caution", "notice")
_FAR = 4
"""So many steps without a hazard may stand between two that share its statement; after more it is said again."""


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


def statement(context: PageContext, identifier: str, where: str = "") -> Statement:
    """The statement of a hazard; `where` says in a few words why it stands here, if not for the step itself."""
    record = context.library.hazards[identifier]
    return Statement(
        record.signal,
        capital(record.signal),
        context.label("hazard", identifier),
        context.links.target("hazard", identifier),
        str(record.hazard),
        str(record.consequence),
        str(record.avoid),
        tuple(context.chip("equipment", str(name), str(state), "needs") for name, state in record.controls.items()),
        where,
    )


def gravity(signal: str) -> int:
    """0 for the gravest signal word (ANSI Z535.4)."""
    return _SIGNALS.index(signal)


def statements(context: PageContext, hazards: Iterable[str]) -> tuple[Statement, ...]:
    """Several, the gravest first, each once."""
    names = dict.fromkeys(map(str, hazards))
    gravest_first = sorted(names, key=lambda name: gravity(context.library.hazards[name].signal))
    return tuple(statement(context, name) for name in gravest_first)


@dataclass
class Shared:
    """A hazard and the neighbouring steps that carry it, by their places in the list; `number` counts from one."""

    statement: Statement
    number: int
    steps: list[int] = field(default_factory=list)


def shared(rows: Sequence[Sequence[Statement]]) -> list[Shared]:
    """Of steps in a row, each with its statements: what is stated once ahead of several, in the order of beginning."""
    runs: list[Shared] = []
    last: dict[tuple[str, str], Shared] = {}
    for place, statements_ in enumerate(rows):
        for one in statements_:
            run = last.get((one.name, one.where))
            if run is None or place - run.steps[-1] > _FAR:
                run = last[(one.name, one.where)] = Shared(one, len(runs) + 1)
                runs.append(run)
            run.steps.append(place)
    return runs


@dataclass(frozen=True)
class HazardSign:
    """A hazard's sign beside a step: signal word, name, and the statement above that it leads to."""

    signal: str
    word: str
    name: str
    anchor: str


def signs(carried: Iterable[Shared], anchor: str) -> tuple[HazardSign, ...]:
    """The signs of a step that carries these; the anchors of statements begin with `anchor`."""
    return tuple(
        HazardSign(run.statement.signal, run.statement.word, run.statement.name, f"{anchor}-{run.number}")
        for run in carried
    )


def carried_by(runs: Iterable[Shared]) -> dict[int, list[Shared]]:
    """For each step of the list that carries something what it carries, the gravest first."""
    found: dict[int, list[Shared]] = {}
    for run in sorted(runs, key=lambda run: gravity(run.statement.signal)):
        for place in run.steps:
            found.setdefault(place, []).append(run)
    return found
