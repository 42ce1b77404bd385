"""Words as they are written in YAML."""

from __future__ import annotations

import json
import re

_PLAIN = re.compile(r"[^\W_](?:[\w.°%’'/+-]|[ ](?=\S)|:(?=\S))*")


def word(text: str) -> str:
    """A value as it is written in a list or a mapping in brackets: bare where that is safe, else quoted.

    >>> word("off"), word("Go to Hub, upper ring."), word("")
    ('off', '"Go to Hub, upper ring."', '""')
    """
    return str(text) if _PLAIN.fullmatch(text) else json.dumps(str(text), ensure_ascii=False)
