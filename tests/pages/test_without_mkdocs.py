"""The demo's pages are made where no MkDocs is installed: a change of the host costs one room."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
_RUN = """
import json, sys
from pathlib import Path


class Missing:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in ("mkdocs", "material", "watchdog", "ghp_import"):
            raise ModuleNotFoundError(name=name)


sys.meta_path.insert(0, Missing())
from briefgen.build import Beside, examine
from briefgen.pages.publishing.pipeline import made_of

made = made_of(examine(Path("content_demo"), {}, Beside(Path("content_demo/pages"))), True)
print(json.dumps({"pages": {uri: len(html) for uri, html in made.html.items()}, "host": "mkdocs" in sys.modules}))
"""


def test_the_demos_pages_are_made_without_mkdocs() -> None:
    done = subprocess.run([sys.executable, "-c", _RUN], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert not found["host"]
    assert {"index", "sorties/sortie-1", "tasks/swap-pump", "timelines/sortie-1"} <= found["pages"].keys()
    assert len(found["pages"]) > 150
    assert min(found["pages"].values()) > 200
