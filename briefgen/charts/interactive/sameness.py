"""What the narrow figure of a chart has in common with the wide one is written once: the rest is its change."""

from __future__ import annotations

from typing import Any


class _NoChange(Exception):
    """Something is gone, and a change can only add and replace."""


def with_change(figure: dict[str, Any]) -> dict[str, Any]:
    """The figure with `tools.narrow.change` in the place of `tools.narrow.figure`, where that can be said.

    `charts.js` puts it over the figure: objects key by key, lists of as many objects one by one, all else as a whole.

    >>> narrow = {"data": [{"x": [2], "text": "a"}]}
    >>> with_change({"data": [{"x": [1], "text": "a"}], "tools": {"narrow": {"figure": narrow}}})["tools"]
    {'narrow': {'change': {'data': [{'x': [2]}]}}}
    """
    narrow = figure.get("tools", {}).get("narrow", {})
    if "figure" not in narrow:
        return figure
    try:
        change = {key: _change(figure.get(key), part) for key, part in narrow["figure"].items()}
    except _NoChange:
        return figure
    rest = {key: part for key, part in narrow.items() if key != "figure"}
    return {**figure, "tools": {**figure["tools"], "narrow": {**rest, "change": change}}}


def _change(old: Any, new: Any) -> Any:
    if isinstance(old, dict) and isinstance(new, dict):
        if old.keys() - new.keys():
            raise _NoChange
        return {key: _change(old.get(key), part) for key, part in new.items() if key not in old or old[key] != part}
    if _objects(old) and _objects(new) and len(old) == len(new):
        return [_change(one, other) for one, other in zip(old, new, strict=True)]
    return new


def _objects(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(one, dict) for one in value)
