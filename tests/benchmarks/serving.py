"""How soon a saved file shows while `mkdocs serve` runs on the demo: `python -m tests.benchmarks.serving`.

A copy of the demo is served and changed in one place after the other; the page is asked for again and again until the
change is in it. Nothing here is a test.
"""

from __future__ import annotations

import os
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.site.site_build import ROOT, copied_project

PAGE, TASK, PEOPLE = "tasks/swap-pump.html", "tasks/swap-pump.yaml", "people.yaml"
ROUNDS = 3
LONGEST = 60.0
"""Seconds after which a change is given up."""

# What is changed, in which file, and what the new words are; each round makes others.
CHANGES = {
    "an instruction": (TASK, r"(?<=do: )\S+", "Word{round}"),
    "the likely duration of a step": (TASK, r"(?<=takes: )\d+/\d+/\d+(?= min)", "1/{round}/9{round}"),
    "the title of a task": (TASK, r"(?<=title: ).*", "Title {round}"),
    "the callsign of a person": (PEOPLE, r"(?<=callsign: )\w+", "Sign{round}"),
}


def _page(address: str) -> str:
    try:
        with urllib.request.urlopen(address, timeout=LONGEST) as answer:
            return str(answer.read().decode())
    except OSError:
        return ""


@contextmanager
def _serving(project: Path) -> Iterator[str]:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "mkdocs", "serve", "--no-strict", "-a", f"127.0.0.1:{port}"]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "PYTHONPATH": str(ROOT)}
    server = subprocess.Popen(
        command, cwd=project, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    try:
        yield f"http://127.0.0.1:{port}/"
    finally:
        server.terminate()
        server.wait()


def _until(address: str, words: str) -> float:
    """Seconds until a page has these words in it."""
    begin = time.perf_counter()
    while words not in _page(address):
        if time.perf_counter() - begin > LONGEST:
            raise SystemExit(f"“{words}” never came.")
        time.sleep(0.1)  # the server that is asked is the one that builds
    return time.perf_counter() - begin


def main() -> None:
    """Prints, for each kind of change, the seconds from saving to seeing, and their median."""
    with tempfile.TemporaryDirectory() as name:
        project = copied_project(Path(name) / "project")
        with _serving(project) as base:
            print(f"{'the first build':<32} {_until(base + PAGE, 'bg-page'):.2f} s")
            for what, (file, pattern, words) in CHANGES.items():
                path, seconds = project / "content_demo" / file, []
                for number in range(1, ROUNDS + 1):
                    time.sleep(2)  # what is left to do after a build
                    new = words.format(round=number)
                    path.write_text(re.sub(pattern, new, path.read_text("utf-8"), count=1), "utf-8")
                    seconds.append(_until(base + PAGE, new))
                each = ", ".join(f"{one:.2f}" for one in seconds)
                print(f"{what:<32} {statistics.median(seconds):.2f} s ({each})", flush=True)


if __name__ == "__main__":
    main()
