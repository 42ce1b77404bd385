"""Where something is in a figure: the callout to point at, of those that show other things."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.model.figures import Figure
from briefgen.model.library import Library
from briefgen.practice.question import Choose, Exercise, QuestionKind
from briefgen.practice.words import look_at
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import shown_by
from briefgen.proof.plan import PlannedStep
from briefgen.source import Text


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """One for each callout that a step of the sortie looks at; whoever does such a step should know it."""
    looks: dict[tuple[str, str], list[PlannedStep]] = {}
    for step in proved.plan.steps:
        for ref in step.step.figures:
            figure = proved.library.figures.get(str(ref))
            if figure and not figure.is_clip and ref.part in figure.callouts:
                looks.setdefault((str(ref), ref.part), []).append(step)
    for (name, callout), steps in looks.items():
        yield _question(proved.library, proved.library.figures[name], callout, steps)


def _question(library: Library, figure: Figure, callout: str, steps: list[PlannedStep]) -> Exercise:
    return Exercise(
        id=f"callouts:{figure.id}:{callout}",
        kind=KIND.name,
        asks=f"Point at this on “{figure.label_text}”: {_shown(library, figure, callout).rstrip('.')}.",
        answer=Choose((callout,), tuple(_others(library, figure, callout))),
        because="The figure's callout shows it there.",
        look=look_at(steps[0]),
        people=tuple(dict.fromkeys(person for step in steps for person in step.people)),
        outcomes=tuple(dict.fromkeys(str(one) for step in steps for one in step.task.outcomes)),
        figure=str(figure.id),
    )


def _others(library: Library, figure: Figure, callout: str) -> Iterator[str]:
    """Callouts of other things: none of the same record, none that is called the same, none at the same point."""
    record, words = _record(figure, callout), _shown(library, figure, callout)
    for name, one in figure.callouts.items():
        alike = _record(figure, name) == record or _shown(library, figure, name).casefold() == words.casefold()
        if not alike and tuple(one.at) != tuple(figure.callouts[Text(callout)].at):
            yield str(name)


def _record(figure: Figure, callout: str) -> str:
    return str(figure.callouts[Text(callout)].shows).partition("#")[0]


def _shown(library: Library, figure: Figure, callout: str) -> str:
    return shown_by(library, str(figure.callouts[Text(callout)].shows))


KIND = QuestionKind("callouts", "Where it is in the picture", make)
