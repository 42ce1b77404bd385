"""Every kind of chart by its name: a module or folder of this package with a `CHART` is one, by being there."""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping
from functools import cache
from importlib import import_module
from types import MappingProxyType

import briefgen.charts
from briefgen.charts.kind import Drawing


@cache
def charts() -> Mapping[str, Drawing]:
    """The kinds of charts, in the order of their names. Raises ValueError where two have one name."""
    found: dict[str, Drawing] = {}
    for module in sorted(info.name for info in pkgutil.iter_modules(briefgen.charts.__path__)):
        one: Drawing | None = getattr(import_module(f"briefgen.charts.{module}"), "CHART", None)
        if one is None:
            continue
        if one.name in found:
            raise ValueError(f"two charts are called {one.name}")
        found[one.name] = one
    return MappingProxyType(dict(sorted(found.items())))
