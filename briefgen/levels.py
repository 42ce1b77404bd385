"""Levels that somebody gives to rules, for a whole content folder: from words to levels.

Pure: settings go in, levels come out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from briefgen.findings import Level
from briefgen.refusals import CannotRun
from briefgen.rules.registry import all_rules

OFF = "off"


class BadLevel(CannotRun):
    """A setting names no rule or no level; the message says what would be right."""


def read_levels(settings: Iterable[tuple[str, object]]) -> Mapping[str, Level | None]:
    """The level by rule, None for a rule that is off. Raises BadLevel.

    MkDocs reads its own file as YAML 1.1, in which an unquoted `off` is false: that counts as off.

    >>> read_levels([("long-sentence", "warning"), ("semicolon", "off")])
    {'long-sentence': <Level.WARNING: 'warning'>, 'semicolon': None}
    """
    return {_known(rule): _level(rule, word) for rule, word in settings}


def _known(rule: str) -> str:
    if rule in all_rules():
        return rule
    close = get_close_matches(rule, all_rules(), n=1, cutoff=0.5)
    hint = f"Did you mean “{close[0]}”?" if close else "“briefgen rule” lists them."
    raise BadLevel(f"There is no rule “{rule}”. {hint}")


def _level(rule: str, word: object) -> Level | None:
    if word is False or word == OFF:
        return None
    if word not in list(Level) or isinstance(word, bool):
        raise BadLevel(f"“{word}” is no level for the rule “{rule}”: write error, warning, advice or off.")
    return Level(str(word))
