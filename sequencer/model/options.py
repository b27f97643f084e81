"""What a model leaves to choose: options, their choices, and which were taken."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sequencer.model.fields import Many, Text, holds
from sequencer.model.quantities import Amount, AmountError, read_amount, to_si
from sequencer.model.units import UNITS

ANY = tuple(UNITS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """Something that is chosen before the work: words or figures, one of which holds."""

    id: str
    choices: tuple[str, ...] = holds(
        Many(Text()), "What there is to choose from, such as `standard`.", required=True
    )
    default: str = holds(Text(), "What holds unless another choice is taken.", default="")
    ask: str = holds(Text(), "The question it answers, such as `Fluid above 80 °C`.", default="")


@dataclass(frozen=True, slots=True)
class Choice:
    """One choice: its words as typed, and the figure if it is one."""

    text: str
    amount: Amount | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """The choice that a model was resolved by: of which option, and what that asks."""

    option: str
    choice: str
    ask: str = ""

    @property
    def label(self) -> str:
        """What to call the option on the sheets."""
        return self.ask or self.option


@lru_cache(maxsize=4096)
def choice_of(text: str) -> Choice:
    """Return what a choice says: a figure where it can be read as one.

    Examples
    --------
    >>> choice_of("8 mm").amount.si, choice_of("hot").amount
    (0.008, None)
    """
    return Choice(text, amount_in(text, ANY))


@lru_cache(maxsize=4096)
def amount_in(text: str, quantities: tuple[str, ...]) -> Amount | None:
    """Return the one figure that a text holds; None if it holds none or a range."""
    try:
        return read_amount(text, quantities, limits=False)
    except AmountError:
        return None


def are_the_same(one: Choice, other: Choice) -> bool:
    """Tell whether two choices are one: the same words, or figures of the same size.

    Examples
    --------
    >>> are_the_same(choice_of("10 mm"), choice_of("1 cm"))
    True
    """
    if one.amount is None or other.amount is None:
        return one.text == other.text
    return one.amount.quantity == other.amount.quantity and (
        to_si(one.amount.value, one.amount.unit) == to_si(other.amount.value, other.amount.unit)
    )


def taken_as(option: Option, text: str) -> Choice | None:
    """Return the choice of an option that a text means; None if it means none of them."""
    wanted = choice_of(text)
    choices = (choice_of(choice) for choice in option.choices)
    return next((choice for choice in choices if are_the_same(choice, wanted)), None)
