"""The sample site, built once, and a browser to look at it with."""

from __future__ import annotations

from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config

from briefgen.pages.html.assets import typeface_files
from tests.frame.sample_site import OVERRIDES, SAMPLE, read_tokens


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the built sample site; a warning of MkDocs stops the build (`strict`)."""
    target = tmp_path_factory.mktemp("frame") / "site"
    build(load_config(str(SAMPLE / "mkdocs.yml"), site_dir=str(target)))
    for name, content in typeface_files().items():  # the plugin's part of a site
        path = target / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return target


@pytest.fixture(scope="session")
def tokens() -> dict[str, dict[str, str]]:
    """The colours of both palettes as the style sheet says them."""
    return read_tokens((OVERRIDES / "styles" / "tokens.css").read_text(encoding="utf-8"))
