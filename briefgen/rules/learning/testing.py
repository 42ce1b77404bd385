"""Whether what was learnt is asked for, and what is enough.

Sources: DOE-HDBK-1078-94, Training Program Handbook: A Systematic Approach to Training, section 3.3; DOE-STD-1070-94.
"""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.samples import FLOW, OUTCOME, QUESTION, TASK


@rule(
    "outcome-without-question", Level.WARNING, Needs.REFERENCES,
    wrong=f"""
    outcomes:
      ▸see: {OUTCOME}
    tasks:
      look: {TASK}
    sorties: {FLOW}
    """,
    right=f"""
    outcomes:
      see: {OUTCOME}
    questions:
      where: {QUESTION}
    tasks:
      look: {TASK}
    sorties: {FLOW}
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
    "no-pass-mark", Level.WARNING, Needs.REFERENCES,
    wrong=f"""
    programme:
      ▸p: {{title: P, sorties: [s], paces: {{outside: 6 m/min, loaded: 3 m/min}}}}
    outcomes:
      see: {OUTCOME}
    questions:
      where: {QUESTION}
    tasks:
      look: {TASK}
    sorties: {FLOW}
    """,
    right=f"""
    outcomes:
      see: {OUTCOME}
    questions:
      where: {QUESTION}
    tasks:
      look: {TASK}
    sorties: {FLOW}
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
