"""An author's own pages can't run, load or hide anything, whoever wrote them; what is left out is said before."""

from __future__ import annotations

import re
from itertools import takewhile
from pathlib import Path

import html5lib
import pytest
from lxml import html
from mkdocs.utils import get_theme_dir
from playwright.sync_api import Browser

from briefgen.build import Beside, examine
from briefgen.findings import Finding
from briefgen.pages.html.cleaning import cleaned
from briefgen.pages.publishing.pages_made import pages_made
from tests.plugin.attack import PAYLOADS, RUN
from tests.plugin.small_site import Project

OF_PAGES = (
    f"[x](y){{ onclick=\"{RUN}\" style=\"position:fixed\" }}",
    f"``` {{ .py onclick=\"{RUN}\" }}\nx\n```",
    f"<p onclick=\n{RUN}>Turn</p>", f"<a href=' java\tscript:{RUN}'>x</a>", f"<a href='&#106;avascript:{RUN}'>x</a>",
    f"<noscript><p title=\"</noscript><img src=x onerror={RUN}>\"></noscript>",
    f"<math><mtext><table><mglyph><style><!--</style><img title=\"--&gt;&lt;img src=1 onerror={RUN}&gt;\">",
    "![x](https://example.invalid/x.png)", "![x](//example.invalid/x.png)", "<img src='/\\example.invalid/x.png'>",
    "<img srcset='https://example.invalid/x.png 2x' alt=x>", "<video autoplay src=https://example.invalid/x.mp4></video>",
    "<div class='md-overlay bg-caution' id=__drawer style='position:fixed;inset:0'>Go.</div>",
    f"[x]: javascript:{RUN}\n\n[y][x]", "![y][p]\n\n[p]: https://example.invalid/p.png",
)  # fmt: skip
SHOWN = """a abbr b blockquote br code dd del details div dl dt em figure h1 h2 h3 h4 h5 h6 hr i img input ins kbd label
    li mark ol p pre q s small source span strong sub summary sup table tbody td tfoot th thead tr track u ul video"""


def findings(project: Project) -> tuple[Finding, ...]:
    beside = Beside(project.folder / "docs", None, pages_made)
    return examine(project.content, {}, beside).findings


def said(project: Project) -> list[str]:
    return [f"{one.position.file}:{one.position.line} {one.rule}" for one in findings(project)]


def written(project: Project, name: str) -> list[html.HtmlElement]:
    """What became of an author's page, as a browser reads it: everything from its title to the frame's own mark."""
    (title,) = html.document_fromstring(project.page(name)).xpath("//h1")
    parts = [title, *takewhile(lambda one: one.get("class") != "bg-pagekeep bg-screen", title.itersiblings())]
    return [one for part in parts for one in part.iter()]


@pytest.fixture
def attacked(project: Project) -> Project:
    """A page for every payload, with the extension that lets Markdown set attributes."""
    project.change("mkdocs.yml", "theme:", "markdown_extensions: [attr_list, md_in_html]\ntheme:")
    for number, payload in enumerate((*PAYLOADS, *OF_PAGES)):
        project.write(f"docs/evil{number}.md", f"# Page {number}\n\nSee {payload} there.\n\n{payload}\n")
    project.build(strict=False)
    return project


def test_no_payload_of_a_page_becomes_more_than_words_and_pictures(attacked: Project) -> None:
    for number, payload in enumerate((*PAYLOADS, *OF_PAGES)):
        for one in written(attacked, f"evil{number}/index.html"):
            assert one.tag in SHOWN.split(), payload
            for name, value in one.attrib.items():
                assert not name.startswith("on"), payload
                assert name not in ("style", "srcset", "srcdoc"), payload
                assert not value.startswith(("bg-", "md-", "__")), payload
                if name in ("src", "poster"):
                    assert not {*":\\"} & {*value}, payload
                    assert "//" not in value, payload
                if name == "href":
                    assert (
                        not re.sub(r"[\t\n\r]", "", value)
                        .strip()
                        .lower()
                        .startswith(("javascript:", "vbscript:", "data:"))
                    ), payload


@pytest.mark.browser
def test_no_payload_of_a_page_runs_even_without_the_policy(attacked: Project, browser: Browser) -> None:
    context = browser.new_context(bypass_csp=True)
    asked: list[str] = []
    context.route("**/*", lambda route: (asked.append(route.request.url), route.continue_())[1])
    tab = context.new_page()
    for number, payload in enumerate((*PAYLOADS, *OF_PAGES)):
        tab.goto((attacked.site / f"evil{number}" / "index.html").as_uri(), wait_until="load")
        assert tab.evaluate("window.__ran") is None, payload
    context.close()
    assert not [url for url in asked if "example.invalid" in url or "evil.invalid" in url]


@pytest.mark.parametrize("payload", [one for one in OF_PAGES if not one.startswith(("[x]", "```", "![y]"))])
def test_what_is_left_out_of_a_page_is_said_at_its_line(project: Project, payload: str) -> None:
    project.write("docs/evil.md", f"# Page\n\n{payload}\n")
    assert set(said(project)) & {f"../docs/evil.md:{line} page-html" for line in (3, 4)}


@pytest.mark.parametrize(
    "sound",
    [
        "Turn it by <b>30°</b> <br> and <kbd>Enter</kbd>.", "`<script>`", "~~~\n<script>1</script>\n~~~",
        "<https://example.invalid/>", "a < b and c > d", "<details><summary>More</summary>Words.</details>",
        "| a | b |\n|:--|--:|\n| 1 | 2 |", "[x](https://example.invalid/) and [y](mailto:a@example.invalid)",
    ],
)  # fmt: skip
def test_what_only_says_something_stays_and_is_not_told(project: Project, sound: str) -> None:
    project.write("docs/good.md", f"# Page\n\n{sound}\n")
    assert said(project) == []


def test_cleaning_changes_nothing_in_what_only_says_something() -> None:
    words = (
        '<h1 id="a">A</h1><p>Turn <b>left</b>, <a href="task:open#shut">then</a> <a href="b.html">b</a>.</p>'
        '<table><thead><tr><th style="text-align: right;">n</th></tr></thead></table><img src="a.png" alt="A &amp; B">'
    )
    before, after = (html5lib.parseFragment(one) for one in (words, cleaned(words)))
    assert html5lib.serialize(before) == html5lib.serialize(after)


def test_no_page_takes_another_frame(project: Project) -> None:
    """Every template that the themes have, named at the head of a page: the page is in the usual frame all the same."""
    project.change("mkdocs.yml", "theme: {name: mkdocs}", "theme: {name: material, font: false}")
    folder = Path(get_theme_dir("material"))
    names = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*.html"))
    assert "redirect.html" in names
    for number, name in enumerate([*names, "../x", "sitemap.xml"]):
        project.write(f"docs/frame{number}.md", f"---\ntemplate: {name}\n---\n# A page\n")
    project.build(strict=False)
    for number in range(len(names) + 2):
        tree = html.document_fromstring(project.page(f"frame{number}/index.html").encode())
        assert len(tree.xpath("//meta[@http-equiv='Content-Security-Policy']")) == 1
        assert tree.xpath("//h1")[0].text_content().strip("¶") == "A page"
    assert said(project).count("../docs/frame0.md:2 page-html") == 1


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("x.html", "<script>1</script>"), ("x.htm", ""), ("x.xhtml", ""), ("x.xml", ""), ("x.svgz", ""), ("x.swf", ""),
        ("x.pdf", ""), ("x", ""), ("x.HTML", ""), ("x.mht", ""), ("x.sh", ""),
        ("x.svg", '<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>'), ("x.svg", "no drawing"),
    ],
)  # fmt: skip
def test_a_file_that_a_browser_would_run_is_left_out_and_said(project: Project, name: str, text: str) -> None:
    project.write(f"docs/deep/{name}", text)
    project.write("docs/deep/fine.svg", (project.content / "front.svg").read_text())
    project.build(strict=False)
    assert (project.site / "deep" / "fine.svg").exists()
    assert not (project.site / "deep" / name).exists()
    assert said(project) == [f"../docs/deep/{name}:1 page-file"]


def test_a_link_to_another_place_is_left_out_and_said(
    project: Project, tmp_path_factory: pytest.TempPathFactory
) -> None:
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    (elsewhere / "secret.txt").write_text("a secret", encoding="utf-8")
    (project.folder / "docs" / "a.txt").symlink_to(elsewhere / "secret.txt")
    (project.folder / "docs" / "b.md").symlink_to(elsewhere / "secret.txt")
    (project.folder / "docs" / "c").symlink_to(elsewhere)
    (project.folder / "docs" / "d.txt").symlink_to("d.txt")
    project.build(strict=False)
    assert not [name for name, data in project.snapshot().items() if b"a secret" in data]
    assert [one.split("/")[-1] for one in said(project)] == [
        f"{name}:1 page-file" for name in ("a.txt", "b.md", "c", "d.txt")
    ]


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_a_head_that_grows_without_bound_is_refused(project: Project, ends: str) -> None:
    lines = ["---", "a: &a [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"{new}: &{new} [{', '.join([f'*{old}'] * 10)}]" for old, new in zip("abcdefgh", "bcdefghi", strict=True)]
    (project.folder / "docs" / "evil.md").write_bytes(ends.join([*lines, "title: *i", "---", "# A page", ""]).encode())
    assert said(project) == ["../docs/evil.md:3 alias"]


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("a " * 40_000, "too-long"), ("a\n\n" * 1_500, "too-long"), ("a" * 600, "too-long"), ("<a " * 30, "too-deep"),
        ("[a](" * 30, "too-deep"), ("words of a line\n" * 700, "too-long"), ("> " * 30, "too-deep"),
    ],
)  # fmt: skip
def test_a_page_that_would_keep_the_builder_busy_is_refused(project: Project, text: str, rule: str) -> None:
    project.write("docs/evil.md", f"# A page\n\n{text}\n")
    assert [one.partition(" ")[2] for one in said(project)] == [rule]


@pytest.mark.parametrize(
    ("text", "dead"),
    [
        ("[x](nowhere.md)", "nowhere.md"), ("![x](no.png)", "no.png"), ("[x](tasks/nowhere.md)", "tasks/nowhere.md"),
        ("[x][y]\n\n[y]: nowhere.md", "nowhere.md"), ("[x](../docs/about.md)", "../docs/about.md"),
        ("[x](abuot.md#a)", "abuot.md"),
        ("[x](about.md)", ""), ("[x](about.md#see)", ""), ("[x](tasks/open-cover.md)", ""), ("![x](fine.svg)", ""),
        ("[x](task:open-cover)", ""), ("[x](https://example.invalid/a.md)", ""), ("`[x](nowhere.md)`", ""),
        ("[x](fine.svg 'A title')", ""), ("[x](#here)", ""), ("[x](<about.md>)", ""),
    ],
)  # fmt: skip
def test_a_dead_link_is_told_by_the_check_exactly_where_a_strict_build_stops(
    project: Project, text: str, dead: str
) -> None:
    project.write("docs/fine.svg", (project.content / "front.svg").read_text())
    project.write("docs/page.md", f"# A page\n\n{text}\n")
    found = findings(project)
    assert [one.rule for one in found] == (["page-link"] if dead else [])
    assert all(f"“{dead}”" in one.sentence for one in found)
    if dead:
        with pytest.raises(SystemExit):
            project.build(strict=True)
    else:
        project.build(strict=True)
