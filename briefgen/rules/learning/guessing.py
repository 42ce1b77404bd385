"""Right answers that can be told without knowing.

Source: Haladyna, Downing and Rodriguez, A Review of Multiple-Choice Item-Writing Guidelines for Classroom Assessment,
Applied Measurement in Education 15(3), 2002: the place of the right answer varies, and answers are about equally long
(cited from memory).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.language.sentences import plain
from briefgen.model.learning import Question
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.samples import OUTCOME

FEWEST = 6
"""Of fewer questions chance alone may put most right answers in one place."""
MOST = 2 / 3

_OUTCOME = f"outcomes:\n  see: {OUTCOME}\nquestions:\n"


def _asked(*answers: str) -> str:
    """Questions with these answers and the number of the right one."""
    lines = (
        f"  q{number}: {{outcome: see, asks: 'Where is crack {number}?', {one}, because: The foot is there.}}"
        for number, one in enumerate(answers)
    )
    return _OUTCOME + "\n".join(lines)


_FIRST = "answers: [Left, Right], correct: 1"
_SECOND = "answers: [Left, Right], correct: 2"
_LONG = "answers: [Left, On the upper right side], correct: 2"
_SHORT = "answers: [Left, On the upper right side], correct: 1"


@rule(
    "right-answer-in-one-place", Level.ADVICE, Needs.RECORDS,
    wrong=_asked(_FIRST.replace("correct", "▸correct"), *[_FIRST] * 4, _SECOND),
    right=_asked(*[_FIRST] * 3, *[_SECOND] * 3),
)  # fmt: skip
def right_answer_in_one_place(evidence: Evidence) -> Iterator[Trouble]:
    """The right answers of all questions stand in different places.

    Where two in three stand first, whoever always takes the first passes. Counted over all questions with one right
    answer, from six on.
    """
    questions = _with_one(evidence)
    places = Counter(question.correct[0] for question in questions)
    for place, number in places.most_common(1):
        if len(questions) >= FEWEST and number > MOST * len(questions):
            first = next(question for question in questions if question.correct[0] == place)
            yield Trouble(
                first.spot("correct"),
                f"In {number} of {len(questions)} questions the right answer has number {place}: put the answers of "
                "some in another order.",
            )


@rule(
    "right-answer-longest", Level.ADVICE, Needs.RECORDS,
    wrong=_asked(_LONG.replace("On the", "▸On the"), *[_LONG] * 4, _SHORT),
    right=_asked(*[_LONG] * 3, *[_SHORT] * 3),
)  # fmt: skip
def right_answer_longest(evidence: Evidence) -> Iterator[Trouble]:
    """The right answer is not mostly the longest one.

    Who writes questions takes care that the right answer is right, and it grows. Where that is so in two of three
    questions, from six on, a learner need not know anything to find it: shorten these, or say more in the wrong ones.
    """
    questions = _with_one(evidence)
    longest = [question for question in questions if _is_longest(question)]
    if len(questions) >= FEWEST and len(longest) > MOST * len(questions):
        first = longest[0]
        yield Trouble(
            first.answers[first.correct[0] - 1].position,
            f"In {len(longest)} of {len(questions)} questions the right answer is the longest: shorten some, or say "
            "more in the wrong ones.",
        )


def _with_one(evidence: Evidence) -> list[Question]:
    """The questions with one right answer that is there."""
    questions = evidence.library.questions.values()
    return [one for one in questions if len(one.correct) == 1 and 1 <= one.correct[0] <= len(one.answers)]


def _is_longest(question: Question) -> bool:
    right = question.correct[0] - 1
    lengths = [len(plain(answer)) for answer in question.answers]
    return all(lengths[right] > length for number, length in enumerate(lengths) if number != right)
