"""A difference between two versions as data: what it is about, whom it concerns, and each value before and after."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Topic(StrEnum):
    """What a difference is about, in the order in which it is said."""

    HAZARDS = "Hazards"
    LIMITS = "Limits"
    STEPS = "Steps"
    ORDER = "Order"
    TOOLS = "Tools and bags"
    STATES = "States"
    TIMES = "Times"
    SUPPLIES = "Supplies"
    PLACES = "Places and ways"
    PEOPLE = "People"
    TASKS = "Tasks and sorties"
    FIGURES = "Figures"
    LEARNING = "Learning"
    WORDS = "Words"

    @property
    def rank(self) -> int:
        """0 for what could hurt first."""
        return list(Topic).index(self)


class Verb(StrEnum):
    """What became of it."""

    NEW = "new"
    GONE = "gone"
    MOVED = "moved"
    CHANGED = "changed"
    RENAMED = "renamed"


@dataclass(frozen=True)
class Detail:
    """One value before and after, in words with units; empty where there is none.

    `safety`: it comes first. `remark`: nothing is compared, `after` says it all.
    """

    what: str
    before: str
    after: str
    safety: bool = False
    remark: bool = False


@dataclass(frozen=True)
class Subject:
    """A record of the new version, or of the old one where it is gone; `kind` is in the singular, `part` a step."""

    kind: str
    id: str
    words: str
    part: str = ""

    @property
    def reference(self) -> str:
        """`task:swap-pump#close-valves`, as an author links to it."""
        return f"{self.kind}:{self.id}" + (f"#{self.part}" if self.part else "")


@dataclass(frozen=True)
class Change:
    """A difference. `people` and `sorties` are the ids of those whom it concerns in the version that has it."""

    topic: Topic
    verb: Verb
    subject: Subject
    details: tuple[Detail, ...] = ()
    people: tuple[str, ...] = ()
    sorties: tuple[str, ...] = ()

    @property
    def safety(self) -> bool:
        """Whether it touches a control, a hazard, a tether or a limit."""
        return any(detail.safety for detail in self.details)

    @property
    def order(self) -> tuple[bool, int]:
        """Safety first, then by topic; what is alike stays as found."""
        return not self.safety, self.topic.rank


def remark(what: str, words: str) -> Detail:
    """Something that is said and not compared."""
    return Detail(what, "", words, remark=True)


def detail(what: str, before: str, after: str, safety: bool = False) -> tuple[Detail, ...]:
    """A detail, or none where nothing differs."""
    return () if before == after else (Detail(what, before, after, safety),)
