"""The scripts that pages load, and where they lie in the site."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import briefgen

FOLDER = "briefgen"
"""Where they lie in the site."""

_HERE = Path(briefgen.__file__).parent / "assets"

ASSETS: Mapping[str, Path] = {
    f"{FOLDER}/{path.name}": path for path in sorted(_HERE.glob("*")) if path.suffix in (".js", ".css")
}
