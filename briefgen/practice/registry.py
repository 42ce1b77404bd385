"""Every kind of question by its name: a module of `kinds` with a `KIND` is one, by being there."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

import briefgen.practice.kinds
from briefgen.discovery import modules_in
from briefgen.practice.question import QuestionKind


@cache
def kinds() -> Mapping[str, QuestionKind]:
    """The kinds of questions, in the order of their names. Raises ValueError where two have one name."""
    found: dict[str, QuestionKind] = {}
    for module in modules_in(briefgen.practice.kinds):
        one: QuestionKind = module.KIND
        if one.name in found:
            raise ValueError(f"two kinds of questions are called {one.name}")
        found[one.name] = one
    return MappingProxyType(dict(sorted(found.items())))
