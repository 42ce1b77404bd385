"""The scripts that pages load, and where they lie in the site."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import briefgen

_FOLDER = Path(briefgen.__file__).parent / "assets"

ASSETS: Mapping[str, Path] = {
    f"briefgen/{path.name}": path for path in sorted(_FOLDER.glob("*")) if path.suffix in (".js", ".css")
}
