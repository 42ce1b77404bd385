"""What a matter's module declares of itself: by which name it is asked for, and how its tables are made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.table import Table


@dataclass(frozen=True)
class TableKind:
    """Tables of one matter. `order` is its place among the others; `make` gives at least one table, if an empty one."""

    name: str
    order: int
    make: Callable[[SortieEvidence], tuple[Table, ...]]
