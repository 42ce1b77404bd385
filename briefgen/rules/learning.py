"""What the briefing teaches, and how that is checked: outcomes against tasks, questions against outcomes.

Source: DOE-HDBK-1078-94, Training Program Handbook: A Systematic Approach to Training, section 3.3.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping

from briefgen.findings import Level, Related
from briefgen.language.sentences import plain
from briefgen.model.work import Task
from briefgen.proof.evidence import Evidence
from briefgen.proof.wording import spot_of
from briefgen.rules.registry import Needs, Trouble, rule

_TASK = "{title: Look, purpose: To know., place: lock, outcomes: [see], steps: [{who: ev1, do: Look., takes: 2 min}]}"
_OUTCOME = "{audience: [ev1], does: finds a crack, condition: in shade, standard: within two minutes}"
_QUESTION = "{outcome: see, asks: 'Where is it?', answers: [Left, Right], correct: 1, because: The foot is there.}"
_FLOW = "{s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}"


@rule(
    "outcome-without-question", Level.WARNING, Needs.REFERENCES,
    wrong=f"""
    outcomes:
      ▸see: {_OUTCOME}
    tasks:
      look: {_TASK}
    sorties: {_FLOW}
    """,
    right=f"""
    outcomes:
      see: {_OUTCOME}
    questions:
      where: {_QUESTION}
    tasks:
      look: {_TASK}
    sorties: {_FLOW}
    """,
)  # fmt: skip
def outcome_without_question(evidence: Evidence) -> Iterator[Trouble]:
    """Every outcome has at least one question that checks it.

    What nobody asks, nobody knows to be learnt; the gap shows outside. DOE-HDBK-1078-94, 3.3.2: at least one test
    item for each learning objective.
    """
    asked = {str(question.outcome) for question in evidence.library.questions.values()}
    for name, outcome in evidence.library.outcomes.items():
        if name not in asked:
            yield Trouble(
                outcome.id.position,
                f"No question checks the outcome “{outcome.label_text}”: write one (DOE-HDBK-1078-94, 3.3.2).",
                write=f"check-{name}: {{outcome: {name}, asks: …, answers: […], correct: …, because: …}}",
                write_at=next((one.id.position for one in evidence.library.questions.values()), None),
            )


@rule(
    "outcome-not-taught", Level.WARNING, Needs.REFERENCES,
    wrong=f"""
    outcomes:
      see: {_OUTCOME}
      ▸feel: {_OUTCOME}
    questions:
      where: {_QUESTION}
      how: {_QUESTION.replace("see", "feel")}
    tasks:
      look: {_TASK}
    sorties: {_FLOW}
    """,
    right=f"""
    outcomes:
      see: {_OUTCOME}
    questions:
      where: {_QUESTION}
    tasks:
      look: {_TASK}
    sorties: {_FLOW}
    """,
)  # fmt: skip
def outcome_not_taught(evidence: Evidence) -> Iterator[Trouble]:
    """Every outcome is taught by a task.

    An outcome is promised to the learner; without a task there is nothing to learn it from. DOE-HDBK-1078-94, 3.2: the
    objective comes from the task, and 3.3.5: objectives and what belongs to them are tracked both ways.
    """
    taught = _taught(evidence)
    for name, outcome in evidence.library.outcomes.items():
        if name not in taught:
            asking = [one for one in evidence.library.questions.values() if one.outcome == name]
            yield Trouble(
                outcome.id.position,
                f"No task teaches the outcome “{outcome.label_text}”: name it in a task, or take it out "
                "(DOE-HDBK-1078-94, 3.2).",
                tuple(Related(one.id.position, "a question about it") for one in asking),
                write=f"outcomes: [{name}]",
            )


def _taught(evidence: Evidence) -> Mapping[str, list[Task]]:
    tasks: dict[str, list[Task]] = defaultdict(list)
    for task in evidence.library.tasks.values():
        for outcome in task.outcomes:
            tasks[str(outcome)].append(task)
    return tasks


@rule(
    "outcome-without-learner", Level.WARNING, Needs.REFERENCES,
    wrong=f"""
    outcomes:
      see: {_OUTCOME.replace("[ev1]", "[▸ev2]")}
    questions:
      where: {_QUESTION}
    tasks:
      look: {_TASK}
    sorties: {_FLOW}
    """,
    right=f"""
    outcomes:
      see: {_OUTCOME}
    questions:
      where: {_QUESTION}
    tasks:
      look: {_TASK}
    sorties: {_FLOW}
    """,
)  # fmt: skip
def outcome_without_learner(evidence: Evidence) -> Iterator[Trouble]:
    """Whoever is to learn an outcome has a step, or is spoken to, in a task that teaches it.

    Otherwise the promise is made to somebody who never gets to do it. The objective comes from the learner's own task:
    DOE-HDBK-1078-94, 3.2.
    """
    taught = _taught(evidence)
    for name, outcome in evidence.library.outcomes.items():
        tasks = taught.get(name, [])
        if not tasks:
            continue
        taking_part = {person for task in tasks for person in _people_of(task)}
        for person in outcome.audience:
            if person not in taking_part:
                record = evidence.library.people.get(person)
                label = record.label_text if record else str(person)
                yield Trouble(
                    person.position,
                    f"{label} is to learn “{outcome.label_text}”, but has no part in "
                    f"{_titles(tasks)}, where it is taught.",
                    tuple(Related(task.id.position, f"“{task.title}” teaches it") for task in tasks[:3]),
                )


def _people_of(task: Task) -> set[str]:
    people = {str(person) for step in task.steps for person in step.who}
    return people | {str(person) for step in task.steps for call in step.calls for person in call.to}


def _titles(tasks: list[Task]) -> str:
    return " or ".join(f"“{task.title}”" for task in tasks[:3])


@rule(
    "outcome-not-seen", Level.ADVICE, Needs.RECORDS,
    wrong="""
    outcomes:
      see: {audience: [ev1], does: ▸understands the louvres, condition: in shade, standard: fully}
    """,
    right="""
    outcomes:
      see: {audience: [ev1], does: drives the louvres shut, condition: in shade, standard: within two minutes}
    """,
)  # fmt: skip
def outcome_not_seen(evidence: Evidence) -> Iterator[Trouble]:
    """An outcome says what somebody can be seen to do.

    Nobody can watch a person understand; so nobody can say whether it was learnt. An objective names behaviour,
    condition and degree: common practice since R. F. Mager, Preparing Instructional Objectives (1962), from memory.
    """
    for outcome in evidence.library.outcomes.values():
        found = _HIDDEN.match(plain(outcome.does))
        if found:
            yield Trouble(
                outcome.does.position,
                f"Nobody can see whether somebody “{found[1]}”: write what they do, like “shows”, “names” or “closes”.",
            )


_HIDDEN = re.compile(
    r"\s*(?:can\s+)?((?:know|understand|learn|appreciate|grasp|realise|realize|believe)s?|(?:is|are|be|becomes?)\s+"
    r"(?:aware|familiar|able to understand)\b|has\s+(?:an?\s+)?(?:understanding|knowledge|feeling))\b",
    re.IGNORECASE,
)


@rule(
    "answer-twice", Level.WARNING, Needs.RECORDS,
    wrong=f"""
    outcomes:
      see: {_OUTCOME}
    questions:
      where: {_QUESTION.replace("Right]", "Right, ▸left]")}
    """,
    right=f"""
    outcomes:
      see: {_OUTCOME}
    questions:
      where: {_QUESTION.replace("Right]", "Right, Below]")}
    """,
)  # fmt: skip
def answer_twice(evidence: Evidence) -> Iterator[Trouble]:
    """The answers to a question differ, and not all of them are right.

    Of two equal answers one is marked wrong, and the learner who knows is told they don't. A question whose answers
    are all right checks nothing. The key is written with the item: DOE-HDBK-1078-94, 3.3.4.
    """
    for question in evidence.library.questions.values():
        seen: set[str] = set()
        for answer in question.answers:
            words = " ".join(plain(answer).split()).rstrip(".").casefold()
            if words in seen:
                yield Trouble(answer.position, f"“{answer}” stands twice among the answers: take one out.")
            seen.add(words)
        if len(set(question.correct)) == len(question.answers):
            sentence = "Every answer to this question is right, so it checks nothing: add a wrong one."
            yield Trouble(question.spot("correct"), sentence)


@rule(
    "question-twice", Level.WARNING, Needs.RECORDS,
    wrong=f"""
    outcomes:
      see: {_OUTCOME}
    questions:
      where: {_QUESTION}
      again: {_QUESTION.replace("Where", "▸Where").replace("'", '"')}
    """,
    right=f"""
    outcomes:
      see: {_OUTCOME}
    questions:
      where: {_QUESTION}
      again: {_QUESTION.replace("Where is it?", "On which side is it?")}
    """,
)  # fmt: skip
def question_twice(evidence: Evidence) -> Iterator[Trouble]:
    """No question is asked twice.

    The second one checks nothing, and it is often a copy whose text was forgotten. Items and objectives are tracked
    against each other: DOE-HDBK-1078-94, 3.3.5.
    """
    first: dict[str, str] = {}
    for question in evidence.library.questions.values():
        words = " ".join(plain(question.asks).split()).casefold()
        earlier = evidence.library.questions.get(first.setdefault(words, str(question.id)))
        if earlier and earlier.id != question.id:
            yield Trouble(
                spot_of(evidence, question.asks, question.asks[:20]),
                f"The question “{question.asks}” is already asked under “{earlier.id}”: take one out, or ask another.",
                (Related(earlier.id.position, "asked here first"),),
            )


@rule(
    "no-pass-mark", Level.WARNING, Needs.REFERENCES,
    wrong=f"""
    programme:
      ▸p: {{title: P, sorties: [s], paces: {{outside: 6 m/min, loaded: 3 m/min}}}}
    outcomes:
      see: {_OUTCOME}
    questions:
      where: {_QUESTION}
    tasks:
      look: {_TASK}
    sorties: {_FLOW}
    """,
    right=f"""
    outcomes:
      see: {_OUTCOME}
    questions:
      where: {_QUESTION}
    tasks:
      look: {_TASK}
    sorties: {_FLOW}
    """,
)  # fmt: skip
def no_pass_mark(evidence: Evidence) -> Iterator[Trouble]:
    """Where there are questions, the programme says how many right answers are enough.

    A bar that is set after the answers are in is no bar. DOE-STD-1070-94, objective 7: pass criteria are fixed before
    the examination.
    """
    programme = evidence.library.programme
    if programme and evidence.library.questions and programme.pass_mark is None:
        yield Trouble(
            programme.id.position,
            f"There are {len(evidence.library.questions)} questions and no “pass_mark”: say how many right answers are "
            "enough (DOE-STD-1070-94, objective 7)."
            if len(evidence.library.questions) > 1
            else "There is a question and no “pass_mark”: say how many right answers are enough (DOE-STD-1070-94, "
            "objective 7).",
            write="pass_mark: 80 %",
        )
