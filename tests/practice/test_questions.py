"""What is asked is so, whatever the durations turn out to be, and no wrong answer is true: judged without the proof."""

from __future__ import annotations

import itertools
import subprocess
import sys
import textwrap
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import briefgen.practice.kinds
from briefgen.model.library import SINGULAR
from briefgen.practice.arranging import MOST_ANSWERS, Arranged, arrange
from briefgen.practice.boxes import DAYS, next_box
from briefgen.practice.question import Choose, Exercise, Number, Sequence
from briefgen.practice.registry import kinds
from briefgen.practice.sheet import MOST_OF_A_KIND, MOST_ON_A_TEST, paper_test, questions, sheet
from briefgen.proof.evidence import Evidence, SortieEvidence
from tests.demo import demo
from tests.practice.judge import Judge, one_execution
from tests.proof.executions import states_of
from tests.proof.plans import library_of, random_content

SORTIES = list(demo().evidence.sorties.values())
SHARES, SHARE = 4, 60
each_sortie = pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))


def asked(proved: SortieEvidence) -> Iterator[Exercise]:
    yield from itertools.chain.from_iterable(questions(proved).values())


def sheets() -> Iterator[tuple[SortieEvidence, str, tuple[Arranged, ...]]]:
    for proved in SORTIES:
        every = questions(proved)
        for person in proved.plan.flows:
            yield proved, person, sheet(proved, person, every)


@each_sortie
def test_the_demos_questions_say_what_is_so(proved: SortieEvidence) -> None:
    judge = Judge(proved, one_execution(proved.plan))
    # Of one execution only what must be over can be judged; what need not be is judged on small plans below.
    lies = [lie for one in asked(proved) if one.kind != "holds" for lie in judge.lies(one)]
    assert lies == []
    for one in asked(proved):
        if one.kind == "holds":
            _, held, first = one.id.split(":")
            assert judge.over_whenever_begun(judge.step(first).index, judge.step(held).index)


@pytest.mark.parametrize("share", range(SHARES))
def test_no_question_about_a_random_plan_contradicts_any_execution_of_it(share: int) -> None:
    seen: Counter[str] = Counter()
    for seed in range(share * SHARE, (share + 1) * SHARE):
        for proved in Evidence(library_of(with_words(random_content(seed)))).sorties.values():
            if proved.plan.circle or (proved.before and proved.before.plan.circle):
                continue
            judge = Judge(proved, list(states_of(proved.plan)))
            for one in asked(proved):
                seen[one.kind] += 1
                assert list(judge.lies(one)) == [], (seed, one)
    assert all(seen[kind] > 5 for kind in ("order", "holds", "origins", "controls")), seen


def with_words(content: dict[str, Any]) -> dict[str, Any]:
    """The plan with an instruction of its own for each step, and a hazard for all that a step requires."""
    hazards = content.setdefault("hazards", {})
    for name, task in content["tasks"].items():
        for number, step in enumerate(task["steps"]):
            step["do"] = f"Work on {name} {number}."
            if step.get("requires"):
                hazards[f"{name}-{number}"] = {
                    "signal": "warning", "hazard": f"Hazard {name} {number}.", "consequence": "It hurts.",
                    "avoid": "Keep off.", "controls": dict(step["requires"]),
                }  # fmt: skip
                step["hazards"] = [f"{name}-{number}"]
    return content


@each_sortie
def test_a_duration_is_that_of_the_timeline(proved: SortieEvidence) -> None:
    made = questions(proved)["durations"]
    for one in made:
        assert isinstance(one.answer, Number)
        times = proved.timeline.times[proved.plan.step(one.id.partition(":")[2]).index]  # type: ignore[union-attr]
        assert one.answer.low <= times.end - times.start <= one.answer.high
    assert len(made) > 10


@each_sortie
def test_every_question_is_asked_of_somebody_and_leads_to_where_it_is_read_up(proved: SortieEvidence) -> None:
    for one in asked(proved):
        assert one.people, one
        assert set(one.people) <= set(proved.library.people), one
        record = proved.library.find(SINGULAR[one.look.kind], one.look.id) if one.look else "the author named none"
        assert record is not None, one
    ids = [one.id for one in asked(proved)]
    assert len(set(ids)) == len(ids)


@each_sortie
def test_no_two_questions_read_alike_and_have_different_answers(proved: SortieEvidence) -> None:
    texts: dict[tuple[str, ...], set[object]] = {}
    for one in asked(proved):
        items = sorted(one.answer.items) if isinstance(one.answer, Sequence) else []
        texts.setdefault((one.asks, *items), set()).add(repr(one.answer))
    assert all(len(answers) == 1 for answers in texts.values())


def test_everybody_outside_is_asked_about_order_origins_holds_confirmations_and_numbers() -> None:
    for proved, person, made in sheets():
        if person in proved.plan.outside:
            kinds_asked = {one.question.kind for one in made}
            assert kinds_asked >= set(kinds()), person


def test_of_many_alike_only_some_are_asked_and_the_authors_own_all() -> None:
    for proved, person, made in sheets():
        counts = Counter(one.question.kind for one in made)
        assert all(count <= MOST_OF_A_KIND for kind, count in counts.items() if kinds()[kind].thinned)
        own = [one for one in questions(proved)["written"] if person in one.people]
        assert counts["written"] == len(own)


def test_an_answer_that_is_right_is_marked_right_and_no_other() -> None:
    for _, _, made in sheets():
        for one in made:
            answer = one.question.answer
            if isinstance(answer, Choose):
                assert {one.answers[place] for place in one.right} == set(answer.right)
                assert len(set(map(str.casefold, one.answers))) == len(one.answers)
                assert set(one.answers) - set(answer.right) <= set(answer.wrong)
            elif isinstance(answer, Sequence):
                assert tuple(one.answers[place] for place in one.right) == answer.items
                assert one.answers != answer.items


def test_the_right_answers_places_are_even_on_every_sheet() -> None:
    for _, person, made in sheets():
        for size in range(2, 8):
            places = Counter(one.right[0] for one in made if len(one.answers) == size and chosen(one))
            if places:
                counts = [places[place] for place in range(size)]
                assert max(counts) - min(counts) <= 1, (person, size, counts)


def test_the_paper_tests_ask_of_every_kind_and_their_right_answers_places_are_even() -> None:
    cut = 0
    for proved in SORTIES:
        every = questions(proved)
        for person in proved.plan.flows:
            made = paper_test(proved, person, every)
            mine = {name: sum(person in one.people for one in rows) for name, rows in every.items()}
            counts = Counter(one.question.kind for one in made)
            assert len(made) == min(MOST_ON_A_TEST, sum(mine.values()))
            left = [counts[name] for name in mine if mine[name] > counts[name]]  # kinds of which not all are asked
            assert all(counts[name] == mine[name] or counts[name] - min(left) in (0, 1) for name in mine)
            cut += bool(left)
            for size in range(2, 8):
                places = Counter(one.right[0] for one in made if len(one.answers) == size and chosen(one))
                spread = [places[place] for place in range(size)]
                assert max(spread) - min(spread) <= 1, (person, size, spread)
    assert cut > 3


def test_who_always_takes_the_longest_or_the_shortest_answer_does_no_better_than_by_luck() -> None:
    """By luck one of four is right; the same for whoever looks at lengths, within what some 200 questions can show."""
    made = [one for _, _, rows in sheets() for one in rows
            if chosen(one) and len(one.answers) == MOST_ANSWERS and one.question.kind != "written"]  # fmt: skip
    assert len(made) > 100
    for pick in (max, min):
        hits = sum(len(one.answers[one.right[0]]) == pick(map(len, one.answers)) and lone(one, pick) for one in made)
        assert hits / len(made) < 0.33, pick


def chosen(one: Arranged) -> bool:
    return isinstance(one.question.answer, Choose) and len(one.right) == 1


def lone(one: Arranged, pick: object) -> bool:
    lengths = [len(words) for words in one.answers]
    return lengths.count(pick(lengths)) == 1  # type: ignore[operator]


WORDS = st.text("abc", min_size=1, max_size=12)
BANKS = st.lists(st.tuples(WORDS, st.lists(WORDS, max_size=9)), max_size=25)


@given(BANKS)
def test_places_are_even_for_whatever_questions(bank: list[tuple[str, list[str]]]) -> None:
    rows = [question(f"q{number}", Choose((right,), tuple(wrong))) for number, (right, wrong) in enumerate(bank)]
    made = arrange(rows, "seed")
    assert [one.question.id for one in made] == [
        f"q{number}" for number, (right, wrong) in enumerate(bank) if set(wrong) - {right}
    ]
    for size in range(2, MOST_ANSWERS + 1):
        places = Counter(one.right[0] for one in made if len(one.answers) == size)
        counts = [places[place] for place in range(size)]
        assert max(counts) - min(counts) <= 1


def question(name: str, answer: Choose | Sequence | Number) -> Exercise:
    return Exercise(id=name, kind="x", asks=name, answer=answer, because="", look=None, people=("ev1",))


@given(st.lists(WORDS, min_size=2, max_size=6, unique=True))
def test_what_is_put_in_order_never_stands_in_order_already(items: list[str]) -> None:
    (one,) = arrange([question("q", Sequence(tuple(items)))], "seed")
    assert list(one.answers) != items
    assert [one.answers[place] for place in one.right] == items


def test_another_process_makes_the_same_sheet() -> None:
    program = textwrap.dedent(
        """
        from tests.practice.test_questions import SORTIES, questions, sheet
        print([(one.question.id, one.answers) for one in sheet(SORTIES[0], "ev1", questions(SORTIES[0]))])
        """
    )
    texts = {
        subprocess.run(
            [sys.executable, "-c", program], capture_output=True, text=True, check=True, timeout=120,
            cwd=Path(__file__).parents[2], env={"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }  # fmt: skip
    assert len(texts) == 1
    assert "order:ev1" in texts.pop()


def test_a_kind_is_one_file_and_found_by_being_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "tethers.py").write_text(
        "from briefgen.practice.question import QuestionKind\n"
        "KIND = QuestionKind('tethers', 'Tethers', lambda proved: iter(()))\n",
        encoding="utf-8",
    )
    before = set(kinds())
    monkeypatch.setattr(briefgen.practice.kinds, "__path__", [*briefgen.practice.kinds.__path__, str(tmp_path)])
    kinds.cache_clear()
    try:
        assert set(kinds()) - before == {"tethers"}
    finally:
        kinds.cache_clear()
        sys.modules.pop("briefgen.practice.kinds.tethers", None)


def test_a_question_that_is_always_right_comes_at_growing_intervals_and_one_missed_begins_again() -> None:
    box, waits = 1, []
    for _ in range(6):
        box = next_box(box, right=True)
        waits.append(DAYS[box - 1])
    assert waits == sorted(waits)
    assert len(set(waits)) == len(DAYS) - 1
    assert DAYS[next_box(box, right=False) - 1] == min(DAYS)
