"""Reads built sites, and what is said while they are built."""

from __future__ import annotations

import logging
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache, cached_property
from pathlib import Path
from urllib.parse import unquote, urlsplit

from bs4 import BeautifulSoup, Tag

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "content_demo"


@contextmanager
def logged() -> Iterator[list[str]]:
    """The messages that MkDocs and its plugins log meanwhile, each with its level in front."""
    messages: list[str] = []

    class Keep(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            messages.append(f"{record.levelname} {record.getMessage()}")

    handler, logger = Keep(), logging.getLogger("mkdocs")
    before = logger.level
    logger.addHandler(handler)
    logger.setLevel(logging.INFO)
    try:
        yield messages
    finally:
        logger.removeHandler(handler)
        logger.setLevel(before)


def parsed_page(path: Path) -> BeautifulSoup:
    """A page of a site; where no line may end it reads as an ordinary space."""
    return BeautifulSoup(path.read_text(encoding="utf-8").replace("\u00a0", " "), "lxml")


class BuiltSite:
    """A built site: its pages parsed on first use."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    @cached_property
    def pages(self) -> Mapping[str, BeautifulSoup]:
        """Every page by its path."""
        found = sorted(self.folder.rglob("*.html"))
        return {path.relative_to(self.folder).as_posix(): parsed_page(path) for path in found}

    @cached_property
    def ids(self) -> Mapping[str, set[str]]:
        """Every id by page; `__top` is the browser's own."""
        return {name: {str(tag["id"]) for tag in page.find_all(id=True)} for name, page in self.pages.items()}

    def article(self, name: str) -> Tag:
        """The inside of a page's frame."""
        found = self.pages[name].find("article")
        assert isinstance(found, Tag), f"{name} has no article"
        return found

    def articles(self) -> Iterator[tuple[str, Tag]]:
        """Every page's inside."""
        for name in self.pages:
            if name != "404.html":
                yield name, self.article(name)

    def broken_links(self) -> Iterator[str]:
        """Links, pictures and scripts that lead nowhere within the site."""
        for name, page in self.pages.items():
            if name == "404.html":
                continue  # served from anywhere, so its links start at the server's root
            for tag in page.find_all(["a", "link", "img", "script"]):
                address = str(tag.get("href") or tag.get("src") or "")
                problem = self._problem(name, address) if address else ""
                if problem:
                    yield f"{name}: {address} {problem}"

    def _problem(self, name: str, address: str) -> str:
        parts = urlsplit(address)
        if parts.scheme or parts.netloc:
            return "leaves the site"
        target = (self.folder / name).parent / unquote(parts.path) if parts.path else self.folder / name
        target = Path(str(target.resolve()))
        if not target.is_file():
            return "is no file"
        page = target.relative_to(self.folder.resolve()).as_posix()
        if re.fullmatch(r"t=\d+:\d\d:\d\d", parts.fragment) and page.startswith("plays/"):
            return ""  # a moment of the played sortie, as a media fragment says it
        if parts.fragment and page in self.ids and unquote(parts.fragment) not in self.ids[page]:
            return "is no anchor there"
        return ""


@cache
def read_site(folder: Path) -> BuiltSite:
    """A built site; to parse a big one takes seconds, so each process does it once."""
    return BuiltSite(folder)
