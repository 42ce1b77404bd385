"""What a rule is, and how it is found: one small generator, its docstring its page, its examples its tests.

A rule yields `Trouble`; name and level are added here. Every module in the rooms beside this one is loaded, so a new
rule is one new function in one of them; its family is the room's title.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from inspect import cleandoc
from textwrap import dedent

import briefgen.rules
from briefgen.discovery import modules_below
from briefgen.findings import Finding, Level, Related
from briefgen.proof.evidence import Evidence
from briefgen.source import Position


class Needs(StrEnum):
    """What must be sound before a rule can say anything worth reading."""

    RECORDS = "records"  # whatever could be read
    REFERENCES = "references"  # no reading error, and every name leads somewhere
    ORDER = "order"  # and the order has no circle


@dataclass(frozen=True)
class Trouble:
    """A finding without its rule: the place, the sentence, what belongs to it, and the line to write."""

    position: Position
    sentence: str
    related: tuple[Related, ...] = ()
    write: str = ""
    write_at: Position | None = None


Check = Callable[[Evidence], Iterable[Trouble]]


@dataclass(frozen=True)
class Rule:
    """A rule. `wrong` and `right` are content that goes with the small world of `examples.py`.

    In `wrong`, a `▸` stands just before the word at which the finding must point. `spoils`: while it finds something,
    nothing can be proved of the plan.
    """

    name: str
    level: Level
    family: str
    needs: Needs
    text: str
    wrong: str
    right: str
    check: Check | None
    spoils: bool

    @property
    def fixed(self) -> bool:
        """Whether it stays an error whatever anybody says: nothing can be proved, or a file is not fit to publish."""
        return self.spoils or (self.check is None and self.level is Level.ERROR)

    def findings(self, evidence: Evidence) -> Iterator[Finding]:
        """What the rule finds."""
        if self.check is None:
            return
        for trouble in self.check(evidence):
            yield Finding(
                self.name, self.level, trouble.position, _capital(trouble.sentence), trouble.related, trouble.write,
                trouble.write_at,
            )  # fmt: skip


_RULES: dict[str, Rule] = {}


def rule(
    name: str, level: Level, needs: Needs, *, wrong: str, right: str, spoils: bool | None = None
) -> Callable[[Check], Check]:
    """Registers a check under a name. The function's docstring is the rule's page.

    Unless it says otherwise, an error that shows in the records alone `spoils` the proof.
    """

    def register(check: Check) -> Check:
        family, text = _family(check.__module__), cleandoc(check.__doc__ or "")
        spoiling = (level is Level.ERROR and needs is Needs.RECORDS) if spoils is None else spoils
        _add(Rule(name, level, family, needs, text, _flush(wrong), _flush(right), check, spoiling))
        return check

    return register


def described(
    name: str, module: str, text: str, *, wrong: str, right: str, spoils: bool = True, level: Level = Level.ERROR
) -> None:
    """Registers a rule that is checked elsewhere, mostly while reading: it has a page and examples, but no check.

    `module` is the `__name__` of the module that describes it.
    """
    _add(Rule(name, level, _family(module), Needs.RECORDS, cleandoc(text), _flush(wrong), _flush(right), None, spoils))


def _family(module: str) -> str:
    """The title of the room that a module of rules lies in, like `tools and bags`."""
    room = sys.modules[module.rpartition(".")[0]]
    return (room.__doc__ or "").partition(":")[0].lower()


def _capital(sentence: str) -> str:
    """A sentence that begins with a name in lower case begins with a capital all the same."""
    return sentence[:1].upper() + sentence[1:]


def _flush(example: str) -> str:
    """An example without the indentation of the code around it."""
    return dedent(example).strip("\n")


def _add(new: Rule) -> None:
    if new.name in _RULES:
        raise ValueError(f"two rules are called {new.name}")
    _RULES[new.name] = new


@cache
def all_rules() -> Mapping[str, Rule]:
    """Every rule by name, by family and name. Loads the families on first use."""
    for _ in modules_below(briefgen.rules):
        pass
    return {rule.name: rule for rule in sorted(_RULES.values(), key=lambda rule: (rule.family, rule.name))}
