"""Only what changed: a page for each person, and the marks on scenes and questions, from the demo's own revisions."""

from __future__ import annotations

from functools import cache

import pytest

from briefgen.build import Beside, examine
from briefgen.practice.question import Choose
from briefgen.practice.sheet import questions, sheet
from briefgen.revision.change import Change, Topic, Verb
from briefgen.revision.comparison import Comparison
from briefgen.telling.scenes import FigureShown, ToldScene, scenes_of
from tests.demo import CONTENT, demo
from tests.pages.site_tools import BuiltSite

SORTIES = ("sortie-1", "sortie-2")


@cache
def since() -> Comparison:
    found = examine(CONTENT, {}, Beside(CONTENT / "pages", CONTENT / "revisions" / "c.json")).since
    assert found is not None
    return found


def of(sortie: str, person: str) -> list[Change]:
    return [
        one
        for one in since().changes
        if person in one.people and sortie in one.sorties and one.subject.kind != "sortie"
    ]


def touched(sortie: str, scene: ToldScene) -> bool:
    """A step of it differs, the task lost one, or its figure differs."""
    plan = demo().evidence.sorties[sortie].plan
    told = {(str(plan.steps[one].task.id), plan.steps[one].step.key) for one in scene.steps}
    for one in since().changes:
        if one.subject.kind == "figure" and isinstance(scene.shown, FigureShown):
            if one.subject.id == scene.shown.figure:
                return True
        elif one.subject.kind == "task" and one.subject.part and one.topic is not Topic.TIMES:
            gone = one.verb is Verb.GONE and one.topic is Topic.STEPS
            if (gone and one.subject.id in scene.tasks) or (one.subject.id, one.subject.part) in told:
                return True
    return False


@pytest.mark.parametrize("sortie", SORTIES)
def test_each_person_has_a_page_of_exactly_what_differs_for_them(sortie: str, demo_site: BuiltSite) -> None:
    for person in demo().evidence.sorties[sortie].plan.flows:
        changes = of(sortie, person)
        name = f"changed/{sortie}/{person}.html"
        assert (name in demo_site.pages) == bool(changes)
        if not changes:
            continue
        article = demo_site.article(name)
        rows = article.select(".bg-changes > li")
        assert len(rows) == len(changes)
        first = article.select_one("[aria-labelledby=_first]")
        assert len(first.select("li") if first else []) == sum(one.safety for one in changes)
        assert "never instead of it" in article.get_text()
        assert article.select_one(f"a[href$='cards/{sortie}/{person}.html']")


@pytest.mark.parametrize("sortie", SORTIES)
def test_scenes_that_a_revision_touches_are_marked_and_no_others(sortie: str, demo_site: BuiltSite) -> None:
    scenes = scenes_of(demo().evidence.sorties[sortie])
    told = demo_site.article(f"telling/{sortie}.html").select(".bg-scene")
    marked = [one for one in told if one.select_one(".bg-scene__kicker [data-change]")]
    expected = [f"scene-{scene.number}" for scene in scenes if touched(sortie, scene)]
    assert [one["id"] for one in marked] == expected
    assert 0 < len(expected) < len(scenes)


def test_questions_that_a_revision_touches_are_marked_and_no_others(demo_site: BuiltSite) -> None:
    differing = {one.subject.reference for one in since().changes if one.topic is not Topic.TIMES}
    differing |= {reference.partition("#")[0] for reference in differing}
    expected = set()
    for name, question in demo().library.questions.items():
        look = question.look
        there = f"{look.kind}:{look}" + (f"#{look.part}" if look.part else "") if look else ""
        if f"question:{name}" in differing or (
            look and look.kind not in ("sortie", "programme") and there in differing
        ):
            expected.add(name)
    marked = {one["id"] for one in demo_site.article("questions.html").select(".bg-question:has([data-change])")}
    assert marked == expected
    assert {"no-flag", "leak-time"} <= marked
    assert marked.isdisjoint({"striped-end", "loaded-pace", "what-stays"})


def right(answer: object) -> object:
    return frozenset(answer.right) if isinstance(answer, Choose) else answer


@pytest.mark.parametrize("sortie", SORTIES)
def test_questions_from_the_plan_are_marked_where_none_before_is_asked_and_answered_so(
    sortie: str, demo_site: BuiltSite
) -> None:
    [(old, new)] = [pair for pair in since().pair.sorties if str(pair[1].sortie.id) == sortie]
    before = [one for made in questions(old).values() for one in made]
    marked_anywhere = 0
    for person in new.plan.flows:
        sheet_ = {arranged.question.id: arranged.question for arranged in sheet(new, person, questions(new))}
        rows = demo_site.article(f"practice/{sortie}/{person}.html").select(".bg-question:not([data-kind=written])")
        assert rows
        expected = []
        for row in rows:
            one = sheet_[str(row["data-question"])]
            if not any((other.asks, right(other.answer)) == (one.asks, right(one.answer)) for other in before):
                expected.append(row["id"])
        marked = [row["id"] for row in rows if row.select_one("[data-change]")]
        assert marked == expected
        marked_anywhere += len(marked)
        if of(sortie, person):
            links = demo_site.article(f"changed/{sortie}/{person}.html").select("[aria-labelledby=_made] a")
            assert [str(link["href"]).partition("#")[2] for link in links] == expected
    assert marked_anywhere
