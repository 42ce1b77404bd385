"""Records that nothing uses: most often the trace of a misspelt id or of a step that was taken out."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.model.fields.references import references_of, step_references_of, text_links_of
from briefgen.model.library import KINDS, SINGULAR
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule

# Terms and what is learnt have rules of their own; a route or a question serves by being there.
_ASKED = {
    "sorties": "name it in the programme's “sorties”",
    "tasks": "name it in somebody's flow, or in a sortie's “get_aheads”",
    "people": "give them a flow, or a call",
    "suits": "give it to a person",
    "places": "join it by a route, or use it in a step",
    "tools": "use it in a step",
    "bags": "use it in a step, or stow something in it",
    "equipment": "use it in a step",
    "hazards": "name it in a step, a place or a route",
    "figures": "show it at a record or a step",
}

_USED_UP = """
      brief:
        title: Name all there is
        place: lock
        purpose: >-
          Show [one](tool:driver), [two](tool:socket), [three](tool:clips), [four](bag:bag-a), [five](bag:pouch),
          [six](hazard:shock), [seven](place:plate) and [eight](place:tip).
        steps:
          - who: [ev1, ev2, desk, ground]
            do: Name every thing.
            takes: 5 min
            requires: {feed: on, cover: shut, valve: open, plates: out}
    sorties:
      s: {title: S, flow: {ev1: [brief], ev2: [brief], desk: [brief], ground: [brief]}, limits: {length: 1 h}}
"""


@rule(
    "unused-record", Level.WARNING, Needs.REFERENCES,
    wrong="""
    tools:
      ▸hook: {name: Long hook, stowed: lock}
    tasks:""" + _USED_UP,
    right="""
    tasks:""" + _USED_UP,
)  # fmt: skip
def unused_record(evidence: Evidence) -> Iterator[Trouble]:
    """Every record is used by another one.

    A tool that no step names is carried, stowed and trained for nothing; more often it shows that a step is missing, or
    names something else. Prose pages don't count as use: accept the finding on a record that is meant for them alone.
    """
    used = _used(evidence)
    for kind, way_out in _ASKED.items():
        for name, record in evidence.library.of(kind).items():
            home = kind == "places" and record.home
            if (kind, name) not in used and not home:
                yield Trouble(
                    record.id.position,
                    f"Nothing uses the {KINDS[kind].singular} “{record.label_text}”: {way_out}, or take it out.",
                )


def _used(evidence: Evidence) -> set[tuple[str, str]]:
    """Kind and id of all that another record names."""
    used: set[tuple[str, str]] = set()
    for kind, record in evidence.library.every():
        named = {(SINGULAR.get(one, one), str(ref)) for ref in references_of(record) for one in ref.kinds}
        links = {(SINGULAR.get(one, one), str(ref)) for ref in text_links_of(record) for one in ref.kinds}
        # Equipment that is only talked about is not worked on.
        named |= {(kind, name) for kind, name in links if kind != "equipment"}
        # A task gets done by being in a flow, not by being another's prerequisite.
        named -= {("tasks", name) for _, name in named} if kind == "tasks" else set()
        if kind == "sorties":
            named |= {("tasks", ref.task) for ref in step_references_of(record)}
        used |= named - {(kind, str(record.id))}
    return used | _shown(evidence)


def _shown(evidence: Evidence) -> set[tuple[str, str]]:
    """What callouts point at."""
    shown = set()
    for figure in evidence.library.figures.values():
        for callout in figure.callouts.values():
            kind, colon, rest = callout.shows.partition(":")
            if colon and kind in SINGULAR and kind != "equipment":
                shown.add((SINGULAR[kind], rest.partition("#")[0]))
    return shown
