"""Puts briefgen's frame and style before the theme's own. MkDocs runs this file; see `hooks` in mkdocs.yml."""

from briefgen.start.theme import theme_folder


def on_config(config):
    config.theme.dirs.insert(0, str(theme_folder()))
    return config
