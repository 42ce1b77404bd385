"""Every kind of question by its name: a module of `kinds` with a `KIND` is one, by being there."""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping
from functools import cache
from importlib import import_module
from types import MappingProxyType

import briefgen.practice.kinds
from briefgen.practice.question import Kind


@cache
def kinds() -> Mapping[str, Kind]:
    """The kinds of questions, in the order of their names. Raises ValueError where two have one name."""
    found: dict[str, Kind] = {}
    package = briefgen.practice.kinds
    for module in sorted(info.name for info in pkgutil.iter_modules(package.__path__)):
        one: Kind = import_module(f"{package.__name__}.{module}").KIND
        if one.name in found:
            raise ValueError(f"two kinds of questions are called {one.name}")
        found[one.name] = one
    return MappingProxyType(dict(sorted(found.items())))
