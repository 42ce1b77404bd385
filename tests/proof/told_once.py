"""Random plans whose authors say once what holds for several: blocks, confirmations, defaults, likes, short names.

Also people inside without a flow of their own, and hazards that steps inherit. Likes, defaults and short names leave
the plan as it is; all else may make it better or worse.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

from tests.proof.acting import STATES, Content, Raw
from tests.proof.deeds import Plan, listed
from tests.proof.likened import liken
from tests.proof.written_out import written_out


def tell_once(rng: random.Random, content: Content) -> None:
    """Rewrites a plain content; each way of saying things once is taken in some of the plans."""
    _name_all(content)
    if rng.random() < 0.2:
        _inherit(rng, content)
    for _ in range(rng.choice([0, 0, 1, 1, 2])):
        _confirm(rng, content)
    if rng.random() < 0.5:
        _block(rng, content)
    for task in content["tasks"].values():
        if rng.random() < 0.4:
            _default(rng, content, task)
    if rng.random() < 0.1:
        _set_free(rng, content)
    _shorten(rng, content)
    if rng.random() < 0.4:
        liken(rng, content)


def _steps(task: Raw) -> Iterator[Raw]:
    for entry in task["steps"]:
        yield from entry.get("steps", [entry])


def _all_steps(content: Content) -> Iterator[tuple[str, Raw]]:
    for name, task in content["tasks"].items():
        yield from ((name, step) for step in _steps(task))


# Names ----------------------------------------------------------------------------------------------------------


def _name_all(content: Content) -> None:
    """Every step has an id, and is called by it."""
    ids = {}
    for name, task in content["tasks"].items():
        for number, step in enumerate(task["steps"], start=1):
            new = step.get("id", f"y{number}")
            ids |= {f"{name}/{number}": f"{name}/{new}", f"{name}/{new}": f"{name}/{new}"}
            step["id"] = new
    for _, step in _all_steps(content):
        if "after" in step:
            step["after"] = [*dict.fromkeys(ids[one] for one in step["after"])]
    for name, task in content["tasks"].items():
        for entry in task.get("prerequisites", []):
            if not isinstance(entry, str) and "before" in entry:
                entry["before"] = [*dict.fromkeys(ids[f"{name}/{one}"].split("/")[1] for one in entry["before"])]
    for sortie in content["sorties"].values():
        for who, row in sortie["flow"].items():
            sortie["flow"][who] = [ids.get(one, one) for one in row]


def _shorten(rng: random.Random, content: Content) -> None:
    """Names of steps in `after` as short as they may be; some steps lose their id and are called by their number."""
    for name, task in content["tasks"].items():
        above, blocks = "", {entry["id"]: entry for entry in task["steps"] if "steps" in entry}
        for entry in task["steps"]:
            inside = entry if "steps" in entry else None
            first = True
            for step in _steps({"steps": [entry]}):
                step["after"] = [_short(rng, name, one, inside, above, blocks) for one in step.get("after", [])]
                step["after"] = [*dict.fromkeys(step["after"])]
                if not step["after"]:
                    del step["after"]
                above = f"{name}/{entry['id']}/{step['id']}" if inside else f"{name}/{step['id']}"
                first = False
            assert not first
            above = f"{name}/{entry['id']}" if inside else above


def _short(rng: random.Random, task: str, name: str, inside: Raw | None, above: str, blocks: dict[str, Raw]) -> str:
    if name == above and rng.random() < 0.5:
        return "previous"
    other, _, step = name.partition("/")
    if other != task or rng.random() < 0.4:
        return name
    block, _, local = step.partition("/")
    if inside and local and inside is blocks.get(block) and rng.random() < 0.5:
        return local
    return step


# What changes the plan ------------------------------------------------------------------------------------------


def _inherit(rng: random.Random, content: Content) -> None:
    """A hazard on a place, a tool or an equipment, which belongs to every step there, with it, or that sets it."""
    if "hazards" not in content:
        words = {"signal": "danger", "hazard": "It is live.", "consequence": "It burns.", "avoid": "Keep off."}
        content["hazards"] = {"shock": {**words, "controls": {"feed": rng.choice(["on", "off"])}}}
    kind = rng.choice(["places", "tools", "equipment"])
    content[kind][rng.choice(list(content[kind]))]["hazards"] = ["shock"]


def _confirm(rng: random.Random, content: Content) -> None:
    """A step that sets something is confirmed by somebody, mostly somebody else."""
    setters = [(task, step) for task, step in _all_steps(content) if step.get("sets") and "confirmed_by" not in step]
    if not setters:
        return
    wanted = [(task, step) for task, step in setters if _relied_elsewhere(content, task, step)]
    task, step = rng.choice(wanted if wanted and rng.random() < 0.7 else setters)
    people = [who for who in content["people"] if who not in listed(step["who"])] or [*content["people"]]
    who = rng.choice(people)
    told: Raw = {"who": who, "do": "Look.", "takes": "1 min"}
    if rng.random() < 0.3:
        told["id"] = f"{step['id']}-seen"
    if content["people"][who]["post"] == "outside" and ("at" not in step or rng.random() < 0.3):
        told["at"] = rng.choice(["lock", "bay", "rack"])
    order = _in_order(content)
    if f"{task}/{step['id']}" not in order:
        return
    step["confirmed_by"] = told
    for sortie in content["sorties"].values():
        _into_flow(
            content, sortie, who, f"{task}/{step['id']}", f"{task}/{told.get('id', step['id'] + '-confirmed')}", order
        )


def _relied_elsewhere(content: Content, task: str, step: Raw) -> bool:
    """Whether a step of another task requires what this one sets."""
    return any(
        other != task and one.get("requires", {}).items() & step["sets"].items() for other, one in _all_steps(content)
    )


def _in_order(content: Content) -> list[str]:
    """Every step of the plain content, each after all that it waits for; none where they wait in a circle."""
    found: list[str] = []
    for sortie in content["sorties"].values():
        plan = Plan(written_out(content), sortie, frozenset())
        left = dict(plan.waits)
        while ready := [key for key in left if not left[key] - {*found}]:
            found.append(ready[0])
            del left[ready[0]]
    return found


def _into_flow(content: Content, sortie: Raw, who: str, of: str, look: str, order: list[str]) -> None:
    """Whoever confirms does it where the order of all steps has it, if they have a flow that does not name the task."""
    outside = content["people"][who]["post"] == "outside"
    flow = sortie["flow"]
    if not any(of.split("/")[0] == one.split("/")[0] for row in flow.values() for one in row):
        return
    if not outside and who not in flow:
        return
    row = flow.setdefault(who, [])
    if of.split("/")[0] in row:
        return
    seat = order.index(of)
    for at, entry in enumerate(row):
        last = [n for n, key in enumerate(order) if entry in (key, key.split("/")[0])]
        if last and last[0] > seat:
            row.insert(at, look)
            return
    row.append(look)


def _block(rng: random.Random, content: Content) -> None:
    """One to three steps of a task that stand together are done for every plate, or for some."""
    tasks = [(name, task) for name, task in content["tasks"].items()]
    name, task = rng.choice(tasks)
    rows = [
        (start, end)
        for start in range(len(task["steps"]))
        for end in range(start + 1, min(start + 3, len(task["steps"])) + 1)
        if rng.random() < 0.1 or not any(_moves(step) for step in task["steps"][start:end])
    ]
    if not rows:
        return
    start, end = rng.choice(rows)
    where = rng.choice([{"row": ["1"]}, {"seat": ["a"]}, {"row": ["2"], "seat": ["b"]}, {"row": ["1"]}, {}])
    if end - start == 3 and not where:
        where = {"row": ["2"]}
    rows_of = [step["each"]["where"]["row"] for step in task["steps"][start:end] if isinstance(step.get("each"), dict)]
    if rows_of:
        where = {"row": rows_of[0]}
    if any(row != where.get("row", row) for row in rows_of):
        return
    block: Raw = {"id": "blk", "each": "plates", "steps": task["steps"][start:end]}
    if where and rng.random() < 0.5:
        block["each"] = {"equipment": "plates", "where": where}
    elif where:
        block["where"] = where
    task["steps"][start:end] = [block]
    names = {f"{name}/{step['id']}": f"{name}/blk/{step['id']}" for step in block["steps"]}
    _rename(rng, content, name, names)


def _moves(step: Raw) -> bool:
    return any(key in step for key in ("picks", "leaves", "hands"))


def _rename(rng: random.Random, content: Content, task: str, names: dict[str, str]) -> None:
    for _, step in _all_steps(content):
        if "after" in step:
            step["after"] = [*dict.fromkeys(names.get(one, one) for one in step["after"])]
            own = step in [one for entry in content["tasks"][task]["steps"] for one in entry.get("steps", [])]
            if not own and rng.random() < 0.3:
                whole = [f"{task}/blk" if one in names.values() else one for one in step["after"]]
                step["after"] = [*dict.fromkeys(whole)]
    for entry in content["tasks"][task].get("prerequisites", []):
        if not isinstance(entry, str) and "before" in entry:
            entry["before"] = [names.get(f"{task}/{one}", f"{task}/{one}").split("/", 1)[1] for one in entry["before"]]
    for sortie in content["sorties"].values():
        for who, row in sortie["flow"].items():
            mine = [one for one in row if one in names or _looks_at(one, names)]
            looks = any(_looks_at(one, names) for one in mine)
            in_turn = looks or (len(mine) > 1 and rng.random() < 0.8)
            named = [f"{task}/blk" if one in mine and in_turn else names.get(one, one) for one in row]
            sortie["flow"][who] = [*dict.fromkeys(named)]


def _looks_at(entry: str, names: dict[str, str]) -> bool:
    return any(entry in (f"{one}-seen", f"{one}-confirmed") for one in names)


def _default(rng: random.Random, content: Content, task: Raw) -> None:
    """What most steps of a task say is said once; now and then something that none of them said."""
    defaults: Raw = {}
    for key in ("who", "at"):
        said = [step[key] for step in _steps(task) if isinstance(step.get(key), str)]
        if said and rng.random() < 0.8:
            common = max(said, key=said.count)
            defaults[key] = common
            for step in _steps(task):
                # Who is inside has no place, so that a default place does not matter to them.
                if step.get(key) == common:
                    del step[key]
    if rng.random() < 0.04:
        name = rng.choice([*STATES])
        defaults["requires"] = {name: rng.choice(STATES[name])}
    if rng.random() < 0.04:
        defaults["with"] = [rng.choice(["driver", "socket"])]
    if rng.random() < 0.06:
        defaults["restraint"] = rng.choice(["hand rail", "foot plate"])
        for step in _steps(task):
            if rng.random() < 0.3:
                step.setdefault("restraint", "none")
    if defaults:
        task["defaults"] = defaults


def _set_free(rng: random.Random, content: Content) -> None:
    """Somebody inside or on the ground has no flow of their own any more."""
    for sortie in content["sorties"].values():
        named = {who: {one.split("/")[0] for one in row} for who, row in sortie["flow"].items()}
        inside = [
            who
            for who, tasks in named.items()
            if content["people"][who]["post"] != "outside"
            and tasks <= {one for other, row in named.items() if other != who for one in row}
        ]
        if inside:
            del sortie["flow"][rng.choice(inside)]
