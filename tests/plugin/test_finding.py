"""The names for the search of a small site: where they lead with folders for pages, and where there are none."""

from __future__ import annotations

import json

import pytest
from mkdocs.commands.build import build

from tests.plugin.small_site import Project


def names(project: Project) -> dict[str, list[str]]:
    return json.loads(project.page("briefgen/find-names.js").partition("=")[2])


@pytest.mark.parametrize("folders", [True, False])
def test_every_name_leads_to_a_page_that_is_there(project: Project, folders: bool) -> None:
    project.change("mkdocs.yml", "site_name", f"use_directory_urls: {str(folders).lower()}\nsite_name")
    project.build()
    pages = names(project)["pages"]
    assert {"tools/driver/", "about/"} <= set(pages) if folders else {"tools/driver.html", "about.html"} <= set(pages)
    for page in pages:
        path = project.site / page
        assert (path / "index.html" if folders or page == "./" else path).is_file(), page


@pytest.mark.parametrize("folders", [True, False])
def test_the_head_of_a_page_leads_to_all_names(project: Project, folders: bool) -> None:
    project.change("mkdocs.yml", "{name: mkdocs}", "material")
    project.change("mkdocs.yml", "site_name", f"use_directory_urls: {str(folders).lower()}\nsite_name")
    project.build()
    assert (project.site / ("names/index.html" if folders else "names.html")).is_file()
    page, way = ("tools/driver/index.html", "../../names/") if folders else ("tools/driver.html", "../names.html")
    assert f"href={way}" in project.page(page)


def test_a_site_that_could_not_be_built_leads_to_no_names(project: Project) -> None:
    project.change("mkdocs.yml", "{name: mkdocs}", "material")
    project.change("content/plan.yaml", "who: ev1", "who: nobody")
    config = project.configuration()
    config.plugins.on_startup(command="serve", dirty=False)
    try:
        build(config)
        assert "Not built yet" in project.page("index.html")
        assert "names" not in project.page("index.html")
        project.change("content/plan.yaml", "who: nobody", "who: ev1")
        build(project.configuration())
        assert 'href="names/"' in project.page("index.html")
    finally:
        config.plugins.on_shutdown()
