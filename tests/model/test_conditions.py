"""Conditions over options: they mean what Python would make of them, and nothing else is read."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.condition_text import DEEPEST, LONGEST, ConditionError, parse
from sequencer.model.conditions import comparisons, is_met, options_in
from sequencer.model.options import choice_of

if TYPE_CHECKING:
    from collections.abc import Callable

WORDS = {"fluid": ("cold", "hot", "boiling"), "guard": ("mesh", "none")}
SIZES = {"gap": (4, 5, 8), "stroke": (4, 8, 10)}
UNITS: tuple[Callable[[int], str], ...] = (
    lambda size: f"{size} mm",
    lambda size: f"{size}mm",
    lambda size: f"{size / 10:g} cm",
    lambda size: f"{size / 10:g} cm".replace(".", ","),
)
ORDER = ("==", "!=", "<", "<=", ">", ">=")


@st.composite
def comparisons_(draw: st.DrawFn) -> tuple[str, str]:
    """Write one comparison as a condition, and as Python."""
    if draw(st.booleans()):
        option = draw(st.sampled_from(sorted(WORDS)))
        values = [str(draw(st.sampled_from(WORDS[option]))) for _ in range(3)]
        as_python = [repr(value) for value in values]
        signs: tuple[str, ...] = ORDER[:2]
    else:
        option = draw(st.sampled_from(sorted(SIZES)))
        sizes = [draw(st.sampled_from(SIZES[option])) for _ in range(3)]
        values = [draw(st.sampled_from(UNITS))(size) for size in sizes]
        as_python = [str(size) for size in sizes]
        signs = ORDER
    if draw(st.booleans()):
        sign = draw(st.sampled_from(("in", "not in")))
        brackets = draw(st.sampled_from(("[]", "()")))
        listed = f"{brackets[0]}{', '.join(values)}{brackets[1]}"
        return f"{option} {sign} {listed}", f"{option} {sign} [{','.join(as_python)}]"
    sign = draw(st.sampled_from(signs))
    return f"{option} {sign} {values[0]}", f"{option} {sign} {as_python[0]}"


def _grown(inner: st.SearchStrategy[tuple[str, str]]) -> st.SearchStrategy[tuple[str, str]]:
    def alike(form: str) -> Callable[..., tuple[str, str]]:
        return lambda *parts: (
            form.format(*(p[0] for p in parts)),
            form.format(*(p[1] for p in parts)),
        )

    return st.one_of(
        st.builds(alike("not {}"), inner),
        st.builds(alike("({})"), inner),
        st.builds(alike("{} and {}"), inner, inner),
        st.builds(alike("{} or {}"), inner, inner),
        st.builds(alike("({} or {}) and {}"), inner, inner, inner),
    )


conditions = st.recursive(comparisons_(), _grown, max_leaves=6).filter(
    lambda pair: len(pair[0]) <= LONGEST
)
chosen = st.fixed_dictionaries(
    {option: st.sampled_from(choices) for option, choices in (*WORDS.items(), *SIZES.items())}
)


@settings(max_examples=150, deadline=None)
@given(conditions, chosen)
def test_a_condition_means_what_it_would_mean_in_python(
    pair: tuple[str, str], values: dict[str, str | int]
) -> None:
    text, in_python = pair
    choices = {
        option: choice_of(f"{value} mm" if isinstance(value, int) else value)
        for option, value in values.items()
    }
    assert is_met(text, choices) == eval(in_python, {}, dict(values))  # noqa: S307  # our own text


@settings(max_examples=150, deadline=None)
@given(st.text(alphabet="ab in not and or()[],=!<>≤&|\"' 12.5mm-", max_size=40))
def test_any_text_is_a_condition_or_refused_with_its_place(text: str) -> None:
    error = None
    try:
        term = parse(text)
    except ConditionError as caught:
        error = caught
    else:
        spots = [spot for one in comparisons(term) for spot in (one.option, *one.values)]
        for spot in spots:
            typed = text[spot.start : spot.start + spot.width]
            assert spot.text == (typed[1:-1] if typed[0] in "\"'" else typed)
    if error is not None:
        assert error.what
        assert error.fix
        assert 0 <= error.start <= len(text)
        assert error.width is None or error.start + error.width <= len(text)


REFUSED = [
    ("", "the condition says nothing", None),
    ("fluid", "`fluid` alone says nothing: it is held against no choice", "fluid"),
    ("fluid = hot", "`=` means nothing in a condition", "="),
    ("fluid is hot", "`is` means nothing in a condition", "is"),
    ("fluid == hot && gap == 5 mm", "`&&` means nothing in a condition", "&&"),
    ("!fluid == hot", "`!` means nothing in a condition", "!"),
    ("fluid hot", "`==` or another sign is missing before `hot`", "hot"),
    ("fluid == hot guard == none", "`and` or `or` is missing before `guard`", "guard"),
    ("5 mm < gap", "`5` stands where the name of an option belongs", "5"),
    ("4 mm < gap < 6 mm", "`4` stands where the name of an option belongs", "4"),
    ("gap > 4 mm < 6 mm", "`<` compares what is a comparison already", "<"),
    ("gap >", "the condition breaks off after `>`: a choice is missing", ">"),
    ("not", "the condition breaks off after `not`: the name of an option is missing", "not"),
    ("(fluid == hot", "the `(` opened here is not closed", "("),
    ("fluid == hot)", "nothing belongs to this `)`", ")"),
    ("fluid in hot", "`hot` stands where a list belongs", "hot"),
    ("fluid in [hot cold]", "a comma is missing before `cold`", "cold"),
    ("fluid in []", "`]` stands where a choice belongs, after `[`", "]"),
    ("fluid == and", "`and` stands where a choice belongs, after `==`", "and"),
    ('"hot" == fluid', '`"hot"` stands where the name of an option belongs', '"hot"'),
    ("fluid == 'hot", "the `'` opened here is not closed", "'"),
    ("fluid == __import__('os')", "`and` or `or` is missing before `(`", "("),
]


@pytest.mark.parametrize(("text", "what", "shown"), REFUSED, ids=lambda value: str(value)[:30])
def test_a_slip_is_told_where_it_is(text: str, what: str, shown: str | None) -> None:
    with pytest.raises(ConditionError) as caught:
        parse(text)
    error = caught.value
    assert error.what == what
    width = error.width if error.width is not None else len(text)
    assert text[error.start : error.start + width] == (shown or "")


def test_depth_and_length_are_bounded() -> None:
    deep = "(" * DEEPEST + "a == b" + ")" * DEEPEST
    assert options_in(deep) == {"a"}
    for text in (f"({deep})", "not " * (DEEPEST + 1) + "a == b", "a == " + "b" * LONGEST):
        with pytest.raises(ConditionError):
            parse(text)
    with pytest.raises(ConditionError):
        parse("(" * 10_000_000)


def test_words_are_neither_more_nor_less() -> None:
    with pytest.raises(ValueError, match="neither more nor less"):
        is_met("fluid > hot", {"fluid": choice_of("hot")})
