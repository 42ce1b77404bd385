"""A site for authors has a page for every rule, and the list of them; whoever finds something is led there."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from briefgen.rules.registry import all_rules
from tests.plugin.small_site import Project


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(Project(tmp_path_factory.mktemp("rules")), "{content: content, for_authors: true}")


def built(project: Project, options: str) -> Path:
    """The site of a content with one finding."""
    project.change("content/world.yaml", "states: [open], starts: open", "states: [open, closed], starts: open")
    project.change("mkdocs.yml", "{content: content}", options)
    project.build()
    return project.site


@cache
def read(path: Path) -> BeautifulSoup:
    return BeautifulSoup(path.read_text(encoding="utf-8"), "lxml")


def test_every_rule_has_a_page_and_no_other_has_one(site: Path) -> None:
    assert {path.parent.name for path in site.glob("rules/*/index.html")} == set(all_rules())


@pytest.mark.parametrize("name", all_rules())
def test_the_page_says_all_and_marks_the_word_at_which_the_finding_points(site: Path, name: str) -> None:
    rule, page = all_rules()[name], read(site / "rules" / name / "index.html")
    words = " ".join(page.get_text().split())
    for paragraph in rule.text.split("\n\n"):
        assert " ".join(paragraph.replace("`", "").split()) in words
    examples = [block.get_text() for block in page.select("pre")]
    assert examples[-1] == rule.right.rstrip()
    if rule.wrong.replace("▸", "").strip():
        before, _, after = rule.wrong.rstrip().partition("▸")
        assert examples[0] == before + after
        marked = page.select_one("pre mark")
        assert (marked is None) == (not after.strip() or "▸" not in rule.wrong)
        if marked:
            assert after.startswith(marked.get_text())
            assert "".join(str(one) for one in marked.previous_siblings if isinstance(one, str)) == before


def test_the_list_leads_to_each_and_each_back(site: Path) -> None:
    links = {str(link["href"]) for link in read(site / "rules" / "index.html").select("ul a")}
    assert {f"../rules/{name}/" for name in all_rules()} <= links
    for name in ("wrong-value", "unused-state"):
        back = {str(link["href"]) for link in read(site / "rules" / name / "index.html").select("header a")}
        assert "../../rules/" in back


def test_the_page_of_findings_leads_to_the_rule(site: Path) -> None:
    (link,) = read(site / "findings" / "index.html").select("li.bg-finding a")
    assert (link.get_text(), link["href"]) == ("unused-state", "../rules/unused-state/")


def test_the_navigation_lists_no_rule(site: Path) -> None:
    assert not [
        link for link in read(site / "index.html").select("nav a, .navbar a") if "rules/" in str(link.get("href"))
    ]


def test_a_crews_site_has_no_page_of_a_rule_and_no_link_to_one(project: Project) -> None:
    site = built(project, "{content: content}")
    assert not (site / "rules").exists()
    pages = list(site.rglob("*.html"))
    assert "unused-state" in read(site / "findings" / "index.html").get_text()
    assert not [(page, link) for page in pages for link in read(page).select("a[href*='rules/']")]
