"""Learning: what one can do afterwards, the checks, and what the briefer says."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.studying.learning import outcome_row, question_row, script_row


def pages(context: PageContext) -> Iterator[Page]:
    """Outcomes, questions and the script, each on one page."""
    programme = context.library.programme
    pass_mark = programme.pass_mark if programme else None
    yield Page(
        uri="outcomes",
        title="Outcomes",
        section="learning",
        template="study/outcomes.html",
        icon="outcome",
        order=(0,),
        rows={"title": "Outcomes", "outcomes": tuple(outcome_row(context, name) for name in context.library.outcomes)},
    )
    yield Page(
        uri="questions",
        title="Learning checks",
        section="learning",
        template="study/questions.html",
        icon="question",
        order=(1,),
        rows={
            "title": "Learning checks",
            "pass_mark": pass_mark.written if pass_mark is not None else "",
            "questions": tuple(question_row(context, name, name) for name in context.library.questions),
        },
    )
    yield _script(context)


def _script(context: PageContext) -> Page:
    """The whole briefing as it is said, in the order of the tasks' page."""
    tasks = [task for task in context.library.tasks.values() if task.script]
    whole = script_row(context, " ".join(str(task.script) for task in tasks)) if tasks else None
    return Page(
        uri="script",
        title="Briefer's script",
        section="learning",
        template="study/script.html",
        icon="say",
        order=(2,),
        rows={
            "title": "Briefer's script",
            "takes": whole.takes if whole else "",
            "scripts": tuple(
                (str(task.id), context.link("task", str(task.id)), script_row(context, str(task.script)))
                for task in tasks
            ),
        },
    )
