"""Finished pages wait on the disk and not in memory, and nobody sees a difference."""

from __future__ import annotations

import gc
from contextlib import nullcontext
from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.exceptions import Abort, PluginError

from briefgen.build import examine
from briefgen.pages.publishing.pipeline import made_of
from briefgen.pages.publishing.site import Site
from briefgen.pages.publishing.spool import Spool
from tests.demo import CONTENT
from tests.plugin.small_site import Project
from tests.plugin.test_publishing import snapshot

LISTENER = """
from pathlib import Path

def on_env(env, config, files):
    held = sum(len(file.page.content) for file in files.documentation_pages())
    Path(config.config_file_path).with_name("held.txt").write_text(str(held))
    return env
"""


def test_what_waits_comes_back_as_it_was_and_has_no_name(tmp_path: Path) -> None:
    spool = Spool(tmp_path)
    pages = {"a": "<p>Ωmega</p>", "tasks/b": "", "c": "half of a pair: \ud83d", "d": "x" * 100_000}
    for uri, html in pages.items():
        spool.put(uri, html)
    assert {uri: spool[uri] for uri in reversed([*spool])} == pages
    assert len(spool) == len(pages)
    assert list(tmp_path.iterdir()) == []
    with pytest.raises(KeyError):
        spool["e"]


def test_a_page_handed_out_is_the_page_asked_for(project: Project) -> None:
    examination = examine(project.content)
    made = made_of(examination, False)
    site = Site(made.site.context)
    assert [*made.site.pages] == [*site.pages]
    assert {uri: made.html[uri] for uri in site.pages} == {uri: site.html(uri) for uri in site.pages}
    assert [page.uri for page in made.site.pages.values() if page.rows] == []


def test_no_page_stays_in_memory_but_where_another_plugin_may_look(project: Project) -> None:
    config = project.configuration()
    build(config)
    plugin = config.plugins["briefgen"].site
    left = {page.url: page.content for page in plugin.nav.pages if page.file.src_uri.removesuffix(".md") in plugin.ours}
    assert len(left) > 20
    assert not any(left.values())
    alone = snapshot(project.site)
    project.write("listener.py", LISTENER)
    project.change("mkdocs.yml", "plugins:", "hooks: [listener.py]\nplugins:")
    project.build()
    assert snapshot(project.site) == alone
    assert int((project.folder / "held.txt").read_text()) > 20_000


@pytest.mark.parametrize("fails", [False, True])
def test_the_garbage_collector_looks_at_everything_again_once_a_build_is_over(project: Project, fails: bool) -> None:
    config = project.configuration()
    seen: list[int] = []

    def look(env: object, **_: object) -> None:
        seen.append(gc.get_freeze_count())
        if fails:
            raise PluginError("stop here")

    config.plugins.events["env"].append(look)
    with pytest.raises(Abort) if fails else nullcontext():
        build(config)
    assert seen[0] > 10_000
    assert gc.get_freeze_count() == 0


def test_a_variant_that_was_let_go_is_proved_again_the_same() -> None:
    proved = examine(CONTENT).evidence.sorties["sortie-1"]
    before, travels = proved.variants, proved.travels
    proved.omissions.forget()
    again = proved.variants
    assert len(again) >= 2
    assert again[1].custody is not before[1].custody
    assert [one.left_out for one in again] == [one.left_out for one in before]
    assert [one.states.ends for one in again] == [one.states.ends for one in before]
    assert [one.custody.ends for one in again] == [one.custody.ends for one in before]
    assert [one.custody.left for one in again] == [one.custody.left for one in before]
    assert [left_out for left_out, _ in proved.travels] == [left_out for left_out, _ in travels]
