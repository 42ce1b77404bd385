"""The judge's own reading of what a task has from elsewhere: from one that it is like, from defaults, from hazards."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tests.proof.deeds import Content, listed

Raw = dict[str, Any]


def whole(tasks: Mapping[str, Any], name: str) -> Raw:
    """A task with all that it has from the one that it is like."""
    task = tasks[name]
    if "like" not in task:
        return dict(task)
    taken = exchanged(whole(tasks, task["like"]), {task["like"]: name, **task.get("instead", {})})
    own = {key: value for key, value in task.items() if key not in ("like", "instead")}
    return {**taken, **own}


def exchanged(value: Any, instead: Mapping[str, str]) -> Any:
    """Every id exchanged, wherever it stands."""
    if isinstance(value, dict):
        return {exchanged(key, instead): exchanged(one, instead) for key, one in value.items()}
    if isinstance(value, list):
        return [exchanged(one, instead) for one in value]
    task, slash, step = value.partition("/")
    return instead.get(task, task) + slash + step


def filled(content: Content, task: Mapping[str, Any], step: Raw) -> Raw:
    """A step with the defaults of its task that it does not answer itself, and with what its hazards ask for."""
    defaults = task.get("defaults", {})
    made = {**({"who": defaults["who"]} if "who" in defaults else {}), **step}
    outside = any(content["people"][one]["post"] == "outside" for one in listed(made["who"]))
    if outside:
        made = {**{key: defaults[key] for key in ("at", "with", "restraint") if key in defaults}, **made}
    if made.get("restraint") == "none":
        del made["restraint"]
    asked = {name: state for name, state in defaults.get("requires", {}).items() if name not in made.get("sets", {})}
    if asked:
        made["requires"] = {**asked, **made.get("requires", {})}
    return with_hazards(content, task, made, outside)


def with_hazards(content: Content, task: Mapping[str, Any], made: Raw, outside: bool) -> Raw:
    sources: list[Mapping[str, Any]] = []
    if outside:
        spots = [made.get("at") or task.get("place"), made.get("to")]
        sources += [content["places"][one] for one in spots if one]
        sources += [content["equipment"][one] for one in made.get("sets", {})]
    used = [one if isinstance(one, str) else next(iter(one)) for one in made.get("with", [])]
    sources += [content["tools"][one] for one in used if one in content["tools"]]
    asked: Raw = {}
    for hazard in (name for source in sources for name in source.get("hazards", [])):
        for name, state in content["hazards"][hazard].get("controls", {}).items():
            if name not in made.get("requires", {}) and name not in made.get("sets", {}):
                asked[name] = state
    return {**made, "requires": {**made.get("requires", {}), **asked}} if asked else made
