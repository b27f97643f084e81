"""Combinations of options to try: all of them, or each pair of choices once."""

from __future__ import annotations

from itertools import combinations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.combinations import MOST, combinations_of, covering, where
from sequencer.model.options import Option

several = st.dictionaries(
    st.sampled_from("abcdef"),
    st.integers(1, 5).map(lambda count: tuple(f"c{n}" for n in range(count))),
    min_size=2,
)


@settings(max_examples=100, deadline=None)
@given(several)
def test_the_covering_set_holds_every_pair_of_choices(choices: dict[str, tuple[str, ...]]) -> None:
    found = list(covering(choices))
    for one, other in combinations(choices, 2):
        met = {(each[one], each[other]) for each in found}
        assert met == set(product(choices[one], choices[other]))
    for each in found:
        assert list(each) == list(choices)
        assert all(each[option] in choices[option] for option in choices)


@settings(max_examples=100, deadline=None)
@given(several)
def test_the_covering_set_is_no_larger_than_all_and_never_repeats(
    choices: dict[str, tuple[str, ...]],
) -> None:
    found = [tuple(each.values()) for each in covering(choices)]
    assert len(found) == len(set(found))
    assert found == [tuple(each.values()) for each in covering(choices)]


def test_few_combinations_are_all_tried_and_many_by_pairs() -> None:
    few = [Option(id=name, choices=("x", "y")) for name in "abcdefgh"]
    assert len(combinations_of(few).tried) == MOST == 2**8
    assert combinations_of(few).are_all
    many = [*few, Option(id="i", choices=("x", "y"))]
    found = combinations_of(many)
    assert not found.are_all
    assert found.every == 512
    assert 4 <= len(found.tried) <= 12  # the logarithm of the number of options, about


@settings(max_examples=100, deadline=None)
@given(several.filter(lambda c: 1 < sum(map(len, c.values())) < 12), st.data())
def test_what_is_said_to_be_found_together_is_found_there_and_nowhere_else(
    choices: dict[str, tuple[str, ...]], data: st.DataObject
) -> None:
    options = [Option(id=name, choices=each) for name, each in choices.items()]
    tried = combinations_of(options).tried
    found = sorted(data.draw(st.sets(st.integers(0, len(tried) - 1), min_size=1)))
    said = where(found, tried)
    if not said:
        assert len(found) == len(tried)
    elif said.startswith("with "):
        told = [
            piece.split("=")
            for piece in said.removeprefix("with ").replace(" and ", " & ").split(" ")
            if "=" in piece
        ]
        names = [name for name, _ in told]
        allowed = {name: {tried[at][name] for at in found} for name in names}
        assert found == [
            at for at, each in enumerate(tried) if all(each[n] in allowed[n] for n in names)
        ]
    else:
        assert said.startswith(f"in {len(found)} of {len(tried)} combinations: ")
