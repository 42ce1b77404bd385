"""What a task says for all its steps, written into each step that does not say otherwise."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from briefgen.model.steps import Step
from briefgen.model.tasks import Defaults

NOTHING = "none"
"""As `restraint`: nothing holds the person, whatever the default."""
_OF_OUTSIDE = ("at", "restraint", "effort", "uses")


def filled(step: Step, defaults: Defaults | None, outside: Collection[str]) -> Step:
    """The step with what the defaults say and it does not. `outside` are the people outside."""
    changes = dict(_changes(step, defaults, outside)) if defaults else {}
    if (changes.get("restraint") or step.restraint) == NOTHING:
        changes["restraint"] = None
    return step.model_copy(update=changes) if changes else step


def _changes(step: Step, defaults: Defaults, outside: Collection[str]) -> dict[str, Any]:
    said = step.model_fields_set
    found: dict[str, Any] = {}
    if defaults.who and not step.who:
        found["who"] = defaults.who
    if not set(found.get("who", step.who)).isdisjoint(outside):
        found |= {key: value for key in _OF_OUTSIDE if key not in said and (value := getattr(defaults, key))}
        if defaults.hazards:
            found["hazards"] = tuple(dict.fromkeys((*step.hazards, *defaults.hazards)))
    # Who brings a state about can't wait for it.
    asked = {name: state for name, state in defaults.requires.items() if name not in {*step.requires, *step.sets}}
    if asked:
        found["requires"] = {**step.requires, **asked}
    return found
