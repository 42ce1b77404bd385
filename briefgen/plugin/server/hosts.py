"""`mkdocs serve` answers under its own host names only.

A page elsewhere may let its own name lead to this machine (DNS rebinding); it would then read the briefing as its own.
Such a request names a host that is not ours, which RFC 9110 answers with 421 (section 15.5.20).
"""

from __future__ import annotations

import ipaddress
import re
import socket
from collections.abc import Callable, Iterable
from typing import Any

LOOPBACK = frozenset({"localhost", "127.0.0.1", "::1"})
_HOST = re.compile(r"(?:\[([0-9a-f:.]+)\]|([^\[\]:@/\\\s]+))(?::\d*)?", re.ASCII)


def own_names_only(app: Callable[..., Any], host: str) -> Callable[..., Any]:
    """An application (PEP 3333) that answers a request only under a name of this server, which listens at `host`."""

    def answer(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        if is_own(environ.get("HTTP_HOST", ""), host):
            return app(environ, start_response)  # type: ignore[no-any-return]
        words = f"This server shows its pages under its own names only, such as http://{_shown(host)}.\n".encode()
        head = [("Content-Type", "text/plain; charset=utf-8"), ("Content-Length", str(len(words)))]
        start_response("421 Misdirected Request", head)
        return [words]

    return answer


def is_own(asked: str, host: str) -> bool:
    """Whether the host that a request names (its `Host` field, RFC 9110, section 7.2) is one of this server.

    Where it listens on every address of the machine, the machine's own name and any number count too: a name can be
    made to lead here, a number can't.
    """
    found = _HOST.fullmatch(asked.lower())
    if not found:
        return False
    name = (found[1] or found[2]).removesuffix(".")
    if name in LOOPBACK or name == host.lower():
        return True
    return _is_any(host) and (name == socket.gethostname().lower() or _number(name) is not None)


def _is_any(host: str) -> bool:
    number = _number(host)
    return host == "" or (number is not None and number.is_unspecified)


def _number(name: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        return ipaddress.ip_address(name)
    except ValueError:
        return None


def _shown(host: str) -> str:
    if _is_any(host):
        return "localhost"
    return f"[{host}]" if ":" in host else host
