"""A large site: `python -m tests.benchmarks.large [SORTIES]` builds 20 sorties of 12 tasks of 12 steps (2,880 steps).

Prints the processor seconds of a build in a process of its own, the most memory that it takes, and how many pages come
of it; for ever fewer sorties, too, so that one sees how both grow.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

import yaml

from briefgen.start.folder import start_folder
from tests.benchmarks.proof import content

TASKS = 12


class _Plain(yaml.SafeDumper):
    """Writes out what is said twice, without anchors."""

    def ignore_aliases(self, data: object) -> bool:
        return True


def lay_out(folder: Path, sorties: int) -> Path:
    """A project with a benchmark's content in place of what a started one has; returns its configuration."""
    start_folder(folder)
    for path in (folder / "content").glob("*.yaml"):
        path.unlink()
    (folder / "pages" / "about.md").write_text("# About\n", encoding="utf-8")
    made = content(sorties, TASKS)
    made["programme"]["p"] |= {"title": "Large"}
    words = yaml.dump(made, Dumper=_Plain, sort_keys=False)
    (folder / "content" / "all.yaml").write_text(words, encoding="utf-8")
    return folder / "mkdocs.yml"


def built(sorties: int) -> tuple[float, float, int]:
    """Processor seconds, megabytes and pages of a build."""
    with tempfile.TemporaryDirectory() as name:
        config = lay_out(Path(name) / "project", sorties)
        words = [sys.executable, "-m", "mkdocs", "build", "--quiet", "-f", str(config), "-d", f"{name}/site"]
        child = subprocess.Popen(words, env={**os.environ, "NO_MKDOCS_2_WARNING": "1"}, stderr=subprocess.DEVNULL)
        _, status, used = os.wait4(child.pid, 0)
        assert status == 0, "the build failed: run it by hand"
        pages = sum(1 for _ in Path(name, "site").rglob("*.html"))
    return _seconds(used), used.ru_maxrss / 1024, pages


def _seconds(used: resource.struct_rusage) -> float:
    return used.ru_utime + used.ru_stime


def main(most: int) -> None:
    """Prints the table."""
    print("| sorties | pages | processor, s | memory, MB |\n|---:|---:|---:|---:|")
    for sorties in (1, most // 4, most // 2, most):
        seconds, megabytes, pages = built(sorties)
        print(f"| {sorties} | {pages} | {seconds:.1f} | {megabytes:.0f} |", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
