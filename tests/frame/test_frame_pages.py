"""What the built pages contain, read without a browser."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from bs4 import BeautifulSoup, Tag

from briefgen.pages.html.assets import typeface_files
from tests.frame.sample_site import OVERRIDES, PAGES

EVERY = (*PAGES, "404")


def read(site: Path, page: str) -> BeautifulSoup:
    return BeautifulSoup((site / f"{page}.html").read_text(encoding="utf-8"), "html5lib")


@pytest.mark.parametrize("page", EVERY)
def test_the_caution_stands_on_every_page_before_its_contents(site: Path, page: str) -> None:
    soup = read(site, page)
    caution, article = soup.select_one(".bg-caution"), soup.select_one("article.bg-page")
    assert caution is not None
    assert article is not None
    assert "not the approved procedure" in caution.get_text()
    assert "bg-screen" not in (caution.get("class") or [])
    assert article in caution.find_all_next("article")


@pytest.mark.parametrize("page", EVERY)
def test_one_main_heading_and_no_level_skipped(site: Path, page: str) -> None:
    levels = [int(h.name[1]) for h in read(site, page).select("article.bg-page :is(h1, h2, h3, h4, h5, h6)")]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("page", PAGES)
def test_every_address_is_a_file_of_the_site(site: Path, page: str) -> None:
    here = site / f"{page}.html"
    soup = read(site, page)
    addresses = [tag[key] for key in ("href", "src") for tag in soup.select(f"[{key}]")]
    addresses += re.findall(r'@import url\("([^"]+)"\)', here.read_text(encoding="utf-8"))
    assert addresses
    for address in map(str, addresses):
        parts = urlsplit(address)
        assert (parts.scheme, parts.netloc) == ("", ""), address
        assert not parts.path or (here.parent / unquote(parts.path)).resolve().is_file(), address


@pytest.mark.parametrize("page", PAGES)
def test_links_within_the_page_have_their_target(site: Path, page: str) -> None:
    soup = read(site, page)
    for link in soup.select('a[href^="#"]'):
        target = str(link["href"])[1:]
        assert not target or soup.find(id=target) is not None, target


@pytest.mark.parametrize("page", EVERY)
def test_faults_of_the_theme_are_mended(site: Path, page: str) -> None:
    soup = read(site, page)
    assert soup.select("input[type=checkbox]#__drawer")
    assert not soup.select("input[type=checkbox][autocomplete]")
    assert not soup.select("meta[name=generator]")
    assert not soup.select('a[href*="squidfunk"], a[href*="mkdocs"]')


def test_the_style_sheet_is_one_file_and_asks_for_nothing(site: Path) -> None:
    sheet = (site / "bg" / "briefing.css").read_text(encoding="utf-8")
    addresses = re.findall(r"url\(\"?([^\")]+)", sheet)
    assert addresses
    faces = {f"../{name}" for name in typeface_files() if name.endswith(".woff2")}
    assert {address for address in addresses if not address.startswith("data:image/svg+xml,")} == faces
    assert "{%" not in sheet
    for part in (OVERRIDES / "styles").glob("*.css"):
        assert part.stem in (OVERRIDES / "bg" / "briefing.css").read_text(encoding="utf-8")


def test_every_drawing_is_in_the_style_sheet(site: Path) -> None:
    sheet = (site / "bg" / "briefing.css").read_text(encoding="utf-8")
    for drawing in (OVERRIDES / "icons" / "bg").glob("*.svg"):
        assert f"--bg-i-{drawing.stem}: url(" in sheet, drawing.stem


# Classes that only name a part, for scripts and tests.
HOOKS = {"bg-finding__rule", "bg-finding__says", "bg-section", "bg-tile__name", "bg-findings__none", "bg-hazard__so"}


def vocabulary() -> str:
    return (OVERRIDES / "VOCABULARY.md").read_text(encoding="utf-8")


def classes_of(*texts: str) -> set[str]:
    named = (names.split() for text in texts for names in re.findall(r'class="([^"…]+)"', text))
    return {name for names in named for name in names if name.startswith("bg-")}


def test_every_icon_of_the_vocabulary_is_drawn(site: Path) -> None:
    sheet = (site / "bg" / "briefing.css").read_text(encoding="utf-8")
    names = re.search(r"Names: `([^`]+)`", vocabulary())
    assert names is not None
    assert [name for name in names.group(1).split() if f'[data-icon="{name}"]' not in sheet] == []


def test_every_class_of_the_vocabulary_has_a_style(site: Path) -> None:
    sheet = (site / "bg" / "briefing.css").read_text(encoding="utf-8")
    styled = set(re.findall(r"\.(bg-[a-z_-]+[a-z])", sheet))
    assert classes_of(vocabulary()) - styled - HOOKS == set()


def test_the_sample_shows_every_class_of_the_vocabulary(site: Path) -> None:
    shown = classes_of(*(page.read_text(encoding="utf-8") for page in site.rglob("*.html")))
    assert classes_of(vocabulary()) - shown == set()


def test_the_current_page_is_told_in_the_navigation(site: Path) -> None:
    current = read(site, "tasks/swap-pump").select(".bg-nav [aria-current=page]")
    assert [link.get_text(strip=True) for link in current] == ["Swap the coolant pump unit"]
    closed = read(site, "learning").select(".bg-nav a")
    assert not [link for link in closed if isinstance(link, Tag) and "swap-pump" in str(link["href"])]
