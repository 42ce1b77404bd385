"""One version of the content: what is proved from it, and the digests of its pictures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from briefgen.model.library import Library
from briefgen.proof.evidence import Evidence, SortieEvidence


@dataclass(frozen=True)
class Version:
    """A version. `digests` holds the SHA-256 (FIPS 180-4) of each figure's file, by the path that the figure gives."""

    evidence: Evidence
    digests: Mapping[str, str] = field(default_factory=dict)

    @property
    def library(self) -> Library:
        """Its records."""
        return self.evidence.library

    @property
    def sorties(self) -> Mapping[str, SortieEvidence]:
        """What was proved of each sortie, by id."""
        return self.evidence.sorties

    @property
    def letters(self) -> Mapping[str, str]:
        """Each sortie's revision, by id; empty where it says none."""
        return {name: str(proved.sortie.revision or "") for name, proved in self.sorties.items()}
