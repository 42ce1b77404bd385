"""The modules of a package and of the rooms in it: whatever is found by being there is found with this.

Alone walks packages. Order: by the modules' own names, so that moving one to another room changes nothing.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator
from importlib import import_module
from types import ModuleType


def modules_in(package: ModuleType) -> Iterator[ModuleType]:
    """Every module directly in a package, and every package in it as one: imported, in the order of their names."""
    for name in sorted(info.name for info in pkgutil.iter_modules(package.__path__)):
        yield import_module(f"{package.__name__}.{name}")


def modules_below(package: ModuleType) -> Iterator[ModuleType]:
    """Every module in a package and in its rooms, without the rooms themselves."""
    found = [info.name for info in pkgutil.walk_packages(package.__path__, f"{package.__name__}.") if not info.ispkg]
    for name in sorted(found, key=lambda name: (name.rpartition(".")[2], name)):
        yield import_module(name)
