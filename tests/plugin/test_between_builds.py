"""A build that takes over from the last one gives what a build from nothing gives: every byte, every word said.

Source of what is right: the same build without a cache. What strangers may do to a cache: common practice, no source.
"""

from __future__ import annotations

import logging
import os
import random
import shutil
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort

from briefgen.cache.folder import Folder
from briefgen.plugin import site_build
from briefgen.start.theme import theme_folder
from tests.plugin.small_site import Project

ROOT = Path(__file__).parents[2]
SETTINGS = """\
site_name: Small
docs_dir: docs
use_directory_urls: false
theme: {name: material, custom_dir: theme, font: false}
plugins: [briefgen: {content: content}]
extra: {generator: false}
"""


class Cached:
    """A project with Material's frame, built with a cache and without."""

    def __init__(self, project: Project, place: Path, patch: pytest.MonkeyPatch) -> None:
        self.project, self.place, self._patch = project, place, patch
        self.said: list[tuple[str, int, str]] = []
        self.drawn = 0
        tidy = site_build.tidy

        def counted(html: str) -> str:
            self.drawn += 1
            return tidy(html)

        patch.setattr(site_build, "tidy", counted)

    @property
    def entries(self) -> list[Path]:
        """What is kept."""
        folder = self.place / "briefgen"
        return sorted(path for path in folder.iterdir() if not path.name.startswith(".")) if folder.is_dir() else []

    def built(self, *, cached: bool = True, **options: Any) -> dict[str, bytes]:
        """Every file of the site, built now; what was said is in `said`, how many frames were drawn in `drawn`."""
        self._patch.setenv("BRIEFGEN_CACHE", str(self.place) if cached else "")
        shutil.rmtree(self.project.site, ignore_errors=True)
        heard, self.drawn = Hearing(), 0
        logger = logging.getLogger("mkdocs")
        logger.addHandler(heard)
        level = logger.level
        logger.setLevel(logging.INFO)
        try:
            self.project.build(**options)
        finally:
            logger.removeHandler(heard)
            logger.setLevel(level)
            self.said = heard.said
        return self.project.snapshot()

    @property
    def in_other_frame(self) -> bool:
        """Whether the author has a template of their own."""
        name = "partials/footer.html"
        return (self.project.folder / "theme" / name).read_bytes() != (theme_folder() / name).read_bytes()

    def holds(self) -> None:
        """What a cached build gives is what one without a cache gives, and so is what the next cached one gives."""
        found, said = self.built(), self.said
        fresh = self.built(cached=False)
        assert sorted(found) == sorted(fresh)
        assert [name for name in fresh if found[name] != fresh[name]] == []
        assert said == self.said
        assert self.built() == fresh
        assert self.said == said
        assert self.drawn == 0 or self.in_other_frame


class Hearing(logging.Handler):
    """All that a build says, but for what MkDocs says at every build: what it does, and how long it took."""

    def __init__(self) -> None:
        super().__init__(logging.INFO)
        self.said: list[tuple[str, int, str]] = []

    def emit(self, record: logging.LogRecord) -> None:
        if not record.getMessage().startswith(("Cleaning site", "Building documentation", "Documentation built in")):
            self.said.append((record.name, record.levelno, record.getMessage()))


@pytest.fixture
def cached(project: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Cached:
    shutil.copytree(theme_folder(), project.folder / "theme")
    project.write("mkdocs.yml", SETTINGS)
    return Cached(project, tmp_path / "caches", monkeypatch)


def swap(name: str, old: str, new: str) -> Callable[[Project], None]:
    """An edit that is taken back when it is made again."""

    def edit(project: Project) -> None:
        text = (project.folder / name).read_text(encoding="utf-8")
        project.write(name, text.replace(old, new) if old in text else text.replace(new, old))

    return edit


def there_or_not(name: str, text: str) -> Callable[[Project], None]:
    """A file that comes and goes."""

    def edit(project: Project) -> None:
        path = project.folder / name
        if path.exists():
            path.unlink()
        else:
            project.write(name, text)

    return edit


def place_renamed(project: Project) -> None:
    for name in ("content/world.yaml", "content/plan.yaml"):
        swap(name, "k2", "k3")(project)


EDITS: dict[str, Callable[[Project], None]] = {
    "nothing": lambda project: None,
    "text": swap("content/plan.yaml", "Swing the cover open.", "Swing the [cover](equipment:cover) wide open."),
    "time": swap("content/plan.yaml", "3/4/7 min", "3/5/7 min"),
    "callsign": swap("content/world.yaml", "Heron", "Osprey"),
    "label": swap("content/world.yaml", "EV1", "EV7"),
    "tool": swap("content/world.yaml", "name: Driver", "name: Torque driver"),
    "mass": swap("content/world.yaml", "2.4 kg", "2.6 kg"),
    "place renamed": place_renamed,
    "step removed": swap("content/plan.yaml", "        verifies: {valve: open}\n", ""),
    "callout removed": swap("content/plan.yaml", ", callouts: {cover: {at: [50 %, 50 %], shows: equipment:cover}}", ""),
    "title in the navigation": swap("content/plan.yaml", "title: Open the cover", "title: Swing the cover open"),
    "lines moved": swap("content/plan.yaml", "tasks:\n", "\n\ntasks:\n"),
    "term": there_or_not("content/terms.yaml", "terms:\n  cover: {short: cover, long: thermal cover, means: A lid.}\n"),
    "tool that nobody needs": there_or_not(
        "content/more.yaml", "tools:\n  spare: {name: Spare, stowed: bag, mass: 1 kg}\n"
    ),
    "page": there_or_not("docs/more.md", "# More\n\nSee [the cover](equipment:cover) and [nothing](nowhere.md).\n"),
    "own overview": there_or_not("docs/index.md", "# Our own\n"),
    "heading": swap("docs/about.md", "# About", "# About us"),
    "picture": swap("content/front.svg", "M0 0h9", "M0 0h8"),
    "style": swap("theme/styles/own.css", "}", "} "),
    "icon": swap("theme/icons/bg/home.svg", "<svg", "<svg "),
    "frame": swap("theme/partials/footer.html", "<footer", "<footer data-changed"),
    "name of the site": swap("mkdocs.yml", "site_name: Small", "site_name: Smaller"),
    "address of the site": swap("mkdocs.yml", "docs_dir: docs\n", "docs_dir: docs\nsite_url: https://a.example/b/\n"),
    "folders": swap("mkdocs.yml", "urls: false", "urls: true"),
    "authors": swap("mkdocs.yml", "content: content}", "content: content, for_authors: true}"),
    "levels": swap("mkdocs.yml", "content: content", "content: content, levels: {unused-record: off}"),
    "revision": swap("mkdocs.yml", "generator: false", "generator: false, revision: B"),
}


@pytest.mark.parametrize("seed", range(3))
def test_after_any_edits_a_cached_build_is_a_fresh_one(cached: Cached, seed: int) -> None:
    names = random.Random(9).sample(sorted(EDITS), len(EDITS))[seed::3]  # each edit in one of them
    draw = random.Random(seed)
    cached.built()
    for name in names:
        EDITS[name](cached.project)
        if draw.random() < 0.3:
            EDITS[draw.choice(sorted(EDITS))](cached.project)
        cached.holds()


def test_only_what_changed_is_drawn_again(cached: Cached) -> None:
    cached.built()
    pages = cached.drawn
    EDITS["text"](cached.project)
    cached.built()
    assert 0 < cached.drawn < pages / 2


def test_the_demo_with_a_new_instruction_a_new_callsign_and_a_new_style(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("content_demo", "theme_overrides"):
        shutil.copytree(ROOT / name, tmp_path / name)
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)

    def built(place: str) -> dict[str, bytes]:
        monkeypatch.setenv("BRIEFGEN_CACHE", place)
        build(load_config(str(tmp_path / "mkdocs.yml"), site_dir=str(tmp_path / "site")))
        site = tmp_path / "site"
        return {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}

    before = built(str(tmp_path / "caches"))
    for name, old, new in (
        ("content_demo/tasks/change-filter.yaml", "Switch off the vent fan.", "Switch the vent fan off."),
        ("content_demo/people.yaml", "callsign: Heron", "callsign: Osprey"),
        ("theme_overrides/styles/own.css", "}", "} "),
    ):
        text = (tmp_path / name).read_text(encoding="utf-8")
        assert old in text
        (tmp_path / name).write_text(text.replace(old, new), encoding="utf-8")
    found = built(str(tmp_path / "caches"))
    fresh = built("")
    assert sorted(found) == sorted(fresh)
    assert [name for name in fresh if found[name] != fresh[name]] == []
    assert found != before


def test_what_is_warned_of_is_said_again_and_stops_a_strict_build_again(cached: Cached) -> None:
    EDITS["page"](cached.project)
    cached.holds()
    assert any(level == logging.WARNING and "nowhere.md" in words for _, level, words in cached.said)
    EDITS["page"](cached.project)
    EDITS["own overview"](cached.project)
    cached.holds()
    assert any(level == logging.WARNING and "index.md" in words for _, level, words in cached.said)
    for _ in range(2):
        with pytest.raises(Abort, match="strict"):
            cached.built(strict=True)
        assert not cached.project.site.exists()


def test_with_the_option_off_nothing_is_kept_and_nothing_taken(cached: Cached) -> None:
    cached.project.change("mkdocs.yml", "content: content", "content: content, cache: false")
    cached.built()
    cached.built()
    assert cached.drawn > 0
    assert not cached.entries


def test_what_was_changed_while_it_was_read_is_not_kept(cached: Cached, monkeypatch: pytest.MonkeyPatch) -> None:
    make = site_build.made_of

    def meanwhile(*given: Any, **named: Any) -> Any:
        path = cached.project.content / "world.yaml"
        text = path.read_text()
        path.write_text(text + "\n")
        path.write_text(text)
        return make(*given, **named)

    monkeypatch.setattr(site_build, "made_of", meanwhile)
    cached.built()
    assert not cached.entries


def test_beside_another_plugin_or_in_a_frame_of_the_authors_no_page_is_kept(cached: Cached) -> None:
    cached.project.change("mkdocs.yml", "plugins: [", "plugins: [search, ")
    fresh = cached.built()
    assert cached.built() == fresh
    assert cached.drawn > 0
    cached.project.change("mkdocs.yml", "plugins: [search, ", "plugins: [")
    EDITS["frame"](cached.project)
    cached.built()
    cached.built()
    assert cached.drawn > 0


def spoilt(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(content)


def test_a_damaged_entry_is_made_anew(cached: Cached) -> None:
    fresh = cached.built()
    assert len(cached.entries) == 2
    for damage in (spoilt, lambda path: path.write_bytes(path.read_bytes()[:-9]), lambda path: path.write_bytes(b"")):
        for path in cached.entries:
            damage(path)
        assert cached.built() == fresh
        assert cached.drawn > 0
        assert cached.built() == fresh
        assert cached.drawn == 0


def test_entries_that_are_swapped_or_another_projects_do_not_count(cached: Cached) -> None:
    fresh = cached.built()
    cached.project.change("mkdocs.yml", "site_name: Small", "site_name: Other")
    cached.built()
    ours, theirs = sorted((path.read_bytes() for path in cached.entries), key=len), cached.entries
    assert len(theirs) == 4
    for path, content in zip(theirs, reversed(ours), strict=True):
        path.write_bytes(content)
    cached.project.change("mkdocs.yml", "site_name: Other", "site_name: Small")
    assert cached.built() == fresh
    assert cached.drawn > 0


def test_a_link_in_the_place_of_the_folder_or_of_an_entry_is_not_followed(cached: Cached, tmp_path: Path) -> None:
    fresh = cached.built()
    secret = tmp_path / "secret"
    secret.write_text("secret")
    for path in cached.entries:
        path.unlink()
        path.symlink_to(secret)
    assert cached.built() == fresh
    assert secret.read_text() == "secret"
    folder = cached.place / "briefgen"
    folder.rename(tmp_path / "theirs")
    folder.symlink_to(tmp_path / "theirs")
    before = sorted((tmp_path / "theirs").iterdir())
    assert cached.built() == fresh
    assert cached.drawn > 0
    assert sorted((tmp_path / "theirs").iterdir()) == before


def test_where_nothing_can_be_written_the_build_goes_on(cached: Cached, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(folder: Folder, name: str) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Folder, "written", full)
    fresh = cached.built()
    assert not cached.entries
    assert fresh == cached.built(cached=False)


def test_a_build_that_is_killed_while_it_keeps_leaves_the_entry_before(cached: Cached) -> None:
    cached.built()
    kept = {path.name: path.read_bytes() for path in cached.entries}
    folder = Folder.opened()
    assert folder is not None
    child = os.fork()
    if not child:
        with folder.written(cached.entries[-1].name) as file:
            file.write(b"half")
            file.flush()
            os.kill(os.getpid(), signal.SIGKILL)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
    folder.close()
    assert {path.name: path.read_bytes() for path in cached.entries} == kept
    cached.built()
    assert cached.drawn == 0
