"""`python -m briefgen.reference FOLDER` writes the reference's pages anew, for maintainers."""

import sys
from pathlib import Path

from briefgen.reference.markdown import reference_pages

for name, text in reference_pages().items():
    path = Path(sys.argv[1]) / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")
