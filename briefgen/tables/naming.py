"""Cells that name a record as the crew does, and lead to it; and how a plan's times and chances are said."""

from __future__ import annotations

import math
from collections.abc import Iterable

from briefgen.language.sentences import plain
from briefgen.language.wording import capital, listing
from briefgen.model.library import Library
from briefgen.proof.chance.spread import Spread
from briefgen.proof.naming import called
from briefgen.proof.plan import PlannedStep
from briefgen.tables.table import Cell, RecordAddress
from briefgen.units import MINUTE, show_duration, show_elapsed, show_number


def person(library: Library, name: str) -> str:
    """What is said on the loop, or the label."""
    return plain(called(library, name))


def people(library: Library, names: Iterable[str]) -> str:
    """`Heron and Wren`."""
    return listing([person(library, name) for name in names])


def task(library: Library, name: str) -> str:
    """A task's title."""
    return capital(plain(library.tasks[name].label_text))


def place(library: Library, name: str | None) -> str:
    """A place's name; nothing for none."""
    record = library.places.get(name) if name else None
    return capital(plain(record.label_text)) if record else ""


def person_cell(library: Library, name: str) -> Cell:
    """A person, leading to their page."""
    return Cell(person(library, name), RecordAddress("person", name))


def task_cell(library: Library, name: str, words: str = "") -> Cell:
    """A task, leading to its page; `words` stand instead of its title."""
    return Cell(words or task(library, name), RecordAddress("task", name))


def step_cell(step: PlannedStep, more: str = "") -> Cell:
    """A step by what is done, leading to it."""
    words = plain(step.step.told).rstrip(".")
    return Cell(f"{words}{more}", RecordAddress("task", str(step.task.id), step.step.key))


def by_minute(seconds: float) -> str:
    """A latest moment, rounded down to the whole minute so that it is never too late; never, where nothing fits.

    >>> by_minute(15_959), by_minute(-1)
    ('4:25:00', 'never in time')
    """
    return "never in time" if seconds < 0 else show_elapsed(math.floor(seconds / MINUTE) * MINUTE)


def spread_words(spread: Spread) -> str:
    """A mean and a standard deviation, in minutes; below two minutes in seconds.

    >>> spread_words(Spread(1538.9, 141.1)), spread_words(Spread(100.0, 9.6)), spread_words(Spread(60.0, 0.0))
    ('25.6 min ± 2.4 min', '100 s ± 10 s', '60 s')
    """
    unit, size, places = ("min", MINUTE, 1) if spread.mean >= 2 * MINUTE else ("s", 1.0, 0)
    mean = f"{spread.mean / size:.{places}f} {unit}"
    return f"{mean} ± {spread.deviation / size:.{places}f} {unit}" if spread.deviation >= 0.5 else mean


def gained(seconds: float) -> str:
    """How much earlier the sortie ends; that it ends no earlier, where it does not.

    >>> gained(150.0), gained(0.2)
    ('2 min 30 s', 'no earlier')
    """
    return show_duration(seconds) if seconds >= 0.5 else "no earlier"


def three_digits(amount: float) -> str:
    """Three digits that count, at least the units.

    >>> three_digits(0.5512), three_digits(15.04), three_digits(1234.5)
    ('0.551', '15', '1234')
    """
    size = abs(amount)
    return show_number(amount, 0 if size >= 100 else 1 if size >= 10 else 2 if size >= 1 else 3)
