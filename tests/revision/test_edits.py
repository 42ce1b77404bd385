"""A known edit gives exactly the expected differences, and no other.

`!` marks what touches a control, a hazard, a tether or a limit; in parentheses stand those whom it concerns. What a
change of a procedure must say (what, where, for whom, old and new) is common practice, no source.
"""

from __future__ import annotations

import pytest

from briefgen.revision.comparison import Comparison
from tests.revision.worlds import BASE, Edit, edited, lines, version

LOOK = "      - {who: ev1, do: Look below the cover., takes: 2 min, requires: {cover: open}}\n"
WIPE = "      - {who: ev1, do: Wipe the rim of the bay., takes: 1 min}\n"
COUNT = "      - {who: ev1, do: Count to ten aloud., takes: 1 min}\n"
EXTRA = """  wipe:
    title: Wipe it
    purpose: For looks.
    place: k2
    steps: [{who: ev1, do: Wipe it., takes: 1 min}]
  return:
    title"""

EDITS: dict[str, tuple[list[Edit], list[str]]] = {
    "nothing": ([], []),
    "a longer duration": (
        [("open., takes: 4 min", "open., takes: 4/6/9 min")],
        ["changed task:lift#swing (ev1) Takes: 4 min → 4/6/9 min"],
    ),
    "the same duration in other words": ([("takes: 5 min", "takes: 300 s")], []),
    "other words": (
        [("Swing the cover shut.", "Swing the cover shut until it clicks.")],
        ["changed task:lift#shut (ev1) Instruction: Swing the cover shut. → Swing the cover shut until it clicks."],
    ),
    "words that break elsewhere": ([("do: Swing the cover shut.", "do: Swing the  cover shut.")], []),
    "words of a numbered step": (
        [("Look below the cover.", "Look well below the cover.")],
        ["changed task:lift#3 (ev1) Instruction: Look below the cover. → Look well below the cover."],
    ),
    "a step before numbered ones": (
        [(LOOK, COUNT + LOOK)],
        [
            "new task:lift#3 (ev1) Place in the task: after “Swing the cover open”",
            "new task:lift#3 (ev1) Takes: 1 min",
            "new task:lift#3 (ev1) Where: K2",
            "new task:lift#3 (ev1) Who: EV1",
        ],
    ),
    "a numbered step less": (
        [(LOOK, "")],
        [
            "gone task:lift#3 (ev1) Needs: Cover open",
            "gone task:lift#3 (ev1) Place in the task: after “Swing the cover open”",
            "gone task:lift#3 (ev1) Takes: 2 min",
            "gone task:lift#3 (ev1) Where: K2",
            "gone task:lift#3 (ev1) Who: EV1",
        ],
    ),
    "two steps swapped": (
        [(WIPE, ""), (LOOK, WIPE + LOOK)],
        ["moved task:lift#3 (ev1) Place in the task: after “Look below the cover” → after “Swing the cover open”"],
    ),
    "a step by another id": ([("id: swing", "id: open-it")], ["renamed task:lift#open-it (ev1) Id: swing → open-it"]),
    "a task by another id": (
        [("  lift:\n", "  raise:\n"), ("[lift/shut]", "[raise/shut]"), ("ev1: [lift,", "ev1: [raise,")],
        ["renamed task:raise (ev1) Id: lift → raise"],
    ),
    "a tool by another id": ([("  clips: {", "  pegs: {")], ["renamed tool:pegs () Id: clips → pegs"]),
    "a place by another id": (
        [
            ("  k3: {name", "  k4: {name"), ("[k2, k3]", "[k2, k4]"), ("[k3, far]", "[k4, far]"),
            ("    place: k3", "    place: k4"),
        ],
        ["renamed place:k4 () Id: k3 → k4"],
    ),
    "a tool by another name": ([("{name: Clips", "{name: Pegs")], ["changed tool:clips () Name: Clips → Pegs"]),
    "a person more": (
        [("who: ground, do: Confirm that the feed is live.", "who: [ground, desk], do: Confirm that the feed is live."),
         ("ground: [isolate, return]}", "ground: [isolate, return], desk: [return]}")],
        [
            "!changed equipment:feed (ev2 ground desk) “on” confirmed by: Ground → Desk and Ground",
            "changed task:return#see (ground desk) Who: Ground → Ground and Desk",
        ],
    ),
    "another place": (
        [("id: shut, who: ev1,", "id: shut, who: ev1, at: k3,")],
        ["changed task:lift#shut (ev1) Where: K2 → K3"],
    ),
    "the same place, said": ([("id: shut, who: ev1,", "id: shut, who: ev1, at: k2,")], []),
    "a required state": (
        [("bay., takes: 1 min", "bay., takes: 1 min, requires: {cover: open}")],
        ["changed task:lift#4 (ev1) Needs: none → Cover open"],
    ),
    "a control required": (
        [("sets: {cover: shut}", "sets: {cover: shut}, requires: {feed: off}")],
        ["!changed task:lift#shut (ev1) Needs: none → Feed off"],
    ),
    "a confirmation more": (
        [("bay., takes: 1 min", "bay., takes: 1 min, verifies: {feed: off}")],
        [
            "!changed equipment:feed (ev1 ground ev2) “off” confirmed by: Ground → EV1 and Ground",
            "!changed task:lift#4 (ev1) Verifies: none → Feed off",
        ],
    ),
    "a hazard less": (
        [("\n         hazards: [shock],", "\n        ")],
        ["!changed task:lift#swing (ev1) Hazards: shock → none"],
    ),
    "the words of a hazard": (
        [("Touch it only when the feed is off.", "Touch it only when Ground says so.")],
        [
            "!changed hazard:shock (ev1) Stay clear by: Touch it only when the feed is off. → "
            "Touch it only when Ground says so."
        ],
    ),
    "a wait less": (
        [(", requires: {feed: off}, after: [isolate/read]", ", requires: {feed: off}")],
        ["!changed task:lift#swing (ev1) Waits for: “Confirm that the feed reads dead” (Ground) → none"],
    ),
    "a wait for another step": (
        [("after: [lift/shut]", "after: [lift/swing]")],
        ["changed task:return#on (ev2) Waits for: “Swing the cover shut” (EV1) → “Swing the cover open” (EV1)"],
    ),
    "another bag": (
        [("Socket, stowed: pouch", "Socket, stowed: bag-a")],
        [
            "changed tool:socket () In the end: in Pouch → in Bag A",
            "changed tool:socket () Stowed: Pouch → Bag A",
        ],
    ),
    "left in a bag": (
        [("bag-a: lock, driver: lock", "bag-a: lock, driver: bag-a")],
        [
            "changed task:return#in (ev1 ev2) Leave: Bag A at the lock, Driver at the lock → "
            "Bag A at the lock, Driver in Bag A",
            "changed tool:driver (ev1 ev2) In the end: at the lock → in Bag A",
        ],
    ),
    "a tether": (
        [("id: swing, who: ev1,", "id: swing, who: ev1, anchors: k1,")],
        ["!changed task:lift#swing (ev1) Tether to: none → K1"],
    ),
    "a place kept free": (
        [("id: swing, who: ev1,", "id: swing, who: ev1, keeps_out: [k1],")],
        ["!changed task:lift#swing (ev1) Keeps free: none → K1"],
    ),
    "what holds somebody": (
        [("restraint: foot plate", "restraint: hand rail")],
        ["changed task:lift#swing (ev1) Held by: foot plate → hand rail"],
    ),
    "into something that holds": (
        [("id: swing, who: ev1,", "id: swing, who: ev1, enters: foot plate,")],
        ["changed task:lift#swing (ev1) Gets into: none → foot plate"],
    ),
    "what somebody can carry": (
        [("{label: EV1,", "{label: EV1, carries: {items: 4},")],
        ["changed person:ev1 (ev1) Carries, items: none → 4 items"],
    ),
    "a call": (
        [("up., takes: 2 min", "up., takes: 2 min, calls: [{to: ground, say: Power.}]")],
        ["changed task:return#on (ev2) Says: none → to Ground: “Power.”"],
    ),
    "by feel": (
        [("bay., takes: 1 min", "bay., takes: 1 min, sight: by feel")],
        ["changed task:lift#4 (ev1) Sight: clear → by feel"],
    ),
    "a limit": (
        [("tether: 30 m", "tether: 26 m")],
        ["!changed sortie:s (ev1 ev2 ground) Limits, tether reach: 30 m → 26 m"],
    ),
    "the flow": (
        [("ground: [isolate, return]}", "ground: [isolate]}")],
        [
            "!changed equipment:feed (ev2 ground) “on” confirmed by: Ground → nobody",
            "gone task:return#see (ground) Place in the way: after “Confirm that the feed reads dead”",
        ],
    ),
    "the revision alone": ([("revision: A", "revision: B")], []),
    "a supply": (
        [("per_hour: 4 Ah}\n  suit-two", "per_hour: 5 Ah}\n  suit-two")],
        ["!changed suit:suit-one (ev1) Supplies, battery, per hour: 4 Ah → 5 Ah"],
    ),
    "a way": (
        [("[k1, k2], length: 3 m", "[k1, k2], length: 4 m")],
        ["changed route:k1-k2 (ev1) Length: 3 m → 4 m"],
    ),
    "the same way in another unit": ([("[k1, k2], length: 3 m", "[k1, k2], length: 300 cm")], []),
    "how equipment begins": (
        [("states: [shut, open], starts: shut", "states: [shut, open], starts: open")],
        ["changed equipment:cover (ev1) Begins: shut → open"],
    ),
    "an answer": ([("correct: 2", "correct: 1")], ["changed question:who-confirms () Right answer: 2 → 1"]),
    "the words of a figure": (
        [("The bay from the front.", "The bay from below.")],
        ["changed figure:front () Description: The bay from the front. → The bay from below."],
    ),
    "a task more": (
        [("  return:\n    title", EXTRA), ("ev1: [lift, return]", "ev1: [lift, wipe, return]")],
        ["new task:wipe (ev1) Steps: 1 step"],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", EDITS)
def test_an_edit_gives_its_differences_and_no_other(name: str) -> None:
    edits, expected = EDITS[name]
    assert lines(Comparison(version(BASE), version(edited(BASE, edits)))) == expected


def test_another_picture_of_the_same_name_is_told_by_its_digest() -> None:
    comparison = Comparison(version(BASE), version(BASE, picture="<svg id='anew'/>"))
    assert lines(comparison) == ["changed figure:front () Picture: drawn anew"]


def test_safety_comes_first() -> None:
    edits = [
        ("open., takes: 4 min", "open., takes: 5 min"),
        ("tether: 30 m", "tether: 26 m"),
        ("correct: 2", "correct: 1"),
    ]
    changes = Comparison(version(BASE), version(edited(BASE, edits))).changes
    assert [change.safety for change in changes] == sorted((change.safety for change in changes), reverse=True)
    assert changes[0].subject.reference == "sortie:s"


def test_a_whole_task_done_at_another_time_is_one_line() -> None:
    two = EXTRA.replace("steps: [", "steps: [{who: ev1, do: Look at it., takes: 1 min}, ")
    more = edited(BASE, [("  return:\n    title", two), ("ev1: [lift, return]", "ev1: [lift, wipe, return]")])
    before = version(more)
    after = version(more.replace("ev1: [lift, wipe, return]", "ev1: [wipe, lift, return]"))
    assert lines(Comparison(before, after)) == [
        "moved task:wipe (ev1) Place in the way: after “Swing the cover shut” → first",
        "moved task:wipe (ev1) Steps together: 2 steps",
    ]
