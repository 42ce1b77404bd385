"""Questions that tell who knows from who does not.

Source: DOE-HDBK-1078-94, Training Program Handbook: A Systematic Approach to Training, section 3.3.
"""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.language.sentences import plain
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.samples import OUTCOME, QUESTION
from briefgen.rules.writing.wording import spot_of


@rule(
    "answer-twice", Level.WARNING, Needs.RECORDS,
    wrong=f"""
    outcomes:
      see: {OUTCOME}
    questions:
      where: {QUESTION.replace("Right]", "Right, ▸left]")}
    """,
    right=f"""
    outcomes:
      see: {OUTCOME}
    questions:
      where: {QUESTION.replace("Right]", "Right, Below]")}
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
      see: {OUTCOME}
    questions:
      where: {QUESTION}
      again: {QUESTION.replace("Where", "▸Where").replace("'", '"')}
    """,
    right=f"""
    outcomes:
      see: {OUTCOME}
    questions:
      where: {QUESTION}
      again: {QUESTION.replace("Where is it?", "On which side is it?")}
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
