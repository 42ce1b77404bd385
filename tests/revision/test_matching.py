"""Steps are found again whatever they are called, and revisions say what is meant."""

from __future__ import annotations

import pytest

from briefgen.revision.comparison import Comparison
from briefgen.revision.revision_letters import following
from tests.revision.worlds import BASE, edited, lines, version

LOOK = "{who: ev1, do: Look below the cover., takes: 2 min, requires: {cover: open}}"


def test_a_numbered_step_that_gets_an_id_is_the_same_step() -> None:
    new = version(edited(BASE, [(LOOK, LOOK.replace("{who", "{id: look, who", 1))]))
    assert lines(Comparison(version(BASE), new)) == ["renamed task:lift#look (ev1) Id: step 3 → look"]


def test_two_ids_with_other_words_are_two_steps() -> None:
    new = version(
        edited(BASE, [("id: swing, who: ev1, do: Swing the cover open.", "id: pry, who: ev1, do: Pry it up.")])
    )
    told = lines(Comparison(version(BASE), new))
    assert {line.split(" ")[0].lstrip("!") for line in told if "#swing" in line} == {"gone"}
    assert {line.split(" ")[0].lstrip("!") for line in told if "#pry" in line} == {"new"}


def test_a_wait_for_a_step_by_its_number_stays_the_same_when_another_is_put_before_it() -> None:
    waiting = edited(BASE, [("after: [lift/shut]", "after: [lift/4]")])
    more = edited(
        waiting, [(LOOK, "{who: ev1, do: Count to ten., takes: 1 min}\n      - " + LOOK), ("lift/4", "lift/5")]
    )
    told = lines(Comparison(version(waiting), version(more)))
    assert [line for line in told if "Waits for" in line] == []
    stuck = edited(waiting, [(LOOK, "{who: ev1, do: Count to ten., takes: 1 min}\n      - " + LOOK)])
    told = lines(Comparison(version(waiting), version(stuck)))
    assert [line for line in told if "Waits for" in line] == [
        "changed task:return#on (ev2) Waits for: “Wipe the rim of the bay” (EV1) → “Look below the cover” (EV1)"
    ]


def test_a_sortie_that_changed_and_says_the_old_letter_is_stale() -> None:
    for letter, stale in (("A", True), ("B", False)):
        edits = [("open., takes: 4 min", "open., takes: 6 min"), ("revision: A", f"revision: {letter}")]
        [told] = Comparison(version(BASE), version(edited(BASE, edits))).letters
        assert (told.before, told.now, told.stale, told.write) == ("A", letter, stale, "revision: B" if stale else "")


@pytest.mark.parametrize(("letter", "after"), [("H", "J"), ("N", "P"), ("P", "R"), ("R", "T"), ("W", "Y"), ("Y", "AA")])
def test_letters_that_are_taken_for_others_are_left_out(letter: str, after: str) -> None:
    """ASME Y14.35, revision letters: I, O, Q, S, X and Z are not used, and AA follows Y (from memory)."""
    assert following(letter) == after
