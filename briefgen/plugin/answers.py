"""What the server answers while somebody writes: the pages of the last good site, with the panel in each."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from briefgen.pages.panel import Panel, with_panel

Application = Callable[..., Iterable[bytes] | None]
"""As in PEP 3333."""


def answering(app: Application, panel: Callable[[], Panel]) -> Callable[..., Any]:
    """An application with the panel in every HTML page that the given one answers."""

    def answer(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        head: list[Any] = []
        body = app(environ, lambda *given: head.append(given)) or []
        status, headers, *more = head[-1]
        if not any(name.lower() == "content-type" and value.startswith("text/html") for name, value in headers):
            start_response(status, headers, *more)
            return body
        page = with_panel(b"".join(body).decode("utf-8", errors="replace"), panel()).encode("utf-8")
        if hasattr(body, "close"):
            body.close()
        kept = [(name, value) for name, value in headers if name.lower() not in ("content-length", "content-type")]
        own = [("Content-Type", "text/html; charset=utf-8"), ("Content-Length", str(len(page)))]
        start_response(status, [*kept, *own], *more)
        return [page]

    return answer


def error_page(folder: Path, code: int) -> bytes | None:
    """The site's own page for what is not there (404) or went wrong (500), if it has one."""
    path = folder / f"{code}.html"
    return path.read_bytes() if code in (404, 500) and path.is_file() else None
