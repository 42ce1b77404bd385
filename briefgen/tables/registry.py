"""Every matter that has tables, by its name: a module below `kinds` with a `TABLE` is one, by being there."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

import briefgen.tables.kinds
from briefgen.discovery import modules_below
from briefgen.tables.kind import TableKind


@cache
def tables() -> Mapping[str, TableKind]:
    """The matters in their order. Raises ValueError where two have one name."""
    found = [module.TABLE for module in modules_below(briefgen.tables.kinds)]
    named = {kind.name: kind for kind in sorted(found, key=lambda kind: (kind.order, kind.name))}
    if len(named) < len(found):
        raise ValueError("two tables have one name")
    return MappingProxyType(named)
