"""Data for a page's script, written short: what rows share stands once, and whole numbers are written as such."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any


def packed(value: Any) -> Any:
    """Plain data in which whole numbers have no point; all others stay to the last digit, by which ties are broken.

    >>> packed({"a": [60.0, 11941.333333333334], "b": True})
    {'a': [60, 11941.333333333334], 'b': True}
    """
    if isinstance(value, float):
        return int(value) if value.is_integer() else value
    if isinstance(value, Mapping):
        return {key: packed(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [packed(one) for one in value]
    return value


def named_once(rows: Iterable[Mapping[str, Any]]) -> dict[str, Sequence[Any]]:
    """Rows that all have the same names, as the names and the values; `records` of `underway.js` reads them.

    >>> named_once([{"id": "a", "free": False}, {"id": "b", "free": True}])
    {'names': ['id', 'free'], 'rows': [['a', False], ['b', True]]}
    """
    found = list(rows)
    names = list(found[0]) if found else []
    return {"names": names, "rows": [[row[name] for name in names] for row in found]}
