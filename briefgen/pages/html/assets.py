"""The scripts that pages load, and where they lie in the site."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import briefgen
from briefgen.schema.results import REHEARSAL_FILE, RESULTS_FILE
from briefgen.typeface.faces import WEIGHTS, licence_text
from briefgen.typeface.subset import face_bytes

FOLDER = "briefgen"
"""Where they lie in the site."""

_HERE = Path(briefgen.__file__).parent / "assets"


def typeface_files() -> Mapping[str, str | bytes]:
    """The faces of the typeface and their licence, by where they lie in the site."""
    faces: dict[str, str | bytes] = {f"{FOLDER}/face-{weight}.woff2": face_bytes(weight) for weight in WEIGHTS}
    return faces | {f"{FOLDER}/face-licence.txt": licence_text()}


ASSETS: Mapping[str, Path] = {
    f"{FOLDER}/{path.name}": path
    for path in (*sorted(_HERE.glob("*")), *(_HERE.parent / "schema" / name for name in (RESULTS_FILE, REHEARSAL_FILE)))
    if path.suffix in (".js", ".css", ".json")
}
