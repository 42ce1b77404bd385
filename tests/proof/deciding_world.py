"""Small random sorties for the tests of deciding: two people outside, tasks on a line of places, some optional."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st

from briefgen.proof.evidence import SortieEvidence
from tests.travel_world import world

PLACES = ("lock", "k1", "k2", "k3")
PRIORITIES = ("required", "time-permitting", "get-ahead")


def tasks_of(records: Mapping[str, tuple[str, list[dict[str, Any]]]]) -> dict[str, Any]:
    """Task records from priorities and steps."""
    usual = {"do": "Work.", "takes": "1 min"}
    return {
        name: {
            "title": name,
            "purpose": "A test.",
            "priority": priority,
            "steps": [{**usual, **step} for step in steps],
        }
        for name, (priority, steps) in records.items()
    }


def sortie_of(
    records: Mapping[str, tuple[str, list[dict[str, Any]]]], *, length: str = "8 h", get_aheads: tuple[str, ...] = (),
    changes: Mapping[str, Mapping[str, Any]] | None = None, **kinds: Any,
) -> SortieEvidence:  # fmt: skip
    """A sortie of these tasks in the order given; get-aheads are in nobody's flow. `changes` are laid over records."""
    steps = {name: row for name, (_, row) in records.items() if name not in get_aheads}
    tasks = tasks_of(records)
    for name, more in (changes or {}).items():
        tasks[name] |= more
    sortie = {"get_aheads": list(get_aheads)}
    places = {"lock": {"home": True, "anchor": True}, "k1": {"anchor": True}, "k2": {}, "k3": {}}
    return world(
        steps, limits={"length": length}, sortie=sortie, **{"tasks": tasks, "places": places, **kinds}
    )  # fmt: skip


@st.composite
def steps(draw: st.DrawFn, people: tuple[str, ...] = ("ev1", "ev2")) -> list[dict[str, Any]]:
    """One to three steps of a task, alone or together."""
    row = []
    for _ in range(draw(st.integers(1, 3))):
        who = draw(st.sampled_from([*people, list(people)])) if len(people) > 1 else people[0]
        likely = draw(st.integers(1, 20))
        low, high = max(0, likely - draw(st.integers(0, 5))), likely + draw(st.integers(0, 15))
        row.append({"who": who, "at": draw(st.sampled_from(PLACES)), "takes": f"{low}/{likely}/{high} min"})
    return row


@st.composite
def sorties(draw: st.DrawFn) -> SortieEvidence:
    """Three to six tasks with links between them, required or not, then both go home; the limit may be short."""
    records: dict[str, tuple[str, list[dict[str, Any]]]] = {}
    for number in range(draw(st.integers(3, 6))):
        row = draw(steps())
        if records and draw(st.booleans()):
            earlier = draw(st.sampled_from(list(records)))
            row[0] = {**row[0], "after": [f"{earlier}/{draw(st.integers(1, len(records[earlier][1])))}"]}
        records[f"t{number}"] = (draw(st.sampled_from(PRIORITIES)), row)
    # Whatever is left out, everybody ends at home: nothing that leaves somebody out there is advised.
    records["in"] = ("required", [{"who": who, "at": "lock", "takes": "1/2/4 min"} for who in ("ev1", "ev2")])
    return sortie_of(records, length=f"{draw(st.integers(60, 600))} min")
