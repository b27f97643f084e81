"""Small pieces of plain text that several sheets put together: lists, counts, lengths of time."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


def listed(items: Sequence[str]) -> str:
    """Join with commas and a last `and`.

    Examples
    --------
    >>> listed(["the shim", "the washer", "the nut"])
    'the shim, the washer and the nut'
    """
    if not items:
        return ""
    *first, last = items
    return f"{', '.join(first)} and {last}" if first else last


def counted(count: int, one: str, many: str = "") -> str:
    """Return a number with its noun.

    Examples
    --------
    >>> counted(1, "step"), counted(3, "last chance")
    ('1 step', '3 last chances')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"


def numbered(numbers: Sequence[int]) -> str:
    """Name steps by their numbers, those in a row by the first and the last.

    Examples
    --------
    >>> numbered([9]), numbered([9, 10]), numbered([18, 19, 20])
    ('step 9', 'steps 9 and 10', 'steps 18 to 20')
    """
    if len(numbers) == 1:
        return f"step {numbers[0]}"
    first, last = numbers[0], numbers[-1]
    if last - first > 1 and list(numbers) == list(range(first, last + 1)):
        return f"steps {first} to {last}"
    return f"steps {listed([str(number) for number in numbers])}"


def duration(minutes: float) -> str:
    """Return a length of time in hours and minutes, rounded to the minute.

    Examples
    --------
    >>> duration(220), duration(45), duration(120)
    ('3 h 40 min', '45 min', '2 h')
    """
    hours, rest = divmod(round(minutes), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def shortened(text: str, length: int) -> str:
    """Return the text on one line, cut between words to at most `length` characters.

    Examples
    --------
    >>> shortened("Slide the gland over the sleeve", 20)
    'Slide the gland…'
    """
    line = " ".join(text.split())
    if len(line) <= length:
        return line
    kept = line[:length]
    at_a_word = kept.rpartition(" ")[0]
    return f"{(at_a_word if len(at_a_word) > length / 2 else kept[:-1]).rstrip(' ,;:.')}…"


def first_sentence(text: str) -> str:
    """Return the first sentence, or the first line where that is shorter.

    A full stop ends a sentence only before a space and a capital, so that `1.5 mm` and
    `approx. 3` stay whole.

    Examples
    --------
    >>> first_sentence("Seat the ring to 1.5 mm. Then turn it once.")
    'Seat the ring to 1.5 mm.'
    """
    line = next((line for line in text.splitlines() if line.strip()), "").strip()
    for at, letter in enumerate(line[:-2]):
        if letter in ".!?" and line[at + 1] == " " and line[at + 2].isupper():
            return line[: at + 1]
    return line


def opening(text: str, enough: int, length: int) -> str:
    """Return the first sentence, with those after it until there are `enough` characters.

    No sentence is added that would make more than `length` of it; a longer first one is cut.

    Examples
    --------
    >>> opening("Turn it over. Lay seven balls in. Grease them.", 20, 40)
    'Turn it over. Lay seven balls in.'
    """
    told = first_sentence(text)
    line = next((line for line in text.splitlines() if line.strip()), "").strip()
    while len(told) < enough:
        further = first_sentence(line[len(told) :])
        if not further or len(told) + 1 + len(further) > length:
            break
        told += f" {further}"
    return shortened(told, length)


def on_paper(message: str) -> str:
    """Return a message as it is printed, where steps have numbers and need no ids beside them.

    Examples
    --------
    >>> on_paper("step 23 (`seal-on`) fits `seal`, which is awaited")
    'step 23 fits seal, which is awaited'
    """
    return re.sub(r" \(`[^`]*`\)", "", message).replace("`", "")


def runs_of(numbers: Sequence[int]) -> str:
    """Name numbers, those in a row by the first and the last.

    Examples
    --------
    >>> runs_of([1, 2, 3, 5, 7, 8])
    '1 to 3, 5, 7, 8'
    """
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run))  # noqa: PLR2004  # "2, 3"
        for run in runs
    )
