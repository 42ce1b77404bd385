"""The author's own questions, where they check an outcome of a task of the sortie, or of no task at all."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.practice.question import Choose, Exercise, QuestionKind, ReadUp
from briefgen.proof.evidence import SortieEvidence


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """For the outcome's audience, or everybody of the sortie."""
    library = proved.library
    here = {str(one) for name in proved.tasks for one in library.tasks[name].outcomes}
    anywhere = {str(one) for task in library.tasks.values() for one in task.outcomes}
    for name, record in library.questions.items():
        outcome = library.outcomes.get(record.outcome)
        if outcome is None or (record.outcome in anywhere and record.outcome not in here):
            continue
        answers = [(number in record.correct, str(words)) for number, words in enumerate(record.answers, start=1)]
        look = ReadUp(record.look.kind, str(record.look), record.look.part) if record.look else None
        yield Exercise(
            id=f"written:{name}",
            kind=KIND.name,
            asks=str(record.asks),
            answer=Choose(
                tuple(words for right, words in answers if right), tuple(words for right, words in answers if not right)
            ),
            because=str(record.because),
            look=look,
            people=tuple(map(str, outcome.audience)) or tuple(proved.plan.flows),
            outcomes=(str(record.outcome),),
        )


KIND = QuestionKind("written", "The briefing's own questions", make, thinned=False)
