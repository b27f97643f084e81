"""What is wrong with conditions over options, whatever is chosen."""

from __future__ import annotations

import difflib
from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.model.condition_text import ConditionError, parse
from sequencer.model.conditions import comparisons, literal
from sequencer.model.options import choice_of, taken_as
from sequencer.problem import Problem
from sequencer.reading.nodes import Scalar
from sequencer.reading.options import listed, suggestion
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.condition_text import Comparison, Spot
    from sequencer.model.options import Option
    from sequencer.problem import Place
    from sequencer.reading.names import Mention
    from sequencer.reading.source import Source

_WHY_CONDITION = "whether it is there at all could not be decided"


def condition_problems(
    noted: Sequence[Mention], options: Mapping[str, Option], source: Source
) -> Iterator[tuple[Mention, Problem]]:
    """Yield what is wrong with conditions, whatever is chosen.

    Parameters
    ----------
    noted : sequence of Mention
        Each condition, with its node and path.
    options : mapping of str to Option
        The options of the model by their ids.
    source : Source
        The file.
    """
    for mention in noted:
        for problem, start, width in _of_condition(mention.name, options):
            yield mention, replace(problem, place=_place(mention, source, start, width))


def _place(mention: Mention, source: Source, start: int, width: int | None) -> Place:
    node = mention.node
    if not isinstance(node, Scalar):
        return source.place(node)
    lead = len(node.text) - len(node.text.lstrip())
    return source.place_in(node, start + lead, width)


def _of_condition(
    text: str, options: Mapping[str, Option]
) -> Iterator[tuple[Problem, int, int | None]]:
    try:
        term = parse(text)
    except ConditionError as error:
        problem = Problem("condition", "error", error.what, why=_WHY_CONDITION, fix=error.fix)
        yield problem, error.start, error.width
        return
    for comparison in comparisons(term):
        option = options.get(comparison.option.text)
        if option is None:
            yield _no_option(comparison, options), comparison.option.start, comparison.option.width
            continue
        for value in comparison.values:
            found = _of_value(option, comparison.sign, value)
            if found is not None:
                yield found, value.start, value.width


def _no_option(comparison: Comparison, options: Mapping[str, Option]) -> Problem:
    name, value = comparison.option.text, comparison.values[0].text
    near = difflib.get_close_matches(name[:40], options, n=1)
    if value in options:
        fix = f"write the option first: `{value} {comparison.sign} {name}`"
    elif near:
        fix = f"did you mean `{near[0]}`?"
    elif options:
        fix = f"use one of {listed(options)}"
    else:
        fix = f"declare it: `options: {{{name}: {{choices: [{value}, …]}}}}`"
    message = f"there is no option `{shortened(name)}`"
    return Problem("unknown", "error", message, why=_WHY_CONDITION, fix=fix)


def _of_value(option: Option, sign: str, value: Spot) -> Problem | None:
    like = choice_of(option.choices[0])
    if sign in ("<", "<=", ">", ">="):
        if like.amount is None:
            message = f"the choices of `{option.id}` are words, which are neither more nor less"
            fix = f"write `==`, `!=` or `in`: `{option.id} in [{', '.join(option.choices[:2])}]`"
            return Problem("condition", "error", message, why=_WHY_CONDITION, fix=fix)
        try:
            literal(value.text, like)
        except ValueError:
            kind = like.amount.quantity
            message = f"`{shortened(value.text)}` is no {kind}, as the choices of `{option.id}` are"
            fix = f"write a figure with its unit, such as `{like.text}`"
            return Problem("condition", "error", message, why=_WHY_CONDITION, fix=fix)
        return None
    if taken_as(option, value.text) is not None:
        return None
    message = f"option `{option.id}` has no choice `{shortened(value.text)}`"
    fix = suggestion(option, value.text)
    return Problem("unknown", "error", message, why=_WHY_CONDITION, fix=fix)
