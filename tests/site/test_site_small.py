"""A crew's site: without what is for authors, without a file that nothing asks for, and small."""

from __future__ import annotations

import re
from collections.abc import Iterator
from urllib.parse import unquote, urlsplit

import pytest
from bs4 import BeautifulSoup

from tests.pages.site_tools import BuiltSite
from tests.site.site_build import ROOT, build_strictly

ALONE = {
    "404.html": "a server shows it for an address that leads nowhere",
    "briefgen/face-licence.txt": "the licence of the typeface asks to lie beside it",
    "briefgen/practice-results.schema.json": "says what a file of results means, to whoever reads one with a program",
    "briefgen/rehearsal.schema.json": "says what a file of a rehearsal means, to whoever reads one with a program",
}
"""Files that no page asks for, and why they are there all the same."""
# Scripts and styles by their names in the site: in a script as a string, in a style as an address or an import, in a
# page as a value, with quotes or without.
_NAMED = re.compile(r"""["'(=]((?:\.\./)*(?:bg|briefgen|assets)/[\w./-]+)["')\s>]|url\(["']?([^"')]+)""")


@pytest.fixture(scope="module")
def crew(tmp_path_factory: pytest.TempPathFactory) -> BuiltSite:
    """The demo as its crew reads it."""
    target = tmp_path_factory.mktemp("crew") / "site"
    done = build_strictly(ROOT, target, for_authors=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return BuiltSite(target)


def asked_for(site: BuiltSite) -> Iterator[str]:
    """What pages, styles and scripts ask for, by its path in the site."""
    root = site.folder.resolve()
    for path in sorted(root.rglob("*")):
        if path.suffix in (".html", ".css", ".js"):
            text = path.read_text(encoding="utf-8")
            base = root if path.suffix == ".js" else path.parent
            page = site.pages.get(path.relative_to(root).as_posix())
            for address in (*_named(text), *(_links(page) if page else ())):
                target = (base / unquote(urlsplit(address).path)).resolve()
                if target != path and target.is_relative_to(root):
                    yield target.relative_to(root).as_posix()


def _named(text: str) -> Iterator[str]:
    return (one for pair in _NAMED.findall(text) for one in pair if one)


def _links(page: BeautifulSoup) -> Iterator[str]:
    tags = page.find_all(["a", "link", "img", "script", "image", "video", "track"])
    return (
        address for tag in tags if (address := str(tag.get("href") or tag.get("src") or "")) and "://" not in address
    )


def test_a_crews_site_has_nothing_for_authors_and_no_dead_link(crew: BuiltSite) -> None:
    assert {"how-to-read.html", "findings.html"} <= crew.pages.keys()
    assert [name for name in crew.pages if name.startswith(("guide/", "rules/"))] == []
    assert list(crew.broken_links()) == []


def test_every_file_is_asked_for_or_has_a_reason(crew: BuiltSite) -> None:
    asked = set(asked_for(crew))
    files = {path.relative_to(crew.folder).as_posix() for path in crew.folder.rglob("*") if path.is_file()}
    assert len(files) > 200
    assert files - asked == ALONE.keys()
