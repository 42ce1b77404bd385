"""Whether what is named is there, and what to say where it is not. No rules here: what several of them ask."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from briefgen.language.nearest import hint, nearest
from briefgen.model.figures import Figure
from briefgen.model.library import KINDS, SINGULAR
from briefgen.model.work import Step, Task
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Trouble
from briefgen.source import Address, Ref


def unknown_record(evidence: Evidence, ref: Ref) -> Iterator[Trouble]:
    """What is wrong with a reference; nothing if it leads somewhere."""
    if isinstance(ref, Address):
        yield from dead_address(evidence, ref)
    else:
        yield from _unknown(evidence, ref, ref.kinds)


def dead_address(evidence: Evidence, address: Address) -> Iterator[Trouble]:
    """What is wrong with a `kind:id`; nothing if it leads somewhere."""
    if address.kind in SINGULAR:
        yield from _unknown(evidence, address, (SINGULAR[address.kind],))
    else:
        yield Trouble(address.position, f"“{address.kind}” is no kind of record.{hint(address.kind, SINGULAR)}")


def _unknown(evidence: Evidence, ref: Ref, kinds: tuple[str, ...]) -> Iterator[Trouble]:
    if not any(evidence.knows(kind, ref) for kind in kinds):
        known = [name for kind in kinds for name in evidence.library.of(kind)]
        yield Trouble(
            ref.position, f"There is no {_singular(kinds)} “{ref}”.{hint(ref, known)}", write=nearest(ref, known)
        )
    elif ref.part:
        yield from _unknown_part(evidence, ref, kinds)


def _singular(kinds: Iterable[str]) -> str:
    return " or ".join(KINDS[kind].singular for kind in kinds)


def _unknown_part(evidence: Evidence, ref: Ref, kinds: Iterable[str]) -> Iterator[Trouble]:
    record = next((found for kind in kinds if (found := evidence.library.find(kind, ref))), None)
    whole = f"{ref.kind}:{ref}" if isinstance(ref, Address) else str(ref)
    if isinstance(record, Figure) and ref.part not in record.callouts:
        close = nearest(ref.part, record.callouts)
        sentence = f"Figure “{ref}” has no callout “{ref.part}”.{hint(ref.part, record.callouts)}"
        yield Trouble(ref.position, sentence, write=close and f"{whole}#{close}")
    elif isinstance(record, Task) and not record.named(ref.part):
        close = nearest_step(ref.part, record)
        yield Trouble(ref.position, no_step(str(ref), ref.part, record), write=close and f"{whole}#{close}")
    elif record is not None and not isinstance(record, (Figure, Task)):
        yield Trouble(ref.position, f"Only tasks and figures have parts to link to; “{ref}” is neither.")


def no_step(called: str, word: str, task: Task) -> str:
    """That a task, as it is called, has no such step, and which one was meant."""
    close = nearest_step(word, task)
    return f"Task “{called}” has no step “{word}”." + (
        f" Did you mean “{close}”?" if close else hint(word, step_names(task))
    )


def nearest_step(word: str, task: Task) -> str:
    """The step that was meant, as it is written within its task, or nothing: of a block's step, `block/step`.

    Whoever forgets the block, or misspells it, means its step all the same.
    """
    names = step_names(task)
    known = {name.rpartition("/")[2]: name for name in reversed(names)} | {name: name for name in names}
    return known.get(word if word in known else nearest(word, known), "")


def step_names(task: Task) -> list[str]:
    """What a task's steps and blocks are called, in order."""
    names = ([step.key] if not step.origin.block else [step.origin.block, _in_block(step)] for step in task.steps)
    return list(dict.fromkeys(name for row in names for name in row))


def _in_block(step: Step) -> str:
    return f"{step.origin.block}/{step.origin.local}"
