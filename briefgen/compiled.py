"""What follows from installed files alone, kept from run to run as Python keeps its compiled modules.

It lies in `__pycache__` of this package, or where PYTHONPYCACHEPREFIX says. Where nothing can be written it is made
anew each time. What was cut short on its way to the disk does not count.
"""

from __future__ import annotations

import os
from hashlib import sha256
from importlib.util import cache_from_source
from pathlib import Path
from threading import get_ident

_SUM = sha256().digest_size


def recall(name: str) -> bytes | None:
    """What was kept by that name, if it is whole."""
    try:
        found = _place(name).read_bytes()
    except OSError:
        return None
    content = found[_SUM:]
    return content if sha256(content).digest() == found[:_SUM] else None


def keep(name: str, content: bytes) -> None:
    """Keeps content by a name that can be a file's, in the place of what was kept by it before."""
    place = _place(name)
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        fresh = place.with_name(f".{name}.{os.getpid()}.{get_ident()}")
        fresh.write_bytes(sha256(content).digest() + content)
        fresh.replace(place)
    except OSError:
        return


def _place(name: str) -> Path:
    return Path(cache_from_source(__file__)).parent / "compiled" / name
