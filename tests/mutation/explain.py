"""Why a slip survives, computed from the plan where it can be."""

from __future__ import annotations

from collections.abc import Callable

from briefgen.proof.evidence import Evidence
from tests.mutation.harmless import differences
from tests.mutation.slips import Slip

Explain = Callable[[Slip, Evidence], str]


def explained(slip: Slip, before: Evidence, after: Evidence) -> str:
    """One sentence; empty where nothing is known."""
    if slip.pair != ("", ""):
        return _another_way(before, after)
    explain = _BY_KIND.get(slip.kind)
    return explain(slip, after) if explain else ""


def _another_way(before: Evidence, after: Evidence) -> str:
    words = {
        "things": "a tool is used from a bag or a bag is taken elsewhere",
        "states": "a state is found by another way",
        "spots": "the tether hangs from another ring for a while",
    }
    ways = [words.get(name, name) for name in differences(before, after)]
    return f"The plan is sound the other way round, too: {', '.join(ways)}."


def _unseen(slip: Slip, evidence: Evidence) -> str:
    name = slip.where.split(": ")[1]
    if evidence.library.equipment[name].control:
        return "A control, but nothing relies on it any more after this look."
    return "No control: no life hangs on it, so no second pair of eyes is asked for."


def _spent(slip: Slip, evidence: Evidence) -> str:
    name = slip.where.split(": ")[0]
    left = [proved.custody.left[name] for proved in evidence.sorties.values()][-1]
    return f"The smaller lot is enough: {left} are left in the end."


def _near_home(slip: Slip, evidence: Evidence) -> str:
    proved = evidence.sorties[slip.where.split(": ")[0]]
    longest = max(home.longest for row in proved.travel.homewards.values() for home in row)
    return f"Nobody is ever farther from home than {longest / 60:.0f} min, so the shorter limit is kept."


def _still_in_reach(slip: Slip, evidence: Evidence) -> str:
    overreaches = [over for proved in evidence.sorties.values() for over in proved.travel.overreaches]
    return "" if overreaches else "From the ring before, the tether reaches everything that follows."


def _both_have_it(slip: Slip, evidence: Evidence) -> str:
    return "A joint step follows in which whoever of the two has it leaves it."


_BY_KIND: dict[str, Explain] = {
    "look left out": _unseen,
    "lot halved": _spent,
    "longest way home halved": _near_home,
    "tether not moved": _still_in_reach,
    "hand-over left out": _both_have_it,
}
