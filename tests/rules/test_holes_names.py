"""Words that stand for two things, or twice for one: a plan must not lose a step by them."""

from __future__ import annotations

from pathlib import Path

from tests.rules.laid_over import errors, examined, found, sortie

OPEN = "id: turn, who: ev1, do: Open the cover., takes: 2 min, sets: {cover: open}"
SHUT = "id: turn, who: ev1, do: Shut the cover., takes: 2 min, sets: {cover: shut}"


def test_a_second_step_of_the_same_id_is_no_silent_loss(tmp_path: Path) -> None:
    assert errors(tmp_path, sortie(SHUT, OPEN)) == ["step-named-twice"]


def test_the_line_to_write_gives_the_second_step_an_id_of_its_own(tmp_path: Path) -> None:
    (finding,) = found(tmp_path, sortie(OPEN, SHUT), "step-named-twice")
    mended = sortie(OPEN, SHUT.replace("id: turn", finding.write))
    assert errors(tmp_path / "mended", mended) == []


def test_a_place_and_a_bag_of_one_id_are_told_apart_before_anything_is_left_there(tmp_path: Path) -> None:
    take = "who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
    leave = "who: ev1, at: k1, do: Leave it., takes: 1 min, leaves: {driver: k1}"
    examination = examined(tmp_path, sortie(take, leave, more="bags: {k1: {stowed: lock}}"))
    assert [finding.rule for finding in examination.findings if finding.rule == "shared-id"] == ["shared-id"]
    assert not examination.proved


def test_equipment_may_bear_the_name_of_its_place(tmp_path: Path) -> None:
    more = "equipment: {k2: {name: K2, place: k2, states: [clean, dusty], starts: clean}}"
    assert found(tmp_path, sortie("who: ev1, do: Look., takes: 2 min", more=more), "shared-id") == []


def test_a_kind_written_in_the_plural_leads_nowhere_in_a_field_too(tmp_path: Path) -> None:
    more = """
outcomes: {o: {audience: [ev1], does: looks, condition: outside, standard: at once}}
questions: {q: {outcome: o, asks: Who?, answers: [EV1, EV2], correct: 1, because: So., look: tools:driver}}
figures: {front: {file: front.svg, alt: The front., callouts: {a: {at: [10 %, 20 %], shows: places:lock}}}}
"""
    content = sortie("who: ev1, do: Look., takes: 2 min", more=more)
    (look,) = found(tmp_path, content, "unknown-reference")
    assert look.sentence == "“tools” is no kind of record. Did you mean “tool”?"
    (shown,) = found(tmp_path / "again", content, "broken-callout")
    assert shown.sentence == "“places” is no kind of record. Did you mean “place”?"
