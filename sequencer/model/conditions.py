"""Whether a condition over options holds, given what was chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.model.condition_text import Comparison, Negation, parse
from sequencer.model.options import Choice, amount_in, are_the_same
from sequencer.model.quantities import to_si

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.condition_text import Term


def comparisons(term: Term) -> Iterator[Comparison]:
    """Yield the comparisons of a condition, from left to right."""
    if isinstance(term, Comparison):
        yield term
    elif isinstance(term, Negation):
        yield from comparisons(term.of)
    else:
        for part in term.terms:
            yield from comparisons(part)


def options_in(text: str) -> frozenset[str]:
    """Return the options that a condition speaks of."""
    return frozenset(comparison.option.text for comparison in comparisons(parse(text)))


def is_met(text: str, values: Mapping[str, Choice]) -> bool:
    """Tell whether a condition holds.

    Parameters
    ----------
    text : str
        The condition.
    values : mapping of str to Choice
        What was chosen, of every option that the condition speaks of.

    Raises
    ------
    ConditionError
        If the text is no condition.
    ValueError
        If it holds a word against a figure, or asks which of two words is more.

    Examples
    --------
    >>> from sequencer.model.options import choice_of
    >>> chosen = {"gap": choice_of("1 cm"), "fluid": choice_of("cold")}
    >>> is_met("gap > 5 mm and not fluid == hot", chosen)
    True
    """
    return _is_met(parse(text), values)


def _is_met(term: Term, values: Mapping[str, Choice]) -> bool:
    if isinstance(term, Comparison):
        return _compares(values[term.option.text], term)
    if isinstance(term, Negation):
        return not _is_met(term.of, values)
    found = (_is_met(part, values) for part in term.terms)
    return all(found) if term.word == "and" else any(found)


def _compares(chosen: Choice, comparison: Comparison) -> bool:
    sign = comparison.sign
    values = [literal(value.text, chosen) for value in comparison.values]
    if sign in ("==", "!=", "in", "not in"):
        found = any(are_the_same(chosen, value) for value in values)
        return found == (sign in ("==", "in"))
    (value,) = values
    if chosen.amount is None or value.amount is None:
        raise ValueError(f"`{chosen.text}` {sign} `{value.text}`: words are neither more nor less")
    one = to_si(chosen.amount.value, chosen.amount.unit)
    other = to_si(value.amount.value, value.amount.unit)
    return {"<": one < other, "<=": one <= other, ">": one > other, ">=": one >= other}[sign]


def literal(text: str, like: Choice) -> Choice:
    """Return the value that a condition names, read as a choice of the same kind as another.

    Raises
    ------
    ValueError
        If the other is a figure, and the text is none of that quantity.
    """
    if like.amount is None:
        return Choice(text)
    amount = amount_in(text, (like.amount.quantity,))
    if amount is None:
        raise ValueError(f"`{text}` is no {like.amount.quantity}")
    return Choice(text, amount)
