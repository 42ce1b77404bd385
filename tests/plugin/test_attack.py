"""No text of the content becomes markup or runs: every payload in every text field, the output parsed and opened."""

from __future__ import annotations

import shutil
from collections import Counter
from pathlib import Path

import pytest
from lxml import html
from mkdocs.commands.build import build
from mkdocs.config import load_config
from playwright.sync_api import Browser

from briefgen.build import examine
from briefgen.findings import Level
from briefgen.model.library import KINDS
from briefgen.start.folder import start_folder
from tests.plugin.attack import AT_ONCE, FILES, PAYLOADS, REFUSED, attacked, every_text

TURNS = -(-len(PAYLOADS) // AT_ONCE)
# What a page of ours is made of: nothing else may come out of a text.
ACTIVE = {"script", "iframe", "object", "embed", "base", "meta", "link", "style", "form", "video", "audio", "source",
          "math", "animate", "set", "foreignobject", "frame", "frameset", "applet", "portal"}  # fmt: skip
ADDRESSES = ("href", "src", "srcset", "action", "formaction", "data", "xlink:href", "poster", "background", "ping")


def project(folder: Path, turn: int | None) -> Path:
    """A small complete briefing with every text field, attacked in a turn (None: not at all), built; its site."""
    start_folder(folder)
    content = folder / "content"
    attacked(content, turn)
    config = load_config(str(folder / "mkdocs.yml"), site_dir=str(folder / "site"), strict=False)
    build(config)
    return folder / "site"


def active_parts(site: Path) -> Counter[str]:
    """Every element that loads or runs something, by page; addresses that run something are told on the spot."""
    found: Counter[str] = Counter()
    for path in sorted(site.rglob("*.html")):
        if path.parts[-2] == "rules":
            continue  # of the program, not of the content
        tree = html.document_fromstring(path.read_bytes())
        for element in tree.iter():
            if not isinstance(element.tag, str):
                continue
            for name, value in element.attrib.items():
                assert not name.lower().startswith("on"), (path, name, value)
                if name.lower() in ADDRESSES:
                    scheme = "".join(value.split()).lower().partition(":")[0]
                    assert scheme not in ("javascript", "vbscript", "data"), (path, name, value)
            if element.tag.lower() in ACTIVE or element.tag == "img":
                about = element.get("src") or element.get("href") or element.get("http-equiv") or ""
                found[f"{path.relative_to(site)}: {element.tag} {about}"] += 1
            assert "contenteditable" not in element.attrib, path
            assert element.tag != "input" or "autofocus" not in element.attrib, path
    return found


@pytest.fixture(scope="module")
def harmless(tmp_path_factory: pytest.TempPathFactory) -> Counter[str]:
    return active_parts(project(tmp_path_factory.mktemp("harmless") / "briefing", None))


def test_every_text_of_the_format_is_attacked_with_every_payload(tmp_path: Path) -> None:
    reached: dict[str, set[int]] = {}
    for turn in range(TURNS):
        start_folder(tmp_path / str(turn))
        for field, numbers in attacked(tmp_path / str(turn) / "content", turn).items():
            reached.setdefault(field, set()).update(numbers)
    # A picture's path names a file; whatever else it is, there is none and the check says so.
    assert every_text(kind.model for kind in KINDS.values()) - reached.keys() == {f"Figure.{key}" for key in FILES}
    assert all(numbers == {*range(len(PAYLOADS))} for numbers in reached.values())


@pytest.mark.parametrize("turn", range(TURNS))
def test_no_text_becomes_markup(tmp_path: Path, harmless: Counter[str], turn: int) -> None:
    site = project(tmp_path / "briefing", turn)
    assert active_parts(site) == harmless
    shutil.rmtree(site)


@pytest.mark.parametrize("payload", REFUSED)
def test_a_link_that_runs_something_is_refused(tmp_path: Path, payload: str) -> None:
    start_folder(tmp_path / "briefing")
    tasks = tmp_path / "briefing" / "content" / "tasks.yaml"
    words = tasks.read_text(encoding="utf-8")
    tasks.write_text(words.replace("script: We begin", f"script: '{payload} We begin", 1).replace(
        "sees their own back.\n    steps", "sees their own back.'\n    steps", 1), encoding="utf-8")  # fmt: skip
    found = examine(tasks.parent).findings
    assert [one.rule for one in found if one.level is Level.ERROR] == ["broken-link"]


@pytest.mark.browser
@pytest.mark.parametrize("turn", [0, 4, 7])
def test_no_text_runs_even_without_the_policy(tmp_path: Path, browser: Browser, turn: int) -> None:
    site = project(tmp_path / "briefing", turn)
    for sheet in site.rglob("*.css"):
        sheet.write_text("", encoding="utf-8")  # no text runs by them, and to lay out pages takes long
    context = browser.new_context(bypass_csp=True)
    tab = context.new_page()
    pages = [path for path in sorted(site.rglob("*.html")) if path.parts[-2] != "rules"]
    assert len(pages) > 30
    for path in pages:
        tab.goto(path.as_uri(), wait_until="load")
        assert tab.evaluate("window.__ran") is None, path
    tab.goto((site / "index.html").as_uri())
    tab.keyboard.press("/")
    tab.keyboard.type("hatch", delay=20)
    tab.locator(".bg-find__one").first.wait_for()
    tab.wait_for_timeout(200)
    assert tab.evaluate("window.__ran") is None
    assert tab.locator(".bg-find__out :is(img, svg, script, iframe, a:not(.bg-find__all))").count() == 0
    assert "__ran" in tab.inner_text(".bg-find__out")
    context.close()


@pytest.mark.browser
def test_the_policy_stops_a_script_that_escaping_let_through(tmp_path: Path, browser: Browser) -> None:
    site = project(tmp_path / "briefing", None)
    page = site / "index.html"
    words = page.read_text(encoding="utf-8")
    assert words.count("Content-Security-Policy") == 1
    page.write_text(
        words.replace("</article>", "<script>window.__ran=1</script><img src=x onerror='window.__ran=1'></article>")
    )
    context = browser.new_context()
    tab = context.new_page()
    tab.goto(page.as_uri())
    tab.wait_for_timeout(300)
    assert tab.evaluate("window.__ran") is None
    context.close()


def test_every_page_has_the_policy_and_no_script_within(tmp_path: Path) -> None:
    site = project(tmp_path / "briefing", None)
    for path in site.rglob("*.html"):
        tree = html.document_fromstring(path.read_bytes())
        assert len(tree.xpath("//meta[@http-equiv='Content-Security-Policy']")) == 1, path
        for script in tree.xpath("//script"):
            assert script.get("src") or script.get("type") == "application/json", path
