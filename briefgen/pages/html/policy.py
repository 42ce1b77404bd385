"""What a served page may run beyond its site's own files: the scripts that the server puts into it.

The policy itself stands in the frame (`partials/policy.html`); a script within a page runs only where its digest is
named there (W3C Content Security Policy Level 3, section 6.7.3).
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable
from hashlib import sha256

_OWN = "script-src 'self'"


def with_scripts(page: str, scripts: Iterable[str]) -> str:
    """The page whose policy lets these scripts run, each by its whole text; a page without a policy stays as it is."""
    digests = [f"'sha256-{b64encode(sha256(script.encode()).digest()).decode()}'" for script in scripts]
    return page.replace(_OWN, " ".join([_OWN, *digests]), 1) if digests else page


def last_script(page: str) -> str | None:
    """The script that ends a page's body, as a server puts it in; None where there is none."""
    before, end, _ = page.rpartition("</script></body>")
    return before.rpartition("<script>")[2] if end else None
