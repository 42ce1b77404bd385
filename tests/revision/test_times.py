"""Planned times: what moves by a minute or more, and why, apart from what only follows from it."""

from __future__ import annotations

import pytest

from briefgen.revision.comparison import Comparison
from tests.revision.test_edits import COUNT, LOOK
from tests.revision.worlds import BASE, Edit, edited, times, version

EDITS: dict[str, tuple[list[Edit], list[str]]] = {
    "a longer step": (
        [("open., takes: 4 min", "open., takes: 6 min")],
        [
            "changed sortie:s (ev1 ev2 ground) Margin: 1 h 26 min → 1 h 24 min",
            "changed sortie:s (ev1 ev2 ground) Planned finish: 0:24:00 → 0:26:00 (2 min later)",
            "moved task:lift#3 (ev1) Because: “Swing the cover open” takes 2 min more",
            "moved task:lift#3 (ev1) From here on: 2 min later",
            "moved task:return#on (ev2) Because: EV1 ends “Swing the cover shut” 2 min later",
            "moved task:return#on (ev2) From here on: 2 min later",
            "moved task:return#see (ground) Because: EV2 ends “Push the switch up” 2 min later",
            "moved task:return#see (ground) From here on: 2 min later",
        ],
    ),
    "less than a minute": ([("open., takes: 4 min", "open., takes: 4 min 59 s")], []),
    "a step before a wait": ([("the driver., takes: 2 min", "the driver., takes: 1 min")], []),
    "a step that is gone": (
        [(LOOK, "")],
        [
            "changed sortie:s (ev1 ev2 ground) Margin: 1 h 26 min → 1 h 28 min",
            "changed sortie:s (ev1 ev2 ground) Planned finish: 0:24:00 → 0:22:00 (2 min earlier)",
            "moved task:lift#3 (ev1) Because: “Look below the cover” is gone",
            "moved task:lift#3 (ev1) From here on: 2 min earlier",
            "moved task:return#on (ev2) Because: EV1 ends “Swing the cover shut” 2 min earlier",
            "moved task:return#on (ev2) From here on: 2 min earlier",
            "moved task:return#see (ground) Because: EV2 ends “Push the switch up” 2 min earlier",
            "moved task:return#see (ground) From here on: 2 min earlier",
        ],
    ),
    "one longer, one shorter": (
        [("open., takes: 4 min", "open., takes: 6 min"), ("shut., takes: 3 min", "shut., takes: 1 min")],
        [
            "moved task:lift#3 (ev1) Because: “Swing the cover open” takes 2 min more",
            "moved task:lift#3 (ev1) From here on: 2 min later",
            "moved task:return#in (ev1) Because: “Swing the cover shut” takes 2 min less",
            "moved task:return#in (ev1) From here on: as before",
        ],
    ),
    "a wait that is no more": (
        [(LOOK, COUNT + LOOK), ("after: [isolate/read], ", "")],
        [
            "moved task:lift#4 (ev1) Because: “Count to ten aloud” is new here",
            "moved task:lift#4 (ev1) From here on: as before",
            "moved task:lift#swing (ev1) Because: no wait for Ground any more",
            "moved task:lift#swing (ev1) From here on: 1 min earlier",
        ],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", EDITS)
def test_an_edit_moves_these_times_for_these_reasons(name: str) -> None:
    edits, expected = EDITS[name]
    assert times(Comparison(version(BASE), version(edited(BASE, edits)))) == expected


def test_the_table_of_tasks_says_what_moved_and_leaves_out_what_did_not() -> None:
    after = version(edited(BASE, [("open., takes: 4 min", "open., takes: 6 min")]))
    rows = Comparison(version(BASE), after).task_times["s"]
    assert [(row.subject.id, [(one.what, one.before, one.after) for one in row.details]) for row in rows] == [
        ("lift", [("Ends", "0:16:00", "0:18:00 (2 min later)")]),
        ("return", [("Begins", "0:16:00", "0:18:00 (2 min later)"), ("Ends", "0:24:00", "0:26:00 (2 min later)")]),
    ]
