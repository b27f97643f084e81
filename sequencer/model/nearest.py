"""The word that was most likely meant, of those that are known."""

from __future__ import annotations

import difflib
from functools import lru_cache


@lru_cache(maxsize=1024)  # a slip is often made more than once
def nearest(word: str, words: tuple[str, ...], cutoff: float = 0.6) -> str | None:
    """Return what `difflib.get_close_matches` calls the closest of some words, if any is close.

    Words that cannot be close are passed over by two bounds that cost little: by the lengths, and
    by how many letters of the one are in the other at all.

    Parameters
    ----------
    word : str
        What was typed.
    words : tuple of str
        What is known.
    cutoff : float
        How much of both has to be alike, from 0 to 1.

    Examples
    --------
    >>> nearest("tume", ("do", "time", "fits")), nearest("colour", ("do", "time", "fits"))
    ('time', None)
    """
    length = len(word)
    hopeful = []
    for known, letters in _letters(words):
        least = cutoff * (length + len(known)) / 2
        if min(length, len(known)) >= least and length - len(word.translate(letters)) >= least:
            hopeful.append(known)
    near = difflib.get_close_matches(word, hopeful, n=1, cutoff=cutoff) if hopeful else []
    return near[0] if near else None


@lru_cache(maxsize=256)
def _letters(words: tuple[str, ...]) -> tuple[tuple[str, dict[int, None]], ...]:
    """Return each word with a table that takes its letters out of another word."""
    return tuple((word, dict.fromkeys(map(ord, word))) for word in words)
