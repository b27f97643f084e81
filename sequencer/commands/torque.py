"""`sequencer torque`: a torque in other units, against its bolt, with an adapter, in passes."""

from __future__ import annotations

import click

from sequencer.commands.bench import Answer, Working, calculator, exactly, number
from sequencer.commands.grouping import Group
from sequencer.commands.torque_bolt import from_preload_command, sane_command
from sequencer.commands.torque_engagement import engagement_command
from sequencer.commands.torque_friction import (
    friction_command,
    heat_command,
    nut_factor_command,
    yield_command,
)
from sequencer.commands.torque_nuts import drag_command
from sequencer.commands.torque_pattern import pattern_command
from sequencer.commands.torque_preload import preload_command
from sequencer.commands.torque_thread import thread_command
from sequencer.commands.torque_wrench import adapter_command, passes_command

_USUAL_UNITS = ("N·m", "ft·lbf", "in·lbf", "kgf·m", "kgf·cm", "N·cm", "in·ozf")
_SOURCE = "NIST Special Publication 811 (2008), appendix B.8: exact inch, pound and gravity"


@click.group("torque", cls=Group)
def torque_command() -> None:
    """Reckon with a torque: its units, its bolt, its wrench.

    Each answer shows the formula, the numbers put in and the source. Exit code: 0 if all is well,
    1 if what was asked about will not do, 2 if a figure cannot be read.
    """


@torque_command.command("convert")
@click.argument("torque")
@calculator
def convert_command(torque: str) -> Answer:
    """Convert TORQUE, such as "60 ft-lb" or "55 to 60 N·m", to all usual units."""
    from sequencer.model.quantities import converted, read_amount
    from sequencer.model.units import unit_for
    from sequencer.sheets.figures import convert

    amount = read_amount(torque, ("torque",))
    typed, value = amount.unit, amount.value
    others = [unit for unit in map(unit_for, _USUAL_UNITS) if unit is not typed]
    formula = f"T in the other unit = T in {typed.symbol} × the other units in 1 {typed.symbol}"
    numbers = tuple(
        f"{exactly(value)} × {exactly(typed.factor / unit.factor)} = "
        f"{number(converted(value, typed, unit), 6)} {unit.symbol}"
        for unit in others
    )
    return Answer(
        (amount.text.strip(), *(f"  = {convert(amount, unit)}" for unit in others)),
        (Working(formula, numbers, _SOURCE),),
        () if amount.low == amount.high else ("the ends of a band are rounded inwards",),
        {unit.symbol: float(converted(value, typed, unit)) for unit in others},
    )


for _command in (
    *(sane_command, preload_command, from_preload_command),
    *(adapter_command, passes_command, pattern_command, drag_command),
    *(thread_command, engagement_command),
    *(friction_command, nut_factor_command, yield_command, heat_command),
):
    torque_command.add_command(_command)
