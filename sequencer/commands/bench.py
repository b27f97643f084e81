"""What the bench calculators do alike: read figures, show the working, tell what is wrong."""

from __future__ import annotations

import json
import sys
import textwrap
from dataclasses import asdict, dataclass, field
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal
from functools import wraps
from itertools import count
from typing import TYPE_CHECKING, ParamSpec, TypeAlias

import click

from sequencer.commands.common import NOT_OK, OK, UNREADABLE

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence
    from fractions import Fraction

    from sequencer.model.quantities import Amount

    Value: TypeAlias = "str | float | bool | Sequence[Value] | Mapping[str, Value] | None"

MAKER_FIRST = "The maker's figure comes first: this is a cross-check, never a specification."

_WIDTH = 80
_LABEL = 9
_SURE = Context(prec=12)  # what a float holds for certain; the rest is dust

_Arguments = ParamSpec("_Arguments")


@dataclass(frozen=True, slots=True)
class Working:
    """One formula, the same with the numbers put in, and where the formula and tables stand."""

    formula: str
    numbers: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Answer:
    """What a calculator found: lines of result, the working behind them, and what to mind.

    `values` holds the figures of the result for scripts, each named with its unit; `ok` is
    False where what was asked about will not do.
    """

    result: tuple[str, ...]
    working: tuple[Working, ...]
    notes: tuple[str, ...] = ()
    values: Mapping[str, Value] = field(default_factory=dict)
    ok: bool = True


def calculator(command: Callable[_Arguments, Answer]) -> Callable[..., None]:
    """Give a function that returns an answer `--json`, its printing and its exit codes."""

    @click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
    @wraps(command)
    def run(*args: _Arguments.args, **kwargs: _Arguments.kwargs) -> None:
        from sequencer.model.quantities import AmountError
        from sequencer.trade.basics import TradeError

        as_json = bool(kwargs.pop("as_json"))
        try:
            answer = command(*args, **kwargs)
        except (AmountError, TradeError) as error:
            _refuse(error.what, error.fix, as_json=as_json)
            sys.exit(UNREADABLE)
        click.echo(_as_json(answer) if as_json else _as_text(answer))
        sys.exit(OK if answer.ok else NOT_OK)

    return run


def _refuse(what: str, fix: str, *, as_json: bool) -> None:
    if as_json:
        told = {"ok": False, "error": {"what": what, "fix": fix}}
        click.echo(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        click.echo(f"error: {what}\n  = fix: {fix}", err=True)


def _as_json(answer: Answer) -> str:
    whole = {
        "ok": answer.ok,
        "result": answer.result,
        "values": answer.values,
        "working": [asdict(working) for working in answer.working],
        "notes": answer.notes,
        "maker": MAKER_FIRST,
    }
    return json.dumps(whole, ensure_ascii=False, indent=2)


def _as_text(answer: Answer) -> str:
    return "\n".join((*answer.result, "", *_explained(answer)))


def _explained(answer: Answer) -> Iterator[str]:
    for working in answer.working:
        yield _labelled("formula", working.formula)
        for line in working.numbers:
            yield _labelled("", line)
        yield _labelled("source", working.source)
    for note in answer.notes:
        yield _labelled("note", note)
    yield _labelled("maker", MAKER_FIRST)


def _labelled(label: str, text: str) -> str:
    return textwrap.fill(
        text,
        _WIDTH,
        initial_indent=f"{label:<{_LABEL}}",
        subsequent_indent=" " * _LABEL,
        break_long_words=False,
        break_on_hyphens=False,
    )


def above_nothing(text: str, quantity: str, *, limits: bool = True) -> Amount:
    """Read a figure of one quantity, none of which may be nothing or less.

    Raises
    ------
    AmountError
        As for `read_amount`, or if an end is not above nothing.
    """
    from sequencer.model.quantities import AmountError, read_amount

    amount = read_amount(text, (quantity,), limits=limits)
    if any(end is not None and end <= 0 for end in (amount.low, amount.high)):
        raise AmountError(f"`{text.strip()}` is not above nothing", f"give the {quantity} meant")
    return amount


def number(value: float | Fraction, digits: int = 3) -> str:
    """Return a figure to so many digits, to the nearest, without zeros at its end.

    Examples
    --------
    >>> number(108.4654, 5), number(12345.0), number(0.16)
    ('108.47', '12300', '0.16')
    """
    return _tidy(_digits(value, digits, ROUND_HALF_UP))


def _tidy(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def at_most(value: float | Fraction, digits: int = 3) -> str:
    """Return a figure that is a most, rounded down.

    Examples
    --------
    >>> at_most(13.953), at_least(27.2727)
    ('13.9', '27.3')
    """
    return _tidy(_digits(value, digits, ROUND_FLOOR))


def at_least(value: float | Fraction, digits: int = 3) -> str:
    """Return a figure that is a least, rounded up."""
    return _tidy(_digits(value, digits, ROUND_CEILING))


def between(low: float, high: float, digits: int = 3) -> str:
    """Return what may lie anywhere from one figure to another, rounded outwards.

    This is for what is uncertain, of which nothing may be left out; limits to stay within are
    rounded inwards, by `sequencer.sheets.figures.convert`.

    Examples
    --------
    >>> between(20.001, 36.3636), between(50.000000000000007, 50)
    ('20.0 to 36.4', '50')
    """
    if number(low, _SURE.prec) == number(high, _SURE.prec):
        return number(low, digits)
    return f"{_digits(low, digits, ROUND_FLOOR)} to {_digits(high, digits, ROUND_CEILING)}"


def _digits(value: float | Fraction, digits: int, rounding: str) -> str:
    sure = _SURE.create_decimal_from_float(float(value))
    if not sure:
        return "0"
    step = Decimal(1).scaleb(sure.adjusted() - digits + 1)
    return f"{sure.quantize(step, rounding):f}".replace("-", "−")


def exactly(value: Fraction) -> str:
    """Return an exact figure with all its decimals, or to seven digits where they never end.

    Examples
    --------
    >>> from fractions import Fraction
    >>> exactly(Fraction("0.1129848290276167")), exactly(Fraction(-1, 3))
    ('0.1129848290276167', '−0.3333333')
    """
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest != 1:
        return number(value, 7)
    places = next(n for n in count() if (value * 10**n).denominator == 1)
    return f"{Decimal(int(value * 10**places)).scaleb(-places):f}".replace("-", "−")
