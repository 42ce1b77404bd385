"""What is wrong with the content is said before anything is written."""

from __future__ import annotations

import pytest
from mkdocs.exceptions import Abort

from tests.pages.site_tools import logged
from tests.plugin.small_site import Project

MISTAKES = [
    ("content/plan.yaml", "place: k2", "place: k22", "There is no place “k22”. Did you mean “k2”?"),
    ("content/plan.yaml", "equipment:valve", "equipment:valv", "There is no equipment “valv”. Did you mean “valve”?"),
    ("content/plan.yaml", "figures: [front]", "figures: [frnt]", "Did you mean “front”?"),
    ("content/plan.yaml", "file: front.svg", "file: ../front.svg", "outside the content folder"),
    ("content/plan.yaml", "takes: 2 min", "takes: 2", "has no unit"),
    ("content/front.svg", "<path", "<script>1</script><path", "script"),
    ("docs/about.md", "tool:driver", "tool:drivr", "There is no tool “drivr”. Did you mean “driver”?"),
    ("docs/about.md", "#shut", "#shutt", "has no step “shutt”. Did you mean “shut”?"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "old", "new", "sentence"), MISTAKES)
@pytest.mark.parametrize("strict", [False, True])
def test_a_mistake_leaves_the_earlier_site_untouched(
    project: Project, file: str, old: str, new: str, sentence: str, strict: bool
) -> None:
    project.build()
    before = project.snapshot()
    project.change(file, old, new)
    with logged() as messages, pytest.raises(Abort):
        project.build(strict=strict)
    assert project.snapshot() == before
    assert any(one.startswith("ERROR") and sentence in one for one in messages)


def test_every_mistake_is_said_in_one_run(project: Project) -> None:
    project.change("content/plan.yaml", "place: k2", "place: k22")
    project.change("content/plan.yaml", "equipment:valve", "equipment:valv")
    project.change("docs/about.md", "tool:driver", "tool:drivr")
    with logged() as messages, pytest.raises(Abort):
        project.build()
    assert all(any(word in one for one in messages) for word in ("“k22”", "“valv”", "“drivr”"))


def test_a_mistake_in_a_prose_page_has_its_line_and_column(project: Project) -> None:
    project.change("docs/about.md", "tool:driver", "tool:drivr")
    with logged() as messages, pytest.raises(Abort):
        project.build()
    assert any("../docs/about.md:3:18" in one for one in messages)


def test_what_stands_in_code_is_no_link(project: Project) -> None:
    project.write("docs/code.md", "# Code\n\n`[x](tool:none)`\n\n```\n[x](tool:none)\n```\n")
    project.build(strict=True)
    assert "[x](tool:none)" in project.page("code/index.html")


def test_a_warning_stops_a_strict_build_before_anything_is_written(project: Project) -> None:
    project.build()
    before = project.snapshot()
    project.change("content/plan.yaml", "limits: {length: 1 h}", "limits: {length: 1 h}\n  t:\n    title: T\n"
                   "    flow: {ev1: [open-cover]}\n    limits: {length: 1 h}")  # fmt: skip
    with logged() as messages:
        project.build()
    warned = [one for one in messages if one.startswith("WARNING")]
    assert warned, "a sortie that the programme does not name should be a warning"
    project.snapshot()
    project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
    after = project.snapshot()
    with pytest.raises(Abort):
        project.build(strict=True)
    assert project.snapshot() == after
    assert before != after


@pytest.mark.parametrize(
    "where", ["briefgen.pages.publishing.site.Site._print", "briefgen.pages.views.outing.tasks.pages"]
)
def test_a_mistake_of_the_program_leaves_the_earlier_site_untouched(
    project: Project, monkeypatch: pytest.MonkeyPatch, where: str
) -> None:
    project.build()
    before = project.snapshot()

    def fails(*given: object) -> str:
        raise KeyError("a bolt")

    monkeypatch.setattr(where, fails)
    with logged() as messages, pytest.raises(Abort):
        project.build()
    assert project.snapshot() == before
    (error,) = [one for one in messages if one.startswith("ERROR")]
    assert "This is a mistake in briefgen, not in your content: KeyError: 'a bolt'" in error
    assert "test_untouched_site.py, line" in error
