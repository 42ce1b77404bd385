"""Tasks that are like another: all of the other one, with ids exchanged, and with their own keys instead of its."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.expansion.exchange import Exchange
from briefgen.findings import Finding, Level, Related
from briefgen.language.nearest import hint, nearest
from briefgen.model.tasks import WrittenTask
from briefgen.source import Text

_TAKEN = tuple(key for key in WrittenTask.model_fields if key not in ("accepts", "like", "instead"))


class Likes:
    """Written tasks by id. `task` gives each with all that it takes from others; `findings` says what went wrong."""

    def __init__(self, tasks: Mapping[str, WrittenTask]) -> None:
        self._tasks = tasks
        self._whole: dict[str, WrittenTask | None] = {}
        self.findings: list[Finding] = []

    def task(self, name: str) -> WrittenTask | None:
        """The task with everything that it takes; nothing where that leads nowhere or in a circle."""
        chain: dict[str, WrittenTask] = {}
        at = name
        while at not in self._whole:
            if at in chain:
                self._circle(list(chain.values())[list(chain).index(at) :])
                break
            written = chain[at] = self._tasks[at]
            if written.like is None or str(written.like) not in self._tasks:
                break
            at = str(written.like)
        for key in reversed(chain):
            if key not in self._whole:
                self._whole[key] = self._taken(chain[key])
        return self._whole[name]

    def _circle(self, tasks: list[WrittenTask]) -> None:
        names = " → ".join(f"“{one.id}”" for one in [*tasks, tasks[0]])
        at = min(tasks, key=lambda one: one.id.position)
        assert at.like is not None
        related = tuple(Related(one.id.position, f"“{one.id}”") for one in tasks if one is not at)
        sentence = (
            f"These tasks are each like the next, so none of them says anything: {names}. Write the steps of one."
        )
        line = "steps: [{who: …, do: …, takes: …}]"
        self.findings.append(Finding("like-in-a-circle", Level.ERROR, at.like.position, sentence, related, line))
        self._whole |= {str(one.id): None for one in tasks}

    def _taken(self, written: WrittenTask) -> WrittenTask | None:
        if written.like is None:
            self.findings += _without_like(written)
            return written
        other = self._whole.get(str(written.like))
        if other is None:
            return None
        exchange = Exchange({**written.instead, **_itself(written)})
        changes = {
            key: exchange.of(getattr(other, key))
            for key in _TAKEN
            if key not in written.model_fields_set or getattr(written, key) is None
        }
        new = written.model_copy(update=changes).known_as(written.id)
        self.findings += _unused(written, other, exchange)
        self.findings += _merged(written, exchange)
        return new


def _itself(written: WrittenTask) -> dict[Text, Text]:
    """What the other task says of itself, this one says of itself."""
    assert written.like is not None
    return {} if written.like in written.instead else {written.like: Text(written.id, written.like.position)}


def _without_like(written: WrittenTask) -> Iterator[Finding]:
    if written.instead:
        first = next(iter(written.instead))
        yield Finding(
            "instead-without-like", Level.ERROR, first.position,
            f"Task “{written.id}” says what stands instead, but not which task it is like.", write="like: …",
            write_at=written.spot("instead"),
        )  # fmt: skip


def _unused(written: WrittenTask, other: WrittenTask, exchange: Exchange) -> Iterator[Finding]:
    for old in written.instead:
        if str(old) not in exchange.used:
            known = {str(value) for value in other.values if hasattr(value, "kinds")}
            yield Finding(
                "instead-of-nothing", Level.ERROR, old.position,
                f"Task “{other.id}” never names “{old}”, so nothing can stand instead of it.{hint(old, known)}",
                (Related(other.id.position, f"“{other.id}”"),), write=nearest(old, known),
            )  # fmt: skip


def _merged(written: WrittenTask, exchange: Exchange) -> Iterator[Finding]:
    for old, new in dict.fromkeys(exchange.merged):
        place = next((value.position for key, value in written.instead.items() if key == old), None)
        if place is not None:
            yield Finding(
                "instead-of-two", Level.ERROR, place,
                f"Where task “{written.like}” names “{new}” and “{old}” together, both would be “{new}”: one would be "
                f"lost. Say what stands instead of “{new}”, too.",
            )  # fmt: skip
