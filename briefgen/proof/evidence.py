"""Everything that is computed from a library, each piece once and only when it is asked for.

Rules, charts and pages all look here, so that a page can't show another number than the one that was proved.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from briefgen.cache.results import NO_RESULTS, KeptResults
from briefgen.expansion.expand import expand
from briefgen.model.library import ANY_ID, Library
from briefgen.model.work import Sortie, Task
from briefgen.proof.deciding.cases.proofs import CaseProof, failing, prove_cases
from briefgen.proof.deciding.drops import Dropping, dropping
from briefgen.proof.deciding.extras import Extras, extras
from briefgen.proof.deciding.latest import Latest, latest_begins
from briefgen.proof.deciding.variant import Omissions, Variant
from briefgen.proof.holding.custody import CustodyProof, Spot, first_spots, first_stock, prove_custody
from briefgen.proof.moving.homeward import HomeLine, WaysHome
from briefgen.proof.moving.lengths import Lengths
from briefgen.proof.moving.routes import Routes
from briefgen.proof.moving.travel import Travel, prove_travel, time_home
from briefgen.proof.moving.whereabouts import Whereabouts, whereabouts
from briefgen.proof.ordering.awaiting import with_waits
from briefgen.proof.ordering.states import AtStart, Item, StateProof, first_states, prove_states
from briefgen.proof.plan import Plan, make_plan
from briefgen.proof.resources.light import Light, prove_light
from briefgen.proof.resources.supplies import Supplies, prove_supplies
from briefgen.proof.schedule.holds import Hold, holds
from briefgen.proof.schedule.numbers import step_numbers
from briefgen.proof.schedule.timeline import Timeline, make_timeline
from briefgen.proof.soundness import Fault, all_faults
from briefgen.proof.stopping.given import Given
from briefgen.proof.stopping.searches import kept_chance, kept_extras, kept_stops
from briefgen.proof.stopping.stops import Caller, Stop
from briefgen.source import Position, find_words

if TYPE_CHECKING:
    from briefgen.proof.chance.outcome import Chance


class SortieEvidence:
    """What is computed for one sortie. Times are asked for only where `plan.circle` is empty."""

    def __init__(self, evidence: Evidence, sortie: Sortie) -> None:
        self.evidence = evidence
        self.library = evidence.library
        self.sortie = sortie
        self.omissions = Omissions(self)

    @cached_property
    def plan(self) -> Plan:
        """Who does which step in what order."""
        return make_plan(self.library, self.sortie)

    @cached_property
    def before(self) -> SortieEvidence | None:
        """The sortie run before this one."""
        sorties = list(self.evidence.sorties.values())
        return sorties[index - 1] if (index := sorties.index(self)) else None

    @cached_property
    def is_last(self) -> bool:
        """Whether no sortie begins with what this one leaves."""
        return list(self.evidence.sorties.values())[-1] is self

    @cached_property
    def states(self) -> StateProof:
        """Equipment states; the sortie begins with what the one before left."""
        return prove_states(self.plan, self.state_starts)

    @cached_property
    def state_starts(self) -> Mapping[Item, AtStart]:
        """The states in which the sortie finds all equipment."""
        return self.before.states.ends if self.before else first_states(self.library.equipment)

    @cached_property
    def custody(self) -> CustodyProof:
        """Tools and bags; the sortie begins with what the one before left."""
        return prove_custody(self.plan, self.spot_starts, self.stock)

    @cached_property
    def spot_starts(self) -> Mapping[str, Spot]:
        """Where the sortie finds tools and bags."""
        return self.before.custody.ends if self.before else first_spots(self.library)

    @cached_property
    def stock(self) -> Mapping[str, int]:
        """How many of each consumable the sortie finds."""
        return self.before.custody.left if self.before else first_stock(self.library)

    @cached_property
    def variants(self) -> tuple[Variant, ...]:
        """The sortie as planned, with each optional task left out, and with all of them left out."""
        return self.omissions.variants

    def leaving(self, left_out: frozenset[str], begun: frozenset[str] = frozenset()) -> frozenset[str]:
        """These tasks, and those that serve nothing else; what is `begun` by then stays."""
        return self.omissions.leaving(left_out, begun)

    def without(self, left_out: frozenset[str]) -> Variant:
        """The sortie without these tasks and what only serves them, begun as those before it would leave things."""
        return self.omissions.variant(self.leaving(left_out))

    @cached_property
    def tasks(self) -> frozenset[str]:
        """The tasks that are flown, wholly or in part."""
        return frozenset(str(step.task.id) for step in self.plan.steps)

    @cached_property
    def tasks_so_far(self) -> frozenset[str]:
        """The tasks of this sortie and of those before it."""
        earlier = self.before.tasks_so_far if self.before else frozenset[str]()
        return earlier | self.tasks

    @cached_property
    def timeline(self) -> Timeline:
        """Earliest and latest times of every step, as planned."""
        return make_timeline(self.plan, self.evidence.routes)

    def timeline_without(self, left_out: frozenset[str], begun: frozenset[str] = frozenset()) -> Timeline:
        """The times without these tasks and what only serves them, begun as planned; what is `begun` is done."""
        return self.omissions.timeline(self.leaving(left_out, begun))

    def holds_without(self, left_out: frozenset[str], begun: frozenset[str] = frozenset()) -> bool:
        """Whether everything that holds of the plan holds without these tasks, too; what is advised must."""
        return self.omissions.holds(self.leaving(left_out, begun))

    def new_fault(self, plan: Plan, timeline: Timeline) -> Fault | None:
        """A fault of another plan of this sortie that the sortie as planned has not; None where it is as sound."""
        return next((fault for fault in all_faults(self, plan, timeline) if fault not in self.faults), None)

    @cached_property
    def faults(self) -> frozenset[Fault]:
        """What does not hold of the sortie as planned, or of what is done in its cases."""
        return frozenset(all_faults(self, self.plan, self.timeline))

    failing_cases = failing

    @cached_property
    def cases(self) -> tuple[CaseProof, ...]:
        """What is done if a step does not go as planned, each case proved as a plan of its own."""
        return tuple(prove_cases(self))

    @cached_property
    def latest(self) -> tuple[Latest, ...]:
        """By when each task must begin."""
        return latest_begins(self)

    @cached_property
    def dropping(self) -> Dropping:
        """What to leave out first when the crew is late."""
        return dropping(self)

    @cached_property
    def extras(self) -> Extras:
        """Which get-aheads fit into what is left."""
        return kept_extras(self, lambda: extras(self))

    @cached_property
    def chance(self) -> Chance:
        """How likely the sortie ends in time."""
        return kept_chance(self)

    @cached_property
    def travel(self) -> Travel:
        """Ways, tethers and times home, whatever the times turn out to be."""
        return self.travel_of(self.plan)

    @cached_property
    def travels(self) -> tuple[tuple[frozenset[str], Travel], ...]:
        """The same for every variant, with the tasks that it leaves out."""
        return tuple((one.left_out, self.travel_of(one.plan) if one.left_out else self.travel) for one in self.variants)

    def travel_of(self, plan: Plan) -> Travel:
        """The travel of a plan of this sortie, be it another than the one that is flown."""
        return prove_travel(plan, self.evidence.routes, self.evidence.lengths, self.evidence.ways_home)

    @cached_property
    def holds(self) -> tuple[Hold, ...]:
        """Where somebody holds until somebody else is done."""
        return tuple(holds(self.plan, self.timeline))

    @cached_property
    def whereabouts(self) -> Whereabouts:
        """Where everybody outside is at every moment."""
        return whereabouts(self.travel.trails, self.timeline)

    @cached_property
    def time_home(self) -> Mapping[str, HomeLine]:
        """By person."""
        return time_home(self.whereabouts, self.travel)

    @cached_property
    def stops(self) -> tuple[Stop, ...]:
        """What a stop at every moment would leave open, and how it is closed up."""
        return kept_stops(self, lambda: tuple(self.caller.call()))

    @cached_property
    def caller(self) -> Caller:
        """Calls stops, on the planned line and off it."""
        known, proofs = self.evidence, (self.timeline, self.states, self.custody, self.travel)
        return Caller(Given(*proofs, self.whereabouts, self.time_home, known.routes, known.ways_home, known.lengths))

    @cached_property
    def supplies(self) -> Supplies:
        """What each suit has left at every moment."""
        return prove_supplies(self.library, self.whereabouts)

    @cached_property
    def light(self) -> Light:
        """Day and night along the sortie."""
        return prove_light(self.sortie, self.timeline)

    def light_of(self, variant: Variant) -> Light:
        """The light of a variant, with the times that it has then."""
        if variant.plan is self.plan:
            return self.light
        return prove_light(self.sortie, make_timeline(variant.plan, self.evidence.routes))


class Evidence:
    """What is computed for a library, which is expanded first: `written` is what the author wrote.

    `broken` names records that were written but not understood. `sources` holds each file's lines, for the exact place
    of a word inside a text. `prose` is the text of each of the author's own pages, by file.
    `results` are those of long searches, by what they follow from.
    """

    def __init__(
        self,
        library: Library,
        broken: frozenset[tuple[str, str]] = frozenset(),
        sources: Mapping[str, tuple[str, ...]] | None = None,
        prose: Mapping[str, str] | None = None,
        results: KeptResults = NO_RESULTS,
    ) -> None:
        self.written = library
        self.prose = prose or {}
        self.expansion = expand(library)
        self.library = with_waits(self.expansion.library)
        self.broken = broken | self.expansion.lost
        self.sources = sources or {}
        self.results = results

    def place_of_words(self, words: str, start: Position, occurrence: int = 0) -> Position:
        """Where `words` stand in the file for the nth time from `start` on; `start` where they can't be found."""
        return find_words(self.sources.get(start.file, ()), words, start, occurrence)

    @cached_property
    def routes(self) -> Routes:
        """The shortest ways between places, by time."""
        return Routes(self.library)

    @cached_property
    def lengths(self) -> Lengths:
        """Lengths along routes, in metres."""
        return Lengths(self.library)

    @cached_property
    def ways_home(self) -> WaysHome:
        """How long the way home takes from every place."""
        return WaysHome(self.library, self.routes)

    @cached_property
    def sorties(self) -> Mapping[str, SortieEvidence]:
        """By id, in the programme's order."""
        return {str(sortie.id): SortieEvidence(self, sortie) for sortie in self.library.ordered_sorties}

    @cached_property
    def flown(self) -> frozenset[str]:
        """The tasks that any sortie flies, wholly or in part."""
        return frozenset(task for proved in self.sorties.values() for task in proved.tasks)

    @cached_property
    def shown(self) -> Library:
        """The library in which who may do a get-ahead is who does it in today's plan."""
        found: dict[str, Task] = {}
        some = any(one.whoever for one in self.library.tasks.values())
        for proved in (one for one in self.sorties.values() if some and not one.plan.circle):
            found = {str(one.record.id): one.record for one in proved.extras.fitting if one.record.whoever} | found
        return Library({**self.library.records, "tasks": {**self.library.tasks, **found}}) if found else self.library

    @cached_property
    def numbers(self) -> Mapping[str, int]:
        """By `task/step`, the number under which a step is told."""
        starts: dict[str, float] = {}
        for proved in self.sorties.values():
            for times in () if proved.plan.circle else proved.timeline.times:
                starts.setdefault(times.step.key, times.start)
        return step_numbers(self.library.tasks.values(), starts)

    def knows(self, kind: str, identifier: str) -> bool:
        """Whether such a record was written, sound or not."""
        return self.library.find(kind, identifier) is not None or not self.broken.isdisjoint(
            {(kind, str(identifier)), (kind, ANY_ID)}
        )
