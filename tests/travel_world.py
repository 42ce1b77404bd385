"""Small worlds for the tests of travel, supplies and light: as records made in memory, and at random."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st

from briefgen.model.library import KINDS, Library
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.source import Position, Text

Records = Mapping[str, Mapping[str, Any]]
EFFORTS = {"rest": "120 W", "light": "220 W", "moderate": "320 W", "hard": "450 W"}


def library(records: Records) -> Library:
    """Validated records, by kind and id. Every scalar may be given as text or number."""
    made: dict[str, dict[str, Any]] = {}
    for number, (kind, entries) in enumerate(records.items()):
        made[kind] = {}
        for line, (name, raw) in enumerate(entries.items(), start=1):
            record = KINDS[kind].model.model_validate(_as_text(raw))
            made[kind][name] = record.known_as(Text(name, Position(f"{number}.yaml", line, 3)))
    return Library(made)


def _as_text(raw: Any) -> Any:
    if isinstance(raw, Mapping):
        return {key: _as_text(value) for key, value in raw.items()}
    if isinstance(raw, list | tuple):
        return [_as_text(value) for value in raw]
    if isinstance(raw, bool):
        return "true" if raw else "false"
    return str(raw)


def world(
    steps: Mapping[str, list[dict[str, Any]]],
    *,
    flow: Mapping[str, list[str]] | None = None,
    limits: Mapping[str, str] | None = None,
    sortie: Mapping[str, Any] | None = None,
    undo: Mapping[str, list[dict[str, Any]]] | None = None,
    **kinds: Any,
) -> SortieEvidence:
    """A sortie `s` whose tasks have these steps, in a world of a lock, K1 to K3, an arm's plate and a mast's tip.

    Everybody flies the tasks in the order given unless `flow` says otherwise; a kind replaces that of the world.
    """
    usual = {"do": "Work.", "takes": "1 min"}
    tasks = {
        name: {"title": name, "purpose": "A test.", "steps": [{**usual, **step} for step in row]}
        for name, row in steps.items()
    }
    for name, ways in (undo or {}).items():
        tasks[name]["undo"] = ways
    records: dict[str, Any] = {
        "programme": {
            "p": {
                "title": "P",
                "sorties": ["s"],
                "paces": {"outside": "6 m/min", "loaded": "3 m/min"},
                "effort": EFFORTS,
            }
        },
        "people": {
            "ev1": {"label": "EV1", "post": "outside", "suit": "suit"},
            "ev2": {"label": "EV2", "post": "outside", "suit": "suit"},
            "ev3": {"label": "EV3", "post": "outside", "suit": "suit"},
            "desk": {"label": "Desk", "post": "inside"},
        },
        "suits": {"suit": {"supplies": {"oxygen": {"holds": "2 kg", "keeps": "0.2 kg", "per_megajoule": "0.07 kg"}}}},
        "places": {
            "lock": {"home": True, "anchor": True},
            "k1": {"anchor": True},
            "k2": {},
            "k3": {"room": 1},
            "plate": {"anchor": True},
            "tip": {},
        },
        "routes": {
            "r1": {"between": ["lock", "k1"], "length": "6 m"},
            "r2": {"between": ["k1", "k2"], "length": "3 m"},
            "r3": {"between": ["k2", "k3"], "length": "3 m"},
        },
        "bags": {"bag": {"stowed": "lock"}},
        "tasks": tasks,
    }
    busy = {name: {who for step in row for who in _several(step["who"])} for name, row in steps.items()}
    people = sorted(set().union(*busy.values()))
    whole = {person: [name for name, names in busy.items() if person in names] for person in people}
    records["sorties"] = {
        "s": {"title": "S", "flow": flow or whole, "limits": {"length": "8 h", **(limits or {})}, **(sortie or {})}
    }
    records.update(kinds)
    return Evidence(library(records)).sorties["s"]


def _several(who: Any) -> list[str]:
    return [who] if isinstance(who, str) else list(who)


# Random worlds --------------------------------------------------------------------------------------------------------

NAMES = ["lock", "a", "b", "c", "d", "e"]


@st.composite
def networks(draw: st.DrawFn) -> dict[str, Any]:
    """Routes over up to six places: parallel ones, one-way ones, ones with a time of their own, and islands."""
    names = NAMES[: draw(st.integers(2, len(NAMES)))]
    count = draw(st.integers(1, 9))
    routes: dict[str, Any] = {}
    for number in range(count):
        first, second = draw(st.lists(st.sampled_from(names), min_size=2, max_size=2, unique=True))
        route: dict[str, Any] = {"between": [first, second], "length": f"{draw(st.integers(1, 20))} m"}
        if draw(st.integers(0, 3)) == 0:
            route["time"] = f"{draw(st.integers(1, 300))} s"
        if draw(st.integers(0, 3)) == 0:
            route["one_way"] = True
        routes[f"r{number}"] = route
    places: dict[str, Any] = {name: {"anchor": draw(st.booleans())} for name in names}
    places["lock"]["home"] = True
    return {"places": places, "routes": routes}


@st.composite
def journeys(draw: st.DrawFn) -> SortieEvidence:
    """One or two people who go about a random network, carry a bag at times, and move their tethers."""
    net = draw(networks())
    names = list(net["places"])
    steps: dict[str, list[dict[str, Any]]] = {}
    for person in ("ev1", "ev2")[: draw(st.integers(1, 2))]:
        row: list[dict[str, Any]] = []
        for _ in range(draw(st.integers(1, 6))):
            place = draw(st.sampled_from(names))
            step: dict[str, Any] = {"who": person, "at": place, "takes": f"{draw(st.integers(0, 900))} s"}
            step["effort"] = draw(st.sampled_from(list(EFFORTS)))
            if draw(st.integers(0, 4)) == 0:
                step["to"] = draw(st.sampled_from(names))
            if net["places"][place]["anchor"] and draw(st.booleans()):
                step["anchors"] = place
            if person == "ev1" and draw(st.integers(0, 3)) == 0:
                step |= {"picks": ["bag"]} if draw(st.booleans()) else {"leaves": {"bag": place}}
            if person == "ev2" and row == [] and draw(st.booleans()):
                step["after"] = ["ev1/1"]
            row.append(step)
        steps[person] = row
    return world(steps, **net)
