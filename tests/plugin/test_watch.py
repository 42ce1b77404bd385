"""A changed file is seen: the content folder is watched, and a rebuild shows the change."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.plugin.small_site import PICTURE, Project


def test_the_content_folder_is_watched(project: Project) -> None:
    config = project.configuration()
    config.plugins.on_config(config)
    assert str(project.content) in [str(Path(path)) for path in config.watch]


def test_a_changed_file_changes_its_page(project: Project) -> None:
    project.build()
    project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
    project.write("content/front.svg", PICTURE.replace("h9", "h8"))
    project.build()
    assert "Swing the cover wide open." in project.page("tasks/open-cover/index.html")
    assert "h8" in (project.site / "pictures/front.svg").read_text(encoding="utf-8")


def test_a_changed_file_is_served_anew(project: Project) -> None:
    """The real server: a change in the content folder, a broken one in between, and the mended one."""
    log = project.folder / "serve.log"
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [
        sys.executable,
        "-m",
        "mkdocs",
        "serve",
        "-a",
        f"127.0.0.1:{port}",
        "-f",
        str(project.folder / "mkdocs.yml"),
    ]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "PYTHONUNBUFFERED": "1"}
    with log.open("w") as stream:
        server = subprocess.Popen(command, stdout=stream, stderr=subprocess.STDOUT, env=environment)
        try:
            page = f"http://127.0.0.1:{port}/tasks/open-cover/"
            _wait_for(lambda: "Swing the cover open." in _get(page), "the first page")
            project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
            _wait_for(lambda: "Swing the cover wide open." in _get(page), "the changed page")
            project.change("content/plan.yaml", "place: k2", "place: k22")
            _wait_for(lambda: "There is no place" in log.read_text(), "the finding")
            project.change("content/plan.yaml", "place: k22", "place: k2")
            project.change("content/plan.yaml", "wide open", "quite open")
            _wait_for(lambda: "quite open" in _get(page), "the mended page")
        finally:
            server.terminate()
            server.wait(timeout=20)


def _get(address: str) -> str:
    try:
        with urllib.request.urlopen(address, timeout=10) as answer:
            return str(answer.read().decode("utf-8"))
    except OSError:
        return ""


def _wait_for(what: Callable[[], bool], words: str, seconds: float = 60) -> None:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if what():
            return
        time.sleep(0.2)
    pytest.fail(f"waited {seconds} s for {words}")
