"""The demo's site, built once a test run and shared by all of its processes; a server for it; its kinds of pages."""

from __future__ import annotations

import fcntl
import os
import shutil
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]

# One page of every kind, the fullest of its kind where they differ; tests hold the list to the built site.
KINDS = (
    "index", "how-to-read", "404", "guide/index", "guide/tutorial", "rules/index", "rules/state-by-luck",
    "sorties/index", "sorties/sortie-1", "timelines/sortie-1", "plays/sortie-1", "telling/sortie-1", "ledgers/sortie-1",
    "states/sortie-1", "tasks/index", "tasks/swap-pump", "people/index", "people/ev2",
    "mine/index", "mine/sortie-1/ev2", "instructing/sortie-1", "suits/suit-bars",
    "cards/index", "cards/sortie-2", "cards/sortie-1/iv", "tools/index", "tools/torque-driver", "bags/tool-bag",
    "places/index", "places/k3-bay", "routes", "equipment/index", "equipment/captive-bolts", "hazards/index",
    "hazards/live-connector", "figures/index", "figures/pump-front", "outcomes", "questions", "practice/index",
    "practice/sortie-1/ev1", "tests/sortie-1/ev1", "script", "glossary", "names", "changed/sortie-1/ev1",
    "findings", "changes", "deciding/sortie-1", "stopping/sortie-1", "underway/sortie-1",
    "booklets/sortie-2", "readers/sortie-2", "arms/sortie-2",
)  # fmt: skip


def build_strictly(project: Path, target: Path, *, for_authors: bool = True) -> subprocess.CompletedProcess[str]:
    """`mkdocs build --strict` of a project, in a process of its own; of the demo with what is for authors."""
    command = [
        sys.executable,
        "-m",
        "mkdocs",
        "build",
        "--strict",
        "-f",
        str(project / "mkdocs.yml"),
        "-d",
        str(target),
    ]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "FOR_AUTHORS": str(for_authors).lower()}
    return subprocess.run(command, capture_output=True, text=True, env=environment, check=False, timeout=300)


def copied_project(folder: Path) -> Path:
    """The demo's project in another folder, free to be changed."""
    for name in ("content_demo", "theme_overrides"):
        shutil.copytree(ROOT / name, folder / name)
    shutil.copy(ROOT / "mkdocs.yml", folder)
    return folder


def snapshot(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, byte by byte."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def shared(factory: pytest.TempPathFactory) -> Path:
    """The folder of the built demo, one for all test processes: the first to come builds it, the others wait."""
    root = factory.getbasetemp()
    # The processes of pytest-xdist each have a folder of their own below a common one.
    target = _built(root.parent if "PYTEST_XDIST_WORKER" in os.environ else root)
    assert (target / "index.html").is_file(), target.with_suffix(".log").read_text(encoding="utf-8")
    return target


def _built(root: Path) -> Path:
    target = root / "demo-site"
    with (root / "demo-site.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        said = root / "demo-site.log"
        if not said.exists():
            done = build_strictly(ROOT, target)
            said.write_text(f"{done.returncode}\n{done.stdout}{done.stderr}", encoding="utf-8")
    return target


class _Quiet(SimpleHTTPRequestHandler):
    def end_headers(self) -> None:
        self.send_header("Cache-Control", "max-age=3600")  # as hosts do; nobody changes the site
        super().end_headers()

    def log_message(self, format: str, *args: Any) -> None:
        pass


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of a server of a folder, on this machine only."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder))) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}/"
        finally:
            server.shutdown()
            thread.join()
