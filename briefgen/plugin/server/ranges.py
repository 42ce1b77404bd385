"""`mkdocs serve` gives a part of a file to whoever asks for it, so that a clip can be gone to any moment of.

Byte ranges as in RFC 9110, section 14: one range of bytes of what a GET finds. Several ranges, other units and ranges
that depend on a validator (`If-Range`, of which this server gives none) are answered with the whole, as may be done.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Any

from briefgen.plugin.server.answers import Application

_ASKED = re.compile(r"bytes=\s*(\d{0,18})-(\d{0,18})\s*", re.ASCII | re.IGNORECASE)


def by_ranges(app: Application) -> Application:
    """An application that answers with the part of a file that is asked for (206), or that there is none (416)."""

    def answer(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes] | None:
        head: list[Any] = []
        body = app(environ, lambda *given: head.append(given))
        if not head:
            return body
        status, headers, *more = head[-1]
        length = next((int(value) for name, value in headers if name.lower() == "content-length"), None)
        if body is None or length is None or not status.startswith("200") or environ.get("REQUEST_METHOD") != "GET":
            start_response(status, headers, *more)
            return body
        kept = [(name, value) for name, value in headers if name.lower() != "content-length"]
        asked = "" if environ.get("HTTP_IF_RANGE") else environ.get("HTTP_RANGE", "")
        part = part_asked(asked, length)
        if part is None:
            start_response(status, [*headers, ("Accept-Ranges", "bytes")], *more)
            return body
        whole = b"".join(body)
        _close(body)
        if not part:
            none = [("Content-Range", f"bytes */{length}"), ("Content-Length", "0")]
            start_response("416 Range Not Satisfiable", [*kept, *none], *more)
            return []
        own = [("Accept-Ranges", "bytes"), ("Content-Range", f"bytes {part[0]}-{part[-1]}/{length}")]
        start_response("206 Partial Content", [*kept, *own, ("Content-Length", str(len(part)))], *more)
        return [whole[part.start : part.stop]]

    return answer


def part_asked(asked: str, length: int) -> range | None:
    """The bytes that a `Range` field asks of so many; empty where there are none, None where all is to be given.

    >>> part_asked("bytes=0-499", 10000), part_asked("bytes=-500", 10000), part_asked("bytes=9500-", 10000)
    (range(0, 500), range(9500, 10000), range(9500, 10000))
    >>> part_asked("bytes=10000-", 10000), part_asked("", 10000), part_asked("bytes=5-4", 10000)
    (range(0, 0), None, None)
    """
    found = _ASKED.fullmatch(asked)
    if not found or found.groups() == ("", ""):
        return None
    first, last = found.groups()
    if not first:
        some = range(max(0, length - int(last)), length)
    elif last and int(last) < int(first):
        return None  # that says nothing: it is to be ignored
    else:
        some = range(int(first), min(length, int(last) + 1) if last else length)
    return some or range(0)


def _close(body: Any) -> None:
    if hasattr(body, "close"):
        body.close()
