"""Questions that a revision changes: asked or answered otherwise, or new; never by another number or wrong answer."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from briefgen.build import examine
from briefgen.practice.changed import Asked, differing, fingerprint
from briefgen.practice.question import Choose, Exercise, Number, Sequence
from briefgen.practice.sheet import questions
from tests.demo import CONTENT, demo

WHO = Exercise(
    id="a:1", kind="a", asks="Who?", answer=Choose(("EV1",), ("EV2", "IV")), because="So.", look=None, people=("ev1",)
)
OTHER = replace(WHO, asks="Which order?", answer=Sequence(("one", "two", "three")))
LONG = replace(WHO, asks="How long?", answer=Number(60.0, 60.0, {"min": 60.0}, "1 min"))


@pytest.mark.parametrize(
    ("before", "now", "how"),
    [
        (WHO, WHO, None),
        (WHO, replace(WHO, id="a:2"), None),
        (WHO, replace(WHO, answer=Choose(("EV1",), ("GND",))), None),
        (WHO, replace(WHO, because="Otherwise.", people=("ev2",)), None),
        (WHO, replace(WHO, answer=Choose(("EV2",), ("EV1", "IV"))), Asked.CHANGED),
        (WHO, replace(WHO, answer=Choose(("EV1", "EV2"), ("IV",))), Asked.CHANGED),
        (WHO, replace(WHO, id="a:2", answer=Choose(("EV2",), ("EV1", "IV"))), Asked.CHANGED),
        (WHO, replace(WHO, asks="Who else?"), Asked.CHANGED),
        (WHO, replace(WHO, id="a:2", asks="Who else?"), Asked.NEW),
        (OTHER, replace(OTHER, answer=Sequence(("two", "one", "three"))), Asked.CHANGED),
        (OTHER, replace(OTHER, id="a:2", answer=Sequence(("one", "two", "four"))), Asked.NEW),
        (LONG, replace(LONG, answer=Number(60.0, 90.0, {"min": 60.0}, "1 min")), Asked.CHANGED),
        (LONG, replace(LONG, answer=Number(60.0, 60.0, {"s": 1.0}, "60 s")), None),
    ],
)
def test_how_a_question_differs(before: Exercise, now: Exercise, how: Asked | None) -> None:
    assert differing({"a": (now,)}, {"a": (before,)}) == ({now.id: how} if how else {})
    # What was kept in a browser of the question before counts for the one now where it is the same, and only there.
    assert (fingerprint(now) == fingerprint(before)) == (how is None)


def test_a_question_of_a_kind_that_was_not_asked_is_new() -> None:
    assert differing({"a": (WHO,)}, {}) == {"a:1": Asked.NEW}


def test_another_duration_changes_the_question_about_it_and_no_other_of_its_kind(tmp_path: Path) -> None:
    before = questions(demo().evidence.sorties["sortie-1"])
    asked = next(one for one in before["durations"] if one.id == "durations:leave-airlock/check-partner")
    assert isinstance(asked.answer, Number)
    shutil.copytree(CONTENT, tmp_path / "content")
    file = tmp_path / "content" / "tasks" / "leave-airlock.yaml"
    words = file.read_text("utf-8")
    assert "5/6/7 min" in words
    file.write_text(words.replace("5/6/7 min", "5/6/8 min", 1), "utf-8")
    found = differing(questions(examine(tmp_path / "content").evidence.sorties["sortie-1"]), before)
    assert {name for name in found if name.startswith("durations")} == {asked.id}
    assert found[asked.id] is Asked.CHANGED
    assert differing(before, before) == {}
