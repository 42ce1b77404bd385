"""Data for a page's script, written short: what rows share stands once, and no digit is written that says nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any


def packed(value: Any) -> Any:
    """Plain data with every number in twelve digits: a second of a day keeps a ten-millionth.

    >>> packed({"a": [60.0, 11941.333333333334, 7.06e-08], "b": True})
    {'a': [60, 11941.3333333, 7.06e-08], 'b': True}
    """
    if isinstance(value, float):
        short = float(f"{value:.12g}")
        return int(short) if short.is_integer() else short
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
