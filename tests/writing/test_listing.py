"""`sequencer schema FIELD`: what may stand under a field, in words."""

from __future__ import annotations

import pytest
from click.testing import CliRunner, Result

from sequencer.commands import main
from sequencer.model.assembly import Assembly
from sequencer.model.fields import declared, records_of
from sequencer.writing.listing import listings, names_listed


def run(*arguments: str, exit_code: int = 0) -> Result:
    result = CliRunner().invoke(main, ["schema", *arguments], env={"COLUMNS": "80"})
    assert result.exit_code == exit_code, result.output
    return result


TORQUE = """\
torque: A torque with its source, what other sources say, and why this one was
chosen. A plain value stands for its `value`.
  value    Needed. The torque, such as `60 ft-lb`.
  also     What other sources say. Such as 60 N·m, 55 to 60 ft-lb, 40 N·m then
           90°, finger tight. Its fields: `sequencer schema also`.
  because  Why this figure is taken: it makes the choice.
  surface  What the figure wants on the threads; default: the joint's. One of:
           dry, oiled, moly, anti-seize, or the id of a compound.
  grade    The strength that the figure is for; default: the joint's.
  why      Why this is so, printed for the builder.
  source   Where this comes from: an id in `sources`, or words.

"""

WAYS_IN = """\
ways_in: A route by which a part, a hand or a tool reaches its place. Each has
an id of its own, and its fields below that. A plain value stands for its
`shut_by`.
  opening  What fits through; none given means wide enough. Such as 12.5 mm. Its
           fields: `sequencer schema opening`.
  room     The room there is for a tool; none given means enough. Such as 12.5
           mm. Its fields: `sequencer schema room`.
  shut_by  Parts that shut it once they are on.
  why      Why this is so, printed for the builder.
  source   Where this comes from: an id in `sources`, or words.

"""


@pytest.mark.parametrize(("field", "told"), [("torque", TORQUE), ("ways_in", WAYS_IN)])
def test_what_may_stand_under_a_field_is_told_in_words(field: str, told: str) -> None:
    assert run(field).output == told


def test_every_field_of_the_format_is_listed_with_what_it_is_for() -> None:
    listed = {
        (name, said.removeprefix("Needed. ").startswith(field.doc))
        for record in records_of(Assembly)
        for field in declared(record)
        for one in names_listed()
        for listing in listings(one)
        for name, said in listing.rows
        if name == field.name
    }
    every = {field.name for record in records_of(Assembly) for field in declared(record)}
    assert {name for name, _ in listed} == every
    assert {name for name, told in listed if told} == every


def test_every_name_that_is_referred_to_has_a_listing() -> None:
    assert [name for name in names_listed() if not listings(name)] == []


def test_one_thing_may_be_asked_for_instead_of_many() -> None:
    assert run("step").output == run("steps").output


def test_what_has_no_fields_is_told_and_a_slip_is_guessed() -> None:
    result = run("handlng", exit_code=1)
    assert result.stdout == ""
    assert result.stderr == (
        "error[unknown]: no fields stand under `handlng`\n"
        "  = why: only what has fields of its own can be told of\n"
        "  = fix: did you mean `handling`?\n"
    )
