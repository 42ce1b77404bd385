"""Every kind of chart by its name: a module or folder of `kinds` with a `CHART` is one, by being there."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

import briefgen.charts.kinds
from briefgen.charts.kind import Drawing
from briefgen.discovery import modules_in


@cache
def charts() -> Mapping[str, Drawing]:
    """The kinds of charts, in the order of their names. Raises ValueError where two have one name."""
    found: dict[str, Drawing] = {}
    for module in modules_in(briefgen.charts.kinds):
        one: Drawing | None = getattr(module, "CHART", None)
        if one is None:
            continue
        if one.name in found:
            raise ValueError(f"two charts are called {one.name}")
        found[one.name] = one
    return MappingProxyType(dict(sorted(found.items())))
