"""The real command on the demo: silent, the same bytes every time, and a mistake leaves the earlier site alone."""

from __future__ import annotations

import re
from functools import partial
from pathlib import Path

from tests.site.site_build import KINDS, build_strictly, copied_project, snapshot

# MkDocs's own lines about a strict build that went well.
OWN_LINES = re.compile(
    r"INFO +-  (Cleaning site directory|Building documentation to directory: .*|Documentation built in [\d.]+ seconds)"
)


def test_a_strict_build_of_the_demo_says_nothing_of_its_own(site: Path) -> None:
    code, *lines = site.with_suffix(".log").read_text(encoding="utf-8").splitlines()
    assert code == "0"
    assert [line for line in lines if not OWN_LINES.fullmatch(line.strip())] == []
    assert len(lines) >= 2


def test_two_builds_give_the_same_bytes_and_a_mistake_leaves_them(site: Path, tmp_path: Path) -> None:
    project = copied_project(tmp_path / "project")
    target = tmp_path / "site"
    assert build_strictly(project, target).returncode == 0
    again = snapshot(target)
    first = snapshot(site)
    assert again.keys() == first.keys()
    assert [name for name, content in again.items() if content != first[name]] == []

    file = project / "content_demo" / "tasks" / "swap-pump.yaml"
    text = file.read_text(encoding="utf-8")
    assert "valve-key" in text
    file.write_text(text.replace("valve-key", "valve-kay", 1), encoding="utf-8")
    failed = build_strictly(project, target)
    assert failed.returncode != 0
    assert "There is no tool or bag “valve-kay”. Did you mean “valve-key”?" in failed.stdout + failed.stderr
    assert "Traceback" not in failed.stdout + failed.stderr
    assert snapshot(target) == again


def test_the_list_of_kinds_names_every_kind_of_page(site: Path) -> None:
    """Every folder with pages is in the list, its index page and one of its records; and every page outside them."""
    pages = {path.relative_to(site).with_suffix("").as_posix() for path in site.rglob("*.html")}
    assert set(KINDS) <= pages
    assert {page for page in pages if "/" not in page} <= set(KINDS)
    assert {page for page in pages if page.endswith("/index")} <= set(KINDS)
    # A sortie has a folder of its own there.
    deep = partial(re.sub, r"^(cards|changed|mine|practice|tests)/[^/]+", r"\1/*")
    folders = {deep(page.rpartition("/")[0]) for page in pages}
    named = {deep(kind.rpartition("/")[0]) for kind in KINDS}
    assert folders == named
    records = {folder for folder in folders if any(page.startswith(f"{folder}/") for page in pages)}
    for folder in records - {"cards/*", "changed", "changed/*", "mine", "mine/*", "practice/*", "practice", "tests/*"}:
        assert any(kind.rpartition("/")[0] == folder and not kind.endswith("/index") for kind in KINDS), folder
