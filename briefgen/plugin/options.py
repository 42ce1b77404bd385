"""What stands below `briefgen:` in mkdocs.yml."""

from __future__ import annotations

from pathlib import Path

from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig


class Options(Config):  # type: ignore[no-untyped-call]
    """The plugin's options.

    `content`: the folder with the YAML files, from the folder of mkdocs.yml. `levels`: the level of rules by name
    (error, warning, advice or off). `since`: the record of an earlier revision, from the folder of mkdocs.yml; with
    it, the pages say what changed. `for_authors`: whether the built site has what a crew has no use for, the pages of
    the rules and those of the author's own in the folder `author_pages` (from the folder of Markdown pages); while
    serving it always has them. `cache`: whether a build takes over what the last one made of the same.
    """

    content = config_options.Type(str, default="content")
    levels = config_options.Type(dict, default={})
    since = config_options.Type(str, default="")
    for_authors = config_options.Type(bool, default=False)
    cache = config_options.Type(bool, default=True)
    author_pages = config_options.Type(str, default="")


def content_folder(options: Options, config: MkDocsConfig) -> Path:
    """The folder with the YAML files."""
    return Path(config.config_file_path or "").parent / options.content


def record_file(options: Options, config: MkDocsConfig) -> Path | None:
    """The record of an earlier revision that the pages are compared with."""
    return Path(config.config_file_path or "").parent / options.since if options.since else None
