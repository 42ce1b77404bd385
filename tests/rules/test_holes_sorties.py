"""What one sortie leaves out there for the next is not forgotten there."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.laid_over import errors, found
from tests.rules.two_sorties import two_sorties

TAKE = "who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
OUT = "who: ev1, at: k1, do: Leave it., takes: 1 min, leaves: {driver: k1}"
FETCH = "who: ev1, at: k1, do: Take it again., takes: 1 min, picks: [driver]"
BACK = "who: ev1, do: Put it back., takes: 1 min, leaves: {driver: lock}"
IN = "who: ev1, do: Go in., takes: 2 min"
OPEN = "who: ev1, at: k2, do: Open it., takes: 1 min, sets: {cover: open}"
SHUT = "who: ev1, at: k2, do: Shut it., takes: 1 min, sets: {cover: shut}"
LOOK_IN = "who: ev1, at: k2, do: Look in., takes: 1 min, requires: {cover: open}"


@pytest.mark.parametrize(
    ("second", "rules"),
    [
        ((IN,), ["left-outside"]),
        ((FETCH, OUT, IN), ["left-outside"]),
        ((FETCH, BACK), []),
    ],
)
def test_a_tool_left_out_for_the_next_sortie_is_brought_in_by_it(
    second: tuple[str, ...], rules: list[str], tmp_path: Path
) -> None:
    assert errors(tmp_path, two_sorties((TAKE, OUT, IN), second, over="driver: k1")) == rules


@pytest.mark.parametrize(("second", "rules"), [((IN,), ["ends-wrong"]), ((SHUT, IN), [])])
def test_a_state_left_for_the_next_sortie_is_restored_by_it(
    second: tuple[str, ...], rules: list[str], tmp_path: Path
) -> None:
    assert errors(tmp_path, two_sorties((OPEN, IN), second, over="cover: open")) == rules


def test_who_brings_it_in_must_not_be_optional(tmp_path: Path) -> None:
    tool = two_sorties((TAKE, OUT, IN), (FETCH, BACK), over="driver: k1", optional="two")
    (finding,) = found(tmp_path / "tool", tool, "left-outside")
    assert "no step brings it back when “Two” is left out" in finding.sentence
    state = two_sorties((OPEN, IN), (SHUT, IN), over="cover: open", optional="two")
    (finding,) = found(tmp_path / "state", state, "ends-wrong")
    assert "no step changes that when “Two” is left out" in finding.sentence


@pytest.mark.parametrize(
    ("rule", "first", "over"),
    [("left-outside", (TAKE, OUT, IN), "driver: k1"), ("ends-wrong", (OPEN, IN), "cover: open")],
)
def test_what_is_left_for_later_once_more_is_said_once_more(
    rule: str, first: tuple[str, ...], over: str, tmp_path: Path
) -> None:
    (finding,) = found(tmp_path / "wrong", two_sorties(first, (IN,), over=over), rule)
    assert finding.write == f"carries_over: {{{over}}}"
    assert errors(tmp_path / "right", two_sorties(first, (IN,), over=over, over_again=over)) == []


def test_what_was_forgotten_in_one_sortie_is_told_there_and_not_again(tmp_path: Path) -> None:
    assert errors(tmp_path / "tool", two_sorties((TAKE, OUT, IN), (IN,))) == ["left-outside"]
    assert errors(tmp_path / "state", two_sorties((OPEN, IN), (IN,))) == ["ends-wrong"]


def test_a_bag_that_stays_out_is_told_once_with_all_that_lies_in_it(tmp_path: Path) -> None:
    into = "who: ev1, do: Stow it., takes: 1 min, leaves: {driver: bag-a}"
    take_bag = "who: ev1, do: Take the bag., takes: 1 min, picks: [bag-a]"
    hang = "who: ev1, at: k1, do: Hang the bag up., takes: 1 min, leaves: {bag-a: k1}"
    example = two_sorties((TAKE, into, take_bag, hang, IN), (IN,), over="bag-a: k1, driver: bag-a")
    (finding,) = found(tmp_path, example, "left-outside")
    assert "Bag A is at K1 when “T” begins" in finding.sentence


@pytest.mark.parametrize(
    ("first", "second", "over", "needs", "words"),
    [
        ((OPEN, IN), (LOOK_IN, SHUT, IN), "cover: open", "",
         "“Look in” (EV1, two/1) needs Cover “open”, but it would be “shut”"),
        ((TAKE, OUT, IN), (FETCH, BACK), "driver: k1", "",
         "“Take it again” (EV1, two/1) needs Driver, but that would be at the lock"),
        ((IN,), (IN,), "", "one", "“Two” needs it first"),
    ],
)  # fmt: skip
def test_a_sortie_that_relies_on_what_an_earlier_one_may_leave_out_is_told(
    first: tuple[str, ...], second: tuple[str, ...], over: str, needs: str, words: str, tmp_path: Path
) -> None:
    example = two_sorties(first, second, over=over, needs=needs, optional="one")
    (finding,) = found(tmp_path / "wrong", example, "rests-on-optional")
    assert words in finding.sentence
    required = two_sorties(first, second, over=over, needs=needs)
    assert found(tmp_path / "right", required, "rests-on-optional") == []


def test_a_sortie_that_fits_both_worlds_rests_on_nothing(tmp_path: Path) -> None:
    example = two_sorties((OPEN, IN), (SHUT, IN), over="cover: open", optional="one")
    assert found(tmp_path, example, "rests-on-optional") == []


NEVER = "equipment: {lamp: {name: Lamp, states: [dark, lit], starts: dark, ends: lit}}\n"
LIT = "who: ev1, do: Light it., takes: 1 min, sets: {lamp: lit}"


def test_what_no_sortie_has_changed_owes_nothing_until_the_last_and_is_told_there_once(tmp_path: Path) -> None:
    (finding,) = found(tmp_path / "never", two_sorties((IN,), (IN,), more=NEVER), "ends-wrong")
    assert "Lamp is “dark” when “T” begins, and no step changes that" in finding.sentence
    for number, steps in enumerate([((LIT, IN), (IN,)), ((IN,), (LIT, IN))]):
        assert errors(tmp_path / str(number), two_sorties(*steps, more=NEVER)) == []


def test_what_a_sortie_in_particular_must_leave_is_asked_of_it_alone(tmp_path: Path) -> None:
    def ends(first: tuple[str, ...], second: tuple[str, ...], state: str = "open") -> str:
        return two_sorties(first, second).replace("{title: S,", f"{{title: S, ends: {{cover: {state}}},")

    assert errors(tmp_path / "left", ends((OPEN, IN), (SHUT, IN))) == []
    assert errors(tmp_path / "untouched", ends((IN,), (IN,))) == ["ends-wrong"]
    assert errors(tmp_path / "list", ends((IN,), (IN,), "[open, shut]")) == []
    assert errors(tmp_path / "else", ends((OPEN, SHUT, IN), (IN,))) == ["ends-wrong"]


@pytest.mark.parametrize(
    ("ends", "rule"),
    [("{cover: ajar}", "unknown-state"), ("{lid: open}", "unknown-reference"), ("{cover: []}", "wrong-value"),
     ("cover", "wrong-value")],
)  # fmt: skip
def test_ends_that_make_no_sense_are_told(ends: str, rule: str, tmp_path: Path) -> None:
    text = two_sorties((IN,), (IN,)).replace("{title: S,", f"{{title: S, ends: {ends},")
    assert rule in errors(tmp_path, text)
