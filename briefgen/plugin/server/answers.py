"""What the server answers while somebody writes: the pages of the last good site, with the panel in each."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Any

from briefgen.pages.html.panel import Panel, with_panel
from briefgen.pages.html.policy import last_script, with_scripts

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
        plain = b"".join(body).decode("utf-8", errors="replace")
        reloading = last_script(plain)
        page = with_panel(with_scripts(plain, [reloading] if reloading else []), panel()).encode("utf-8")
        _close(body)
        kept = [(name, value) for name, value in headers if name.lower() not in ("content-length", "content-type")]
        own = [("Content-Type", "text/html; charset=utf-8"), ("Content-Length", str(len(page)))]
        start_response(status, [*kept, *own], *more)
        return [page]

    return answer


def asking_again(app: Application, folder: Callable[[], str], put: Callable[[str], None]) -> Application:
    """An application whose answers come from the folder that is served when they are given.

    MkDocs notes the file first and then waits for a build to end: by then it would be a file of the old folder. `put`
    is told each address before it is looked for.
    """

    def answer(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes] | None:
        head: list[Any] = []
        while True:
            before = folder()
            put(environ.get("PATH_INFO", "").encode("latin-1").decode("utf-8", "ignore"))
            head.clear()
            body = app(environ, lambda *given: head.append(given))
            if folder() == before:
                if head:
                    start_response(*head[-1])
                return body
            _close(body)

    return answer


def put_page(path: Path, page: str) -> None:
    """Writes a page unless it is there. Whoever asks for it meanwhile finds all of it or nothing."""
    if path.is_file():
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile("w", encoding="utf-8", dir=path.parent, delete=False) as fresh:
        fresh.write(page)
    Path(fresh.name).replace(path)


def _close(body: Any) -> None:
    if hasattr(body, "close"):
        body.close()


def error_page(folder: Path, code: int) -> bytes | None:
    """The site's own page for what is not there (404) or went wrong (500), if it has one."""
    path = folder / f"{code}.html"
    return path.read_bytes() if code in (404, 500) and path.is_file() else None
