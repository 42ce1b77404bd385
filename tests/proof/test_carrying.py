"""What somebody carries at once: counted and weighed by hand, by items and by mass, hands and bags."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.laid_over import errors, found, sortie

PEOPLE = """
people:
  ev1: {label: EV1, post: outside, suit: suit-one, carries: CARRIES}
  ev2: {label: EV2, post: outside, suit: suit-two}
"""
BAG = "id: bag, who: ev1, do: Take the bag., takes: 1 min, picks: [bag-a]"
DRIVER = "id: driver, who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
BACK = "who: ev1, do: Put all back., takes: 1 min, leaves: {bag-a: lock, driver: lock}"


def carried(folder: Path, carries: str, *steps: str, people: str = "ev1") -> list[str]:
    text = sortie(*steps, people=people, more=PEOPLE.replace("CARRIES", carries))
    return [one.sentence for one in found(folder, text, "too-much-carried")]


@pytest.mark.parametrize(
    ("carries", "words"),
    [
        ("{items: 2}", None),
        ("{items: 1}", "carry 2 items (Driver, Bag A), and can carry 1"),
        # By hand: bag 1.5 kg, pouch in it 0.2 kg, socket in that 0.1 kg, driver 2.4 kg; the clips have no mass.
        ("{mass: 4.2 kg}", None),
        ("{mass: 4.1 kg}", "carry 4.2 kg, and can carry 4.1 kg"),
    ],
)
def test_items_and_mass_are_counted_with_all_that_is_in_a_bag(carries: str, words: str | None, tmp_path: Path) -> None:
    sentences = carried(tmp_path, carries, BAG, DRIVER, BACK)
    assert len(sentences) == (words is not None)
    assert all(words in one for one in sentences if words)


def test_what_is_put_into_the_bag_is_no_item_of_its_own(tmp_path: Path) -> None:
    stow = "who: ev1, do: Stow it., takes: 1 min, leaves: {driver: bag-a}"
    out = "who: ev1, do: Take it out., takes: 1 min, picks: [driver]"
    pouch = "who: ev1, do: Take the pouch out., takes: 1 min, picks: [pouch]"
    steps = (BAG, DRIVER, stow, pouch, out, BACK.replace("driver: lock", "driver: lock, pouch: lock"))
    assert [one.split(" ")[1] for one in carried(tmp_path, "{items: 2}", *steps)] == ["“Take"]


def test_what_is_handed_over_counts(tmp_path: Path) -> None:
    give = "who: [ev2, ev1], do: Hand it over., takes: 1 min, hands: {driver: ev1}"
    steps = (BAG, DRIVER.replace("ev1", "ev2"), give, BACK)
    (sentence,) = carried(tmp_path, "{items: 1}", *steps, people="ev1 ev2")
    assert "“Hand it over” (EV2 and EV1, work/3) EV1 comes to carry 2 items" in sentence


def test_putting_down_in_a_step_before_settles_it(tmp_path: Path) -> None:
    text = sortie(BAG, DRIVER, BACK, more=PEOPLE.replace("CARRIES", "{items: 1}"))
    (finding,) = found(tmp_path / "wrong", text, "too-much-carried")
    again = BACK.replace("bag-a: lock, ", "")
    settled = sortie(BAG, finding.write[3:-1], DRIVER, again, more=PEOPLE.replace("CARRIES", "{items: 1}"))
    assert errors(tmp_path / "right", settled) == []


@pytest.mark.parametrize("carries", ["{items: 0}", "{mass: 0 kg}", "{items: 2.5}", "4", "{mass: 3}"])
def test_bad_input_is_a_finding(carries: str, tmp_path: Path) -> None:
    text = sortie(BAG, DRIVER, BACK, more=PEOPLE.replace("CARRIES", carries))
    assert errors(tmp_path, text) == ["wrong-value"]
