"""Where the frame and the style of the pages lie, for sites outside this project."""

from __future__ import annotations

from pathlib import Path
from typing import Any

_PACKAGE = Path(__file__).resolve().parent.parent


def theme_folder() -> Path:
    """The installed package's own copy; in a checkout of the project, the folder that it is made from."""
    packed = _PACKAGE / "theme"
    return packed if packed.is_dir() else _PACKAGE.parent / "theme_overrides"


def is_installed(folder: Any) -> bool:
    """Whether a folder belongs to an installed package."""
    return "site-packages" in Path(folder).parts
