"""A build over a good site leaves that site or the new one, whole, whatever happens: kills, a full disk, odd places."""

from __future__ import annotations

import os
import random
import re
import resource
import signal
import subprocess
import sys
import time
from hashlib import sha256
from pathlib import Path

import pytest

from tests.plugin.prepared import prepared
from tests.plugin.small_site import Project

KILLS = 30
_HOUR = re.compile(rb"Build Date UTC : [^\n]*")


def snapshot(site: Path) -> str:
    """One digest of every file's name and bytes, but for the hour that MkDocs's own theme and its map of pages bear."""
    digest = sha256()
    for path in sorted(site.rglob("*")):
        if path.is_file():
            words = b"" if path.name.startswith("sitemap") else _HOUR.sub(b"", path.read_bytes())
            digest.update(f"{path.relative_to(site)}\0".encode() + words + b"\0")
    return digest.hexdigest()


def start(project: Path, *more: str, most: int | None = None) -> subprocess.Popen[str]:
    """A build in a process of its own; `most` is how many bytes it may write into one file."""

    def limit() -> None:
        if most is not None:
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

    return subprocess.Popen(
        [sys.executable, "-m", "mkdocs", "build", "--quiet", *more], cwd=project, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, preexec_fn=limit,  # noqa: PLW1509 (no thread is running)
        env=os.environ | {"NO_MKDOCS_2_WARNING": "1", "PYTHONDONTWRITEBYTECODE": "1"},
    )  # fmt: skip


def build(project: Path, *more: str, most: int | None = None) -> tuple[int, str]:
    process = start(project, *more, most=most)
    said, _ = process.communicate(timeout=120)
    return process.returncode, said


def change(project: Path, words: str) -> None:
    page = project / "docs" / "about.md"
    page.write_text(page.read_text(encoding="utf-8") + f"\n{words}\n", encoding="utf-8")


def leftovers(project: Path) -> list[str]:
    return [path.name for path in project.iterdir() if path.name.startswith(".site")]


@pytest.fixture
def project(tmp_path: Path) -> Path:
    made = Project(tmp_path / "project").folder
    assert build(made)[0] == 0
    return made


def test_thirty_kills_leave_the_old_site_or_the_new_one(project: Path, tmp_path: Path) -> None:
    site, elsewhere = project / "site", tmp_path / "elsewhere"
    with prepared(project) as builds:
        old = snapshot(site)
        change(project, "Said anew.")
        began = time.monotonic()
        builds.start(str(elsewhere))
        assert builds.end() == 0
        lasts, new = time.monotonic() - began, snapshot(elsewhere)
        assert new != old
        ended, rng = list[int](), random.Random(1959)
        for _ in range(KILLS):
            process = builds.start(str(site))
            time.sleep(rng.uniform(0.05, 1.05) * lasts)
            os.kill(process, signal.SIGKILL)
            ended.append(builds.end())
            assert snapshot(site) in (old, new)
    assert -signal.SIGKILL in ended
    assert build(project)[0] == 0
    assert snapshot(site) == new
    assert leftovers(project) == []


def test_a_build_that_stops_at_an_error_leaves_the_site(project: Path) -> None:
    old = snapshot(project / "site")
    plan = next((project / "content").rglob("plan.yaml"))
    plan.write_text(plan.read_text(encoding="utf-8").replace("[driver]", "[drivel]"), encoding="utf-8")
    code, said = build(project)
    assert code != 0
    assert "Traceback" not in said
    assert snapshot(project / "site") == old
    assert leftovers(project) == []


@pytest.mark.parametrize("most", [0, 2_000, 20_000])
def test_a_full_disk_leaves_the_site_and_says_so(project: Path, most: int) -> None:
    old = snapshot(project / "site")
    change(project, "Said anew.")
    code, said = build(project, most=most)
    assert code != 0
    assert "Traceback" not in said
    assert "The site was not written: " in said
    assert ".waiting" not in said
    assert snapshot(project / "site") == old
    assert leftovers(project) == []


def test_places_that_cannot_be_written_are_told(project: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    (tmp_path / "link").symlink_to(tmp_path / "nowhere")
    for place in ("file", "link", "file/below"):
        code, said = build(project, "--site-dir", str(tmp_path / place))
        assert code != 0
        assert "Traceback" not in said
        assert "The site " in said
    assert (tmp_path / "file").read_text(encoding="utf-8") == "mine"
    assert (tmp_path / "link").is_symlink()


def test_a_link_to_a_folder_stays_a_link(project: Path, tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    assert build(project, "--site-dir", str(tmp_path / "link"))[0] == 0
    assert (tmp_path / "link").is_symlink()
    assert snapshot(tmp_path / "real") == snapshot(project / "site")


def test_what_a_kill_between_two_renames_left_is_put_right(project: Path) -> None:
    old = snapshot(project / "site")
    (project / "site").rename(project / ".site.before")
    plan = next((project / "content").rglob("plan.yaml"))
    plan.write_text(plan.read_text(encoding="utf-8").replace("[driver]", "[drivel]"), encoding="utf-8")
    assert build(project)[0] != 0
    assert snapshot(project / "site") == old
