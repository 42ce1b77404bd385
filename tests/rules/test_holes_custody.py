"""Custody that looks right and is not: who has it already, bags in each other, and things nobody can reach."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.laid_over import errors, found, sortie

TAKE = "who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
BACK = "who: ev1, do: Put it back., takes: 1 min, leaves: {driver: lock}"
IN = "who: ev1, do: Go in., takes: 1 min"


def test_nobody_hands_over_what_the_other_has_already(tmp_path: Path) -> None:
    give = "who: [ev1, ev2], do: Hand it over., takes: 1 min, hands: {driver: ev1}"
    (finding,) = found(tmp_path, sortie(TAKE, give, BACK, people="ev1 ev2"), "not-held")
    assert finding.sentence.endswith("hands Driver to EV1, who has it already.")


def test_two_bags_are_not_left_in_each_other(tmp_path: Path) -> None:
    take = "who: ev1, do: Take both., takes: 1 min, picks: [bag-a, pouch]"
    leave = "who: ev1, do: Leave both., takes: 1 min, leaves: {pouch: bag-a, bag-a: pouch}"
    more = "bags: {bag-a: {name: Bag A, stowed: lock, ends: [pouch]}}"
    (finding,) = found(tmp_path, sortie(take, leave, more=more), "bag-in-itself")
    assert "leaves Bag A in Pouch in Bag A" in finding.sentence


def test_a_bag_within_a_carried_bag_moves_along(tmp_path: Path) -> None:
    take = "who: ev1, do: Take the bag., takes: 1 min, picks: [bag-a]"
    use = "who: ev1, at: k2, do: Turn it., takes: 1 min, with: [socket]"
    leave = "who: ev1, do: Put it back., takes: 1 min, leaves: {bag-a: lock}"
    assert errors(tmp_path / "right", sortie(take, use, leave)) == []
    left_first = (take, leave, use, IN)
    assert errors(tmp_path / "wrong", sortie(*left_first)) == ["not-in-hand"]


@pytest.mark.parametrize(
    ("steps", "rules"),
    [
        # A bag in the hands of somebody else is not there to be filled, used from or picked from.
        (("who: ev2, do: Take the bag., takes: 1 min, picks: [bag-a]",
          "who: ev1, do: Stow it., takes: 1 min, picks: [driver], leaves: {driver: bag-a}, after: [work/1]",
          "who: ev2, do: Put it back., takes: 1 min, leaves: {bag-a: lock}, after: [work/2]"), {"bag-not-there"}),
        (("who: ev2, do: Take the bag., takes: 1 min, picks: [bag-a]",
          "who: ev1, do: Turn it., takes: 1 min, with: [socket], after: [work/1]",
          "who: ev2, do: Put it back., takes: 1 min, leaves: {bag-a: lock}, after: [work/2]"), {"not-in-hand"}),
        (("who: ev2, do: Take the bag., takes: 1 min, picks: [bag-a]",
          "who: ev1, do: Take the pouch., takes: 1 min, picks: [pouch], after: [work/1]",
          "who: ev1, do: Put it down., takes: 1 min, leaves: {pouch: lock}",
          "who: ev2, do: Put it back., takes: 1 min, leaves: {bag-a: lock}, after: [work/3]"), {"not-there-to-take"}),
        # Together, one may reach into the other's bag.
        (("who: ev2, do: Take the bag., takes: 1 min, picks: [bag-a]",
          "who: [ev1, ev2], do: Turn it., takes: 1 min, with: [socket]",
          "who: ev2, do: Put it back., takes: 1 min, leaves: {bag-a: lock}"), set()),
        # In a joint step the first outside picks; the tool is then not in the other's hands.
        (("who: [ev1, ev2], do: Take the driver., takes: 1 min, picks: [driver]",
          "who: ev2, do: Turn it., takes: 1 min, with: [driver]",
          "who: ev1, do: Put it back., takes: 1 min, leaves: {driver: lock}, after: [work/2]"), {"not-in-hand"}),
    ],
)  # fmt: skip
def test_a_bag_is_at_hand_only_for_who_is_with_it(steps: tuple[str, ...], rules: set[str], tmp_path: Path) -> None:
    assert set(errors(tmp_path, sortie(*steps, people="ev1 ev2"))) == rules


@pytest.mark.parametrize(
    "step",
    [
        "who: desk, do: Take the driver., takes: 1 min, picks: [driver]",
        "who: ground, do: Turn it., takes: 1 min, with: [driver]",
        "who: ground, do: Fix it., takes: 1 min, spends: {clips: 1}",
        "who: desk, do: Put it back., takes: 1 min, leaves: {driver: lock}",
    ],
)
def test_people_inside_and_on_the_ground_have_no_hands_outside(step: str, tmp_path: Path) -> None:
    assert errors(tmp_path, sortie(IN, step, people="ev1 desk ground")) != []


def test_what_each_item_takes_is_counted_for_every_item(tmp_path: Path) -> None:
    each = "who: ev1, do: Clip it., takes: 1 min, each: {equipment: plates, where: WHERE}, spends: {clips: 2}"
    assert errors(tmp_path / "six", sortie(each.replace("WHERE", "{rack: [1], plate: [a]}"))) == []
    assert errors(tmp_path / "eight", sortie(each.replace(", where: WHERE", ""))) == ["count-short"]
