"""How times, amounts and counts are said, on pages, in terminals and in files: each with its unit."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from briefgen.units import MINUTE, Duration, show_duration, show_elapsed, show_number


def takes(duration: Duration) -> str:
    """`4 min`, or the three points `3/4/7 min` in the unit that suits the longest.

    >>> takes(Duration(180, 240, 420)), takes(Duration(30, 60, 90)), takes(Duration(90, 90, 90))
    ('3/4/7 min', '30/60/90 s', '1 min 30 s')
    """
    if not duration.three_points:
        return show_duration(duration.likely)
    unit, size = ("min", MINUTE) if duration.high >= 2 * MINUTE else ("s", 1.0)
    points = (show_number(seconds / size, 2) for seconds in (duration.low, duration.likely, duration.high))
    return f"{'/'.join(points)} {unit}"


def span(start: float, end: float) -> str:
    """`1:20:00 to 1:28:00`, elapsed time in hours, minutes and seconds."""
    return f"{show_elapsed(start)} to {show_elapsed(end)}"


def hours(seconds: float) -> str:
    """`6:15`, hours and minutes; the unit, h, is written beside it."""
    minutes = round(seconds / MINUTE)
    return f"{minutes // 60}:{minutes % 60:02d}"


def stretch(start: float, end: float) -> str:
    """`1:20 to 1:28 h`, elapsed time in hours and minutes, for where no second matters.

    >>> stretch(4790, 5310)
    '1:20 to 1:28 h'
    """
    return f"{hours(start)} to {hours(end)} h"


def count(number: int, one: str, many: str = "") -> str:
    """`1 step`, `4 steps`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def metres(length: float) -> str:
    """`8.5 m`."""
    return f"{show_number(length, 1)} m"


def kilograms(mass: float) -> str:
    """`2.4 kg`, and grams below a tenth of it.

    >>> kilograms(2.4), kilograms(0.05)
    ('2.4 kg', '50 g')
    """
    return f"{show_number(mass, 2)} kg" if mass >= 0.1 or mass == 0 else f"{show_number(mass * 1000, 0)} g"


def listing(words: Sequence[str], last: str = "and") -> str:
    """`a, b and c`."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}" if words else ""


def numbered(numbers: Iterable[int]) -> str:
    """Numbers in order, more than two in a row as one stretch: `1, 2, 4 to 6 and 9`.

    >>> numbered([4]), numbered([4, 5]), numbered([4, 5, 6]), numbered([1, 2, 4, 5, 6, 9])
    ('4', '4 and 5', '4 to 6', '1, 2, 4 to 6 and 9')
    """
    rows: list[list[int]] = []
    for number in numbers:
        if rows and rows[-1][-1] == number - 1:
            rows[-1].append(number)
        else:
            rows.append([number])
    stretches = ([f"{row[0]} to {row[-1]}"] if len(row) > 2 else map(str, row) for row in rows)
    return listing([words for stretch in stretches for words in stretch])


def steps_words(numbers: Collection[int]) -> str:
    """`step 4`, `steps 4 and 5`.

    >>> steps_words({4}), steps_words([9, 4, 6, 4])
    ('step 4', 'steps 4, 6 and 9')
    """
    each = sorted(set(numbers))
    return f"step{'s' * (len(each) > 1)} {numbered(each)}"


def capital(words: str) -> str:
    """The words with a capital at their beginning."""
    return words[:1].upper() + words[1:]
