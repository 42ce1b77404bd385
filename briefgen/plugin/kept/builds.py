"""What one build of `mkdocs build` takes over from the last one, and what it leaves for the next."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError

from briefgen.cache.digests import Unknown
from briefgen.cache.entries import recall
from briefgen.cache.folder import Folder
from briefgen.cache.results import KeptResults, ReadAsAsked, keep_results
from briefgen.plugin.kept.frames import KeptFrames
from briefgen.plugin.kept.inputs import SiteInputs
from briefgen.plugin.kept.last_site import Heard, LastSite


class BetweenBuilds:
    """The kept site and the kept results of one project. Where nothing can be kept, there is none of this."""

    def __init__(self, folder: Folder, inputs: SiteInputs) -> None:
        self._folder, self._inputs = folder, inputs
        self._heard = Heard()
        self._whole = ""
        with suppress(Unknown):
            self._whole = inputs.whole()
        self.last = LastSite(folder, inputs.project)
        self.is_same = bool(self._whole) and self.last.whole == self._whole
        """Whether the last site is the one that this build would make."""
        self.frames = KeptFrames(self.last, inputs.frame) if inputs.may_keep_pages else None
        self._entry = None if self.is_same else recall(folder, self._name)
        well = self._entry is not None and isinstance(self._entry.table, dict)
        self._known: Mapping[str, Any] = ReadAsAsked(self._entry) if well and self._entry else {}
        self.results = KeptResults(self._known, inputs.program)
        self._heard.begin()

    @classmethod
    def of(cls, config: MkDocsConfig, content: Path, record: Path | None) -> BetweenBuilds | None:
        """What is kept of a project; None where nothing can be."""
        folder = Folder.opened()
        if folder is None:
            return None
        try:
            return cls(folder, SiteInputs(config, content, record))
        except Unknown:
            folder.close()
            return None

    @property
    def _name(self) -> str:
        return f"results-{self._inputs.project[:32]}"

    def take_over(self, site: Path) -> None:
        """Writes the last site into a folder. Raises OSError, and PluginError where it can't be read any more."""
        try:
            self.last.put_into(site)
        except ValueError:
            raise PluginError("What was kept of the last build can't be read any more. Build once again.") from None

    def keep(self, site: Path) -> None:
        """Keeps what was built, unless a file was changed meanwhile. Where that fails nothing is kept."""
        if self.is_same or not self._inputs.are_the_same():
            return
        with suppress(OSError, ValueError):
            if not self.results.asked.keys() <= self._known.keys():
                keep_results(self._folder, self._name, self.results.asked, self._known)
            if self.frames is not None:
                self.last.keep(site, self._whole, self.frames.keys, self._heard.said)
            self._folder.trim()

    def end(self) -> None:
        """The build is over."""
        self._heard.end()
        self.last.close()
        if self._entry is not None:
            self._entry.close()
        self._folder.close()
