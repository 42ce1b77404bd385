"""The site with and without an earlier revision: the page, the marks on steps, the warning, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from bs4 import BeautifulSoup, PageElement, Tag
from mkdocs.exceptions import Abort

from briefgen.cli import main
from tests.pages.site_tools import logged
from tests.plugin.small_site import Project

SHUT = "      - {id: shut, who: ev1, do: Swing the cover shut., takes: 2 min, sets: {cover: shut}}\n"
LOOK = "      - {id: look, who: ev1, do: Look at the valve., takes: 1 min}\n"
WIPE = "      - {id: wipe, who: ev1, do: Wipe the rim., takes: 1 min}\n"
REVISION = 'title: "Sortie S: the cover"\n'


def words(tag: Tag | PageElement | None) -> str:
    """What is read, in one line."""
    return " ".join(tag.get_text(" ").split()) if tag is not None else ""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Project:
    """Revision B, built beside the record of revision A: a step more, one gone, one that takes longer."""
    project = Project(tmp_path_factory.mktemp("changed") / "project")
    project.change("content/plan.yaml", REVISION, f"{REVISION}    revision: A\n")
    project.change("content/plan.yaml", SHUT, WIPE + SHUT)
    record_in(project)
    project.change("content/plan.yaml", "revision: A", "revision: B")
    project.change("content/plan.yaml", WIPE, LOOK)
    project.change("content/plan.yaml", "takes: 3/4/7 min", "takes: 3/6/9 min")
    with logged() as messages:
        project.build(strict=True)
    assert [one for one in messages if one.startswith(("WARNING", "ERROR"))] == []
    return project


def record_in(project: Project) -> None:
    """Keeps this version, and compares the site with it from now on."""
    assert main(["record", str(project.content), "--to", str(project.folder / "a.json")]) == 0
    project.change("mkdocs.yml", "content: content", "content: content, since: a.json")


def page(project: Project, name: str) -> BeautifulSoup:
    return BeautifulSoup(project.page(f"{name}/index.html"), "lxml")


def test_without_the_option_nothing_speaks_of_changes(project: Project) -> None:
    project.build()
    assert not (project.site / "changes").exists()
    for name in ("tasks/open-cover", "people/ev1", "sorties/s"):
        assert "data-change" not in project.page(f"{name}/index.html")
        assert "What changed" not in project.page(f"{name}/index.html")


def test_the_page_says_what_differs_for_a_person(built: Project) -> None:
    text = words(page(built, "changes"))
    assert "Sortie S: revision A to B" in text
    assert "1 step new, 1 gone, 1 changed and other times." in text
    assert "Takes was 3/4/7 min, now 3/6/9 min" in text
    assert "From here on 2 min later Because “Swing the cover open” takes 2 min more" in text
    # 9 m at 6 m/min, 4 and then 6 min, 1 min, 2 min, 9 m again, 1 min.
    assert "Planned finish 0:11:00 → 0:13:00 (2 min later)" in text


def test_every_line_leads_to_what_it_is_about(built: Project) -> None:
    found = {words(link): str(link["href"]) for link in page(built, "changes").select(".bg-changes__what a")}
    assert found["“Look at the valve”"] == "../tasks/open-cover/#look"
    assert found["“Wipe the rim”"] == "../tasks/open-cover/#_gone"
    assert found["“Swing the cover open”"] == "../tasks/open-cover/#open"


def test_steps_bear_a_mark_in_words_and_what_was_before(built: Project) -> None:
    task = page(built, "tasks/open-cover")
    marks = {
        str(step.select_one("h3")["id"]): words(step.select_one("[data-change]"))  # type: ignore[index]
        for step in task.select(".bg-step")
        if step.select_one("[data-change]")
    }
    assert marks == {"open": "Changed in B", "look": "New in B"}
    step = next(step for step in task.select(".bg-step") if step.find(id="open"))
    assert words(step.select_one(".bg-was")) == "Takes was 3/4/7 min, now 3/6/9 min"


def test_a_step_that_is_gone_is_said_where_it_was_done(built: Project) -> None:
    heading = page(built, "tasks/open-cover").find(id="_gone")
    assert heading is not None
    told = words(heading.find_next("ol"))
    assert "Gone “Wipe the rim”" in told
    assert "Takes 1 min" in told


def test_a_persons_way_and_the_sortie_lead_there(built: Project) -> None:
    person, sortie = page(built, "people/ev1"), page(built, "sorties/s")
    assert [words(mark) for mark in person.select(".bg-way-step [data-change]")] == ["Changed in B", "New in B"]
    for where in (person, sortie):
        [link] = [one for one in where.select("a") if words(one) == "What changed since revision A"]
        assert str(link["href"]).startswith("../../changes/#_s")


def test_a_sortie_that_changed_and_says_the_same_letter_is_warned_of(project: Project) -> None:
    project.change("content/plan.yaml", REVISION, f"{REVISION}    revision: A\n")
    record_in(project)
    project.change("content/plan.yaml", "takes: 3/4/7 min", "takes: 3/6/9 min")
    with logged() as messages:
        project.build()
    [warning] = [one for one in messages if "revision-unchanged" in one]
    assert warning.startswith("WARNING briefgen: plan.yaml:")
    assert "still says revision A" in warning
    assert "write: revision: B" in warning
    assert "still says revision A" in words(page(project, "changes"))
    with pytest.raises(Abort):
        project.build(strict=True)
    project.change("mkdocs.yml", "since: a.json", "since: a.json, levels: {revision-unchanged: off}")
    project.build(strict=True)


@pytest.mark.parametrize("text", [None, "{}", "not a record"])
def test_a_record_that_can_not_be_read_stops_the_build_with_a_sentence(project: Project, text: str | None) -> None:
    if text is not None:
        (project.folder / "a.json").write_text(text, encoding="utf-8")
    project.change("mkdocs.yml", "content: content", "content: content, since: a.json")
    with logged() as messages, pytest.raises(Abort):
        project.build()
    [error] = [one for one in messages if one.startswith("ERROR")]
    assert "briefgen record" in error
    assert "The option “since” in mkdocs.yml names it." in error
    assert not project.site.exists()


def test_the_record_is_watched_while_serving(project: Project) -> None:
    record_in(project)
    config = project.configuration()
    config.plugins.on_config(config)
    assert str(project.folder / "a.json") in [str(Path(path)) for path in config.watch]


def test_of_content_that_is_as_recorded_the_page_says_so(project: Project) -> None:
    record_in(project)
    project.build(strict=True)
    assert "Nothing differs." in words(page(project, "changes"))
    assert "data-change" not in project.page("tasks/open-cover/index.html")
