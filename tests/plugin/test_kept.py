"""What is kept while serving is what a build from nothing gives: the same pages and the same search, byte by byte."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort

from briefgen.pages.html.tidy import tidy
from tests.pages.site_tools import ROOT
from tests.plugin.small_site import Project

# Each is one save of a file; together they touch words, times, names, the navigation, terms and what is warned of.
EDITS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "words of a step": (("content_demo/tasks/swap-pump.yaml", "do: ", "do: Now "),),
    "a title": (("content_demo/tasks/swap-pump.yaml", "title: ", "title: Soon, "),),
    "times, names and prose": (
        ("content_demo/tasks/swap-pump.yaml", "takes: 3/4/6 min", "takes: 3/5/9 min"),
        ("content_demo/tasks/open-cover.yaml", "title: ", "title: Anew, "),
        ("content_demo/people.yaml", "callsign: ", "callsign: Grey"),
        ("content_demo/pages/how-to-read.md", "# ", "# Now: "),
    ),
}


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    for name in ("content_demo", "theme_overrides"):
        shutil.copytree(ROOT / name, tmp_path / name)
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    return tmp_path


def configuration(folder: Path, site: str) -> Any:
    config = load_config(str(folder / "mkdocs.yml"), site_dir=str(folder / site), strict=False)
    # While serving there is always what is for authors, too.
    config.plugins["briefgen"].config.for_authors = True
    return config


def pages_of(folder: Path) -> dict[str, str]:
    """The pages of a site, without the white space that is left out where nobody waits."""
    found = sorted(folder.rglob("*.html"))
    return {path.relative_to(folder).as_posix(): tidy(path.read_text(encoding="utf-8")) for path in found}


def search_of(folder: Path) -> str:
    return (folder / "briefgen" / "find-names.js").read_text(encoding="utf-8")


def test_kept_pages_and_search_are_those_of_a_build_from_nothing(demo: Path) -> None:
    config = configuration(demo, "served")
    config.plugins.on_startup(command="serve", dirty=False)
    serving = config.plugins["briefgen"].serving
    try:
        build(config)
        anew, framed, built = {}, {}, {}
        for name, edit in EDITS.items():
            for file, old, new in edit:
                text = (demo / file).read_text(encoding="utf-8")
                assert old in text, (file, old)
                (demo / file).write_text(text.replace(old, new, 1), encoding="utf-8")
            config, before = configuration(demo, "served"), serving.frames._kept
            build(config)
            framed[name] = {url for url, kept in serving.frames._kept.items() if kept is not before.get(url)}
            built[name] = set(pages_of(demo / "served"))
            anew[name] = {url for url in framed[name] if serving.frames._kept[url].says != before[url].says}
        # Otherwise the rest would hold, and nobody would gain.
        assert "tasks/swap-pump.html" in anew["words of a step"]
        assert len(anew["words of a step"]) < 30 < len(serving.frames._kept)
        assert "tasks/wipe-window.html" in framed["a title"] - anew["a title"]
        assert len(framed["a title"]) < len(serving.frames._kept) / 2
        assert built["a title"] == {"404.html"} | framed["a title"]
        kept = {uri: tidy(page) for uri, page in serving.frames.pages().items()} | pages_of(demo / "served")
    finally:
        config.plugins.on_shutdown()
    build(configuration(demo, "fresh"))
    fresh = pages_of(demo / "fresh")
    assert kept.keys() == fresh.keys()
    assert [name for name in fresh if kept[name] != fresh[name]] == []
    sheet = Path("bg", "briefing.css")
    assert (demo / "served" / sheet).read_bytes() == (demo / "fresh" / sheet).read_bytes()
    assert search_of(demo / "served") == search_of(demo / "fresh")


def test_a_server_does_not_start_without_a_content_folder(project: Project, caplog: pytest.LogCaptureFixture) -> None:
    project.change("mkdocs.yml", "content: content", "content: contents")
    config = project.configuration()
    config.plugins.on_startup(command="serve", dirty=False)
    with pytest.raises(Abort):
        build(config)
    config.plugins.on_shutdown()
    assert "Name the folder that holds your YAML files." in caplog.messages[-1]
    assert not project.site.exists()


def test_a_mistake_of_the_program_while_serving_is_told_and_forgotten(
    project: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    config = project.configuration()
    config.plugins.on_startup(command="serve", dirty=False)
    serving = config.plugins["briefgen"].serving
    with monkeypatch.context() as broken:
        broken.setattr("briefgen.pages.views.outing.tasks.pages", lambda desk: 1 // 0)
        build(config)
    assert "ZeroDivisionError" in serving.panel.trouble
    assert "Not built yet" in project.page("index.html")
    build(project.configuration())
    assert (serving.panel.trouble, serving.panel.heading) == ("", "")
    assert "Swing the cover open." in project.page("tasks/open-cover/index.html")
    config.plugins.on_shutdown()
