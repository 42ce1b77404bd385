"""What is left out together with what it serves: a task that only serves tasks that are not done is not done either.

Pure: records and names go in, names come out. O(tasks × serving tasks), for each that leaves may let another one leave.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

from briefgen.model.work import Task


def leaving(
    serving: Mapping[str, frozenset[str]], left_out: frozenset[str], begun: Collection[str] = ()
) -> frozenset[str]:
    """The tasks left out, and with them each one of which all that it serves and that is flown is among them.

    `serving` says what each task serves; what is `begun` by then stays, whatever it serves.
    """
    gone = set(left_out)
    while more := {name for name, row in serving.items() if name not in gone and name not in begun and row <= gone}:
        gone |= more
    return frozenset(gone)


def all_served(tasks: Mapping[str, Task], flown: Collection[str]) -> dict[str, frozenset[str]]:
    """What each task flown serves of what is flown, if anything."""
    some = (name for name in flown if name in tasks and tasks[name].serves)
    return {name: row for name in some if (row := served(tasks, flown, name))}


def served(tasks: Mapping[str, Task], flown: Collection[str], task: str) -> frozenset[str]:
    """What a task serves of what is flown."""
    record = tasks.get(task)
    return frozenset(map(str, record.serves)) & frozenset(flown) if record else frozenset()
