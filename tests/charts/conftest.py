"""What the tests of charts share: the demo's evidence, links to nowhere, and pages made as EMBED.md says."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from briefgen.charts.interactive.figures import plotly_script
from briefgen.proof.evidence import SortieEvidence
from briefgen.typeface.faces import WEIGHTS
from briefgen.typeface.subset import face_bytes
from tests.demo import demo

ASSETS = Path(__file__).parents[2] / "briefgen" / "assets"
STYLES = Path(__file__).parents[2] / "theme_overrides" / "styles"
THEME = STYLES / "tokens.css"
PLAYER_STYLES = '<link rel="stylesheet" href="player.css">'
FACE = (STYLES / "face.css").read_text(encoding="utf-8").replace("../briefgen/", "")


def href(kind: str, identifier: str, part: str) -> str:
    """An address as a page of `site/…` would write it."""
    return f"{kind}-{identifier}.html" + (f"#{part}" if part else "")


def picture(figure: str) -> str:
    return f"pictures/{figure}.svg"


@pytest.fixture(scope="session", params=["sortie-1", "sortie-2"])
def sortie(request: pytest.FixtureRequest) -> SortieEvidence:
    """Each sortie of the demo."""
    return demo().evidence.sorties[request.param]


@pytest.fixture(scope="session")
def first_sortie() -> SortieEvidence:
    return demo().evidence.sorties["sortie-1"]


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with what `EMBED.md` says that the site carries."""
    folder = tmp_path_factory.mktemp("charts")
    name, text = plotly_script()
    (folder / name).write_text(text, encoding="utf-8")
    for asset in ("charts.css", "charts.js", "player.css", "player.js"):
        (folder / asset).write_bytes((ASSETS / asset).read_bytes())
    for weight in WEIGHTS:
        (folder / f"face-{weight}.woff2").write_bytes(face_bytes(weight))
    return folder


@pytest.fixture(scope="session")
def page_of(site: Path) -> Callable[..., str]:
    """Writes a page of charts into the site and gives its address."""

    def write(name: str, *inside: str, scheme: str = "default", above: str = "", player: bool = False) -> str:
        scripts = '<script src="charts.js" defer></script>' + (
            '<script src="player.js" defer></script>' if player else ""
        )
        (site / name).write_text(
            '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Charts</title>'
            '<meta name="viewport" content="width=device-width, initial-scale=1">'
            f'<link rel="stylesheet" href="charts.css">{PLAYER_STYLES if player else ""}'
            f"<style>{FACE}{THEME.read_text(encoding='utf-8')}"
            "html{font-size:20px}body{margin:8px;background:var(--bg-paper);color:var(--bg-ink);font-size:16px}a{color:var(--bg-link)}"
            "</style></head>"
            f'<body data-md-color-scheme="{scheme}"><main class="bg-page"><h1>Charts</h1>{above}'
            f"{''.join(inside)}</main>{scripts}</body></html>",
            encoding="utf-8",
        )
        return (site / name).as_uri()

    return write


@pytest.fixture(scope="session")
def script_name() -> str:
    return plotly_script()[0]
