"""A server answers under its own names only, so that no page elsewhere can let a name of its own lead to it."""

from __future__ import annotations

import http.client
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from briefgen.plugin.server.hosts import is_own
from tests.plugin.live_server import serving
from tests.plugin.small_site import Project

OWN = ["localhost", "localhost:8000", "LOCALHOST:8000", "localhost.", "127.0.0.1", "127.0.0.1:8000", "[::1]",
       "[::1]:8000"]  # fmt: skip
OTHER = ["", "evil.invalid", "evil.invalid:8000", "localhost.evil.invalid", "127.0.0.1.evil.invalid", "evil-localhost",
         "localhost@evil.invalid", "evil.invalid#localhost", "localhost:8000:8000", "[::1]evil.invalid", "[localhost]",
         "::1", "localhost evil.invalid", "localhost\\.evil.invalid", "[]", ":8000", "localhost,evil.invalid",
         "localhost\x00.evil.invalid", "ſocalhost", "localhost:8000/evil"]  # fmt: skip


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "0.0.0.0", "::", "training.invalid", ""])
def test_what_leads_only_to_this_machine_is_its_own_name(host: str) -> None:
    assert all(is_own(asked, host) for asked in OWN)
    assert not [asked for asked in OTHER if is_own(asked, host)]


def test_the_name_at_which_it_listens_is_its_own() -> None:
    assert is_own("training.invalid:8000", "training.invalid")
    assert is_own("[2001:db8::7]:8000", "2001:db8::7")
    assert not is_own("192.0.2.7:8000", "127.0.0.1")


@pytest.mark.parametrize("host", ["0.0.0.0", "::"])
def test_a_server_on_every_address_answers_under_each_number(host: str) -> None:
    assert is_own("192.0.2.7:8000", host)
    assert is_own("[2001:db8::7]:8000", host)


def asked(address: str, path: str, host: str) -> tuple[int, str]:
    """The status and the words of what a server answers to somebody who calls it by this name."""
    line = http.client.HTTPConnection(urlsplit(address).netloc, timeout=20)
    line.request("GET", path, headers={"Host": host})
    answer = line.getresponse()
    words = answer.read().decode("utf-8")
    line.close()
    return answer.status, words


def test_no_page_is_read_under_another_name(tmp_path: Path) -> None:
    project = Project(tmp_path / "project")
    with serving(project.folder) as server:
        port = urlsplit(server.address).port
        for own in (f"127.0.0.1:{port}", f"localhost:{port}"):
            status, words = asked(server.address, "/", own)
            assert status == 200
            assert "Small" in words
        for path in ("/", "/tasks/open-cover/", "/briefgen/find-names.js", "/livereload/1/1", "/nowhere"):
            status, words = asked(server.address, path, f"evil.invalid:{port}")
            assert status == 421
            assert words == "This server shows its pages under its own names only, such as http://127.0.0.1.\n"
        server.assert_well()
