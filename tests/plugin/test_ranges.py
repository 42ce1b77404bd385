"""Parts of a file, as RFC 9110, section 14, has them: its own examples, and a server that is asked."""

from __future__ import annotations

import http.client
import wsgiref.util
import wsgiref.validate
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest

from briefgen.plugin.server.ranges import by_ranges, part_asked
from tests.plugin.live_server import serving
from tests.plugin.small_site import Project

FILE = bytes(range(256)) * 40  # 10,240 bytes


# Section 14.1.2 gives these for a representation of 10,000 bytes.
@pytest.mark.parametrize(
    ("asked", "first", "last"),
    [("0-499", 0, 499), ("500-999", 500, 999), ("-500", 9500, 9999), ("9500-", 9500, 9999), ("0-0", 0, 0),
     ("9990-20000", 9990, 9999), ("-20000", 0, 9999)],
)  # fmt: skip
def test_the_examples_of_the_standard(asked: str, first: int, last: int) -> None:
    assert part_asked(f"bytes={asked}", 10000) == range(first, last + 1)


@pytest.mark.parametrize("asked", ["bytes=10000-", "bytes=10000-10001", "bytes=-0"])
def test_what_begins_past_the_end_cannot_be_given(asked: str) -> None:
    assert part_asked(asked, 10000) == range(0)


@pytest.mark.parametrize(
    "asked", ["", "bytes=", "bytes=-", "bytes=5-4", "bytes=0-1,4-5", "lines=0-4", "bytes=a-b", "bytes=0-" + "9" * 30]
)
def test_what_is_no_single_range_of_bytes_is_given_whole(asked: str) -> None:
    assert part_asked(asked, 10000) is None


def answered(**asked: str) -> tuple[str, dict[str, str], bytes]:
    """What is answered to a request; the order of calls is watched by the standard library's validator (PEP 3333)."""

    def app(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        status = "404 Not Found" if environ["PATH_INFO"] == "/none" else "200 OK"
        start_response(status, [("Content-Type", "video/mp4"), ("Content-Length", str(len(FILE)))])
        return [] if environ["REQUEST_METHOD"] == "HEAD" else [FILE[:5000], FILE[5000:]]

    environ: dict[str, Any] = {}
    wsgiref.util.setup_testing_defaults(environ)
    environ |= {"QUERY_STRING": "", **asked}
    heads: list[Any] = []
    rows = wsgiref.validate.validator(by_ranges(app))(environ, lambda *head: heads.append(head) or (lambda _: None))
    body = b"".join(rows)
    rows.close()  # type: ignore[attr-defined]
    return heads[-1][0], dict(heads[-1][1]), body


def test_a_part_says_which_part_of_how_much_it_is() -> None:
    status, head, body = answered(HTTP_RANGE="bytes=4990-5009")
    assert (status[:3], head["Content-Range"], head["Content-Length"]) == ("206", "bytes 4990-5009/10240", "20")
    assert (head["Content-Type"], body) == ("video/mp4", FILE[4990:5010])


def test_nothing_past_the_end_and_all_where_no_part_is_asked_for() -> None:
    status, head, body = answered(HTTP_RANGE="bytes=10240-")
    assert (status[:3], head["Content-Range"], body) == ("416", "bytes */10240", b"")
    plain = answered()
    assert (plain[0][:3], plain[1]["Accept-Ranges"], plain[2]) == ("200", "bytes", FILE)
    for asked in ({"HTTP_RANGE": "bytes=1-2,4-5"}, {"HTTP_RANGE": "bytes=1-2", "HTTP_IF_RANGE": '"a"'}):
        status, head, body = answered(**asked)
        assert (status[:3], "Content-Range" in head, body) == ("200", False, FILE)
    # A range is of what a GET finds (section 14.2).
    assert answered(HTTP_RANGE="bytes=1-2", REQUEST_METHOD="HEAD")[0] == "200 OK"
    assert answered(HTTP_RANGE="bytes=1-2", PATH_INFO="/none")[0] == "404 Not Found"


def test_the_server_gives_a_part_of_a_file(tmp_path: Path) -> None:
    project = Project(tmp_path / "project")
    with serving(project.folder) as server:
        line = http.client.HTTPConnection(urlsplit(server.address).netloc, timeout=20)
        line.request("GET", "/briefgen/find-names.js")
        whole = line.getresponse().read()
        line.close()
        line.request("GET", "/briefgen/find-names.js", headers={"Range": "bytes=3-9"})
        answer = line.getresponse()
        assert (answer.status, answer.getheader("Content-Range")) == (206, f"bytes 3-9/{len(whole)}")
        assert answer.read() == whole[3:10]
        line.close()
