"""Finished pages are written short, and stay what they were: a browser builds the same tree of them."""

from __future__ import annotations

import html5lib
import pytest

from briefgen.pages.html.tidy import tidy
from tests.plugin.small_site import Project

Tree = list[tuple[str, list[tuple[str, str]], str, str]]


def tree(html: str) -> Tree:
    """Every element in order with its attributes, and the words in it and after it; HTML as the standard parses it."""
    found = html5lib.parse(html, namespaceHTMLElements=False)
    return [
        (one.tag, sorted(one.attrib.items()), "".join((one.text or "").split()), "".join((one.tail or "").split()))
        for one in found.iter()
        if isinstance(one.tag, str)
    ]


def test_a_tidy_page_is_the_same_page_and_a_tenth_shorter(project: Project, monkeypatch: pytest.MonkeyPatch) -> None:
    pages: list[tuple[str, str]] = []

    def noted(html: str) -> str:
        pages.append((html, tidy(html)))
        return pages[-1][1]

    monkeypatch.setattr("briefgen.plugin.site_build.tidy", noted)
    project.build()
    assert len(pages) > 20
    for before, after in pages:
        assert tree(after) == tree(before)
        assert tidy(after) == after
    assert sum(len(after) for _, after in pages) < 0.9 * sum(len(before) for before, _ in pages)


@pytest.mark.parametrize(
    "html",
    [
        '<p>Say a="b" and c="d" >= 3</p>',
        '<code>class="x" </code>',
        '<p title="a > b" lang="en">x</p>',
        "<p title='x=\"y\" z'>x</p>",
        '<a href="a/"><path d="M0"/></a>',
        '<pre><li class="x"></li></pre>',
        "<ul><li>a<ul><li>b</li></ul></li><li>c</li></ul>",
        '<p>a</p><a href="#x"><p>b</p></a><p>c</p>d',
        "<table><tbody><tr><th>a</th><td><p>b</p></td></tr><tr><td>c</td></tr></tbody></table>e",
        "<dl><div><dt>a</dt> <dd>b</dd></div></dl><p>x</p><details><p>y</p></details>z",
        '<select><option value="1">a</option><option>b</option></select>',
    ],
)
def test_words_that_look_like_attributes_and_what_is_nested_stay(html: str) -> None:
    assert tree(f"<!doctype html>{tidy(html)}") == tree(f"<!doctype html>{html}")
