"""The demo's build against plain MkDocs with the same theme and the same pages' text as Markdown, run by turns.

`python -m tests.benchmarks.plain [RUNS]` prints the processor seconds of each and their ratio (medians). The plain
site has a page for each of ours, with its headings, paragraphs, lists and tables, the theme's own frame and search.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from bs4 import BeautifulSoup, Tag

ROOT = Path(__file__).parent.parent.parent
BLOCKS = ("h1", "h2", "h3", "h4", "p", "li", "tr", "dt", "dd", "summary")
PLAIN = "site_name: Plain\nuse_directory_urls: true\ntheme: {name: material, font: false}\nplugins: [search]\n"


def markdown(page: Path) -> str:
    """The text of a built page."""
    article = BeautifulSoup(page.read_text(encoding="utf-8"), "lxml").find("article")
    return "\n\n".join(_blocks(article)) if isinstance(article, Tag) else ""


def _blocks(article: Tag) -> Iterator[str]:
    for one in article.find_all(BLOCKS):
        if any(parent.name in BLOCKS for parent in one.parents):
            continue
        cells = one.find_all(["th", "td"])
        words = " | ".join(cell.get_text(" ", strip=True) for cell in cells) if cells else one.get_text(" ", strip=True)
        sign = f"{'#' * int(one.name[1])} " if one.name[0] == "h" else "- " if one.name == "li" else ""
        yield sign + words.replace("<", "&lt;")


def plain_project(site: Path, folder: Path) -> Path:
    """The Markdown project with the same pages; returns its configuration."""
    for page in sorted(set(site.rglob("*.html")) - {site / "404.html"}):
        target = folder / "docs" / page.relative_to(site).with_suffix(".md")
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(markdown(page), encoding="utf-8")
    (folder / "mkdocs.yml").write_text(PLAIN, encoding="utf-8")
    return folder / "mkdocs.yml"


def seconds(config: Path, site: Path) -> float:
    """Processor seconds of a build in a process of its own, with the start of Python, all modules compiled before."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    words = [sys.executable, "-m", "mkdocs", "build", "--quiet", "--config-file", str(config), "--site-dir", str(site)]
    given = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "PYTHONDONTWRITEBYTECODE": ""}  # as installed packages are
    subprocess.run(words, check=True, env=given, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main(runs: int) -> None:
    """Prints the table."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        ours, plain = ROOT / "mkdocs.yml", folder / "plain"
        seconds(ours, folder / "ours")
        config = plain_project(folder / "ours", plain)
        pages = sum(1 for _ in (plain / "docs").rglob("*.md"))
        rows = [(seconds(ours, folder / "a"), seconds(config, folder / "b")) for _ in range(runs)]
    first, second = (statistics.median(row) for row in zip(*rows, strict=True))
    print(f"{pages} pages, median of {runs}: ours {first:.2f} s, plain {second:.2f} s, ratio {first / second:.2f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
