"""`sequencer torque friction`, `nut-factor`, `yield` and `heat`: what lies behind a torque."""

from __future__ import annotations

import click

from sequencer.commands.bench import Answer, Working, above_nothing, calculator, number
from sequencer.commands.bolt_words import (
    EQUATION,
    grade_option,
    one,
    strength_named,
    thread_option,
    torques,
)

_FRICTION = "MIL-HDBK-60, 100.5.1; one coefficient throughout: 100.5.2"
_TABLE = "MIL-HDBK-60, table II, ±20 %"
_YIELD = (
    "the elastic form of VDI 2230, from memory; it gives back a table stated as VDI 2230 (2003) "
    "within 2 %"
)
_HEAT = "MIL-HDBK-60, 6.3.2"
_FACE = "The face that turns, across."
_HOLE = "The hole under it."
_ZERO_C = 273.15


@click.command("friction")
@click.argument("preload")
@thread_option
@click.option("--friction", "surface", required=True, help="µ, such as 0.12, or the surface.")
@click.option("--face", help="µ under the face that turns, where it is another.")
@calculator
def friction_command(preload: str, thread: str, surface: str, face: str | None) -> Answer:
    """Tell what torque gives PRELOAD by coefficients of friction, and the nut factor behind it."""
    from sequencer.trade.basics import in_unit
    from sequencer.trade.threads import read_thread
    from sequencer.trade.torque import friction_torque, nut_factor_from_friction

    known = read_thread(thread)
    force = float(in_unit(above_nothing(preload, "force", limits=False), "N"))
    thread_mu, source = _coefficient(surface)
    face_mu, _ = _coefficient(face) if face is not None else (thread_mu, "")
    torque = friction_torque(force, known, thread_mu, face_mu)
    size, pitch = number(known.diameter_mm, 6), number(known.pitch_mm, 6)
    numbers = [
        f"{number(force, 5)} N × (0.159 × {pitch} + {size} × (0.531 × {thread_mu:g} + "
        f"0.625 × {face_mu:g})) mm = {number(torque)} N·m"
    ]
    on = f"{preload.strip()} on {known.name}, µ {thread_mu:g} and {face_mu:g}"
    lines, formula = [f"{on}: {torques(one(torque))}"], "T = F·(0.159·P + D·(0.531·µ1 + 0.625·µ2))"
    if thread_mu == face_mu:
        factor = nut_factor_from_friction(known, thread_mu)
        lines.append(f"  nut factor K {number(factor)}")
        numbers.append(f"0.159 × {pitch} / {size} + 1.156 × {thread_mu:g} = {number(factor)}")
        formula += "; K = 0.159·P/D + 1.156·µ"
    working = Working(formula, tuple(numbers), f"{_FRICTION}{source}")
    note = "coefficients of friction are known to ±20 % at the best"
    return Answer(tuple(lines), (working,), (note,), {"torque_nm": torque})


def _coefficient(text: str) -> tuple[float, str]:
    """Return a coefficient of friction typed or looked up, and where it is from."""
    from sequencer.model.quantities import AmountError
    from sequencer.trade.basics import TradeError
    from sequencer.trade.nut_factors import FRICTION

    named = text.strip().lower()
    if named in FRICTION:
        return FRICTION[named], f"; µ: {_TABLE}"
    try:
        return float(above_nothing(text, "number", limits=False).value), ""
    except AmountError:
        what = f"`{text.strip()}` is no coefficient of friction, and no surface of the table"
        raise TradeError(what, f"give a number, or one of: {'; '.join(FRICTION)}") from None


@click.command("nut-factor")
@click.argument("torque")
@click.argument("preload")
@thread_option
@calculator
def nut_factor_command(torque: str, preload: str, thread: str) -> Answer:
    """Tell the nut factor K that a test shows: TORQUE applied, PRELOAD measured."""
    from sequencer.trade.basics import in_unit
    from sequencer.trade.threads import read_thread
    from sequencer.trade.torque import nut_factor_from_test

    known = read_thread(thread)
    torque_nm = float(in_unit(above_nothing(torque, "torque", limits=False), "N·m"))
    force = float(in_unit(above_nothing(preload, "force", limits=False), "N"))
    factor = nut_factor_from_test(torque_nm, force, known.diameter_mm)
    numbers = (
        f"{number(torque_nm, 5)} N·m / ({number(force / 1000, 5)} kN × "
        f"{number(known.diameter_mm, 6)} mm) = {number(factor)}"
    )
    line = f"{torque.strip()} and {preload.strip()} on {known.name}: nut factor K {number(factor)}"
    note = "one test shows one bolt: several, cleaned and oiled alike, show how far K varies"
    working = Working("K = T/(F·D)", (numbers,), f"{EQUATION}, solved for K")
    return Answer((line,), (working,), (note,), {"nut_factor": factor})


@click.command("yield")
@thread_option
@grade_option
@click.option("--friction", "surface", required=True, help="µ, such as 0.10, or the surface.")
@click.option("--face", required=True, help=_FACE)
@click.option("--hole", required=True, help=_HOLE)
@click.option("--share", default="90", show_default=True, help="Of the yield, in per cent.")
@calculator
def yield_command(
    *, thread: str, grade: str, surface: str, face: str, hole: str, share: str
) -> Answer:
    """Tell what torque uses a share of the yield, tension and torsion together."""
    from sequencer.trade.basics import TradeError, in_unit
    from sequencer.trade.threads import read_thread
    from sequencer.trade.torque import torque_at_yield_share

    known = read_thread(thread)
    if not known.metric:
        raise TradeError(
            f"{known.name} is not metric", "give a metric thread: the form is for those"
        )
    strength = strength_named(grade, known)
    friction, source = _coefficient(surface)
    across = [
        float(in_unit(above_nothing(text, "length", limits=False), "mm")) for text in (face, hole)
    ]
    part = float(above_nothing(share, "number", limits=False).value) / 100
    torque = torque_at_yield_share(
        known, strength.yield_mpa, friction, (across[0], across[1]), part
    )
    numbers = (
        f"{part:g} × {number(strength.yield_mpa, 4)} MPa, P {number(known.pitch_mm, 4)} mm, "
        f"d2 {number(known.pitch_diameter_mm, 5)} mm, µ {friction:g}, DK "
        f"{number(sum(across) / 2, 4)} mm: {number(torque)} N·m"
    )
    line = f"{known.name} of grade {strength.grade} at {share.strip()} % of its yield: "
    formula = (
        "T = FM·(0.16·P + 0.58·d2·µ + DK/2·µ); FM = share·Rp·A0/√(1 + 3·(1.5·d2/d0·"
        "(P/(π·d2) + 1.155·µ))²)"
    )
    working = Working(formula, (numbers,), f"{_YIELD}; {strength.source}{source}")
    return Answer((line + torques(one(torque)),), (working,), (), {"torque_nm": torque})


@click.command("heat")
@click.argument("stress")
@click.option("--from", "start", default="20 °C", show_default=True, help="The temperature now.")
@click.option("--modulus", default="30000 ksi", show_default=True, help="Of the bolt.")
@click.option("--expansion", default="6.2e-6 per °F", show_default=True, help="Per °F or per K.")
@calculator
def heat_command(stress: str, start: str, modulus: str, expansion: str) -> Answer:
    """Tell how warm a bolt is when it goes in, to be left at STRESS when it is cold."""
    from sequencer.commands.warmth import expansion_per_k, in_both_scales
    from sequencer.model.quantities import read_amount
    from sequencer.trade.basics import in_unit
    from sequencer.trade.heating import bolt_heating_temperature

    wanted, stiff = (
        float(in_unit(above_nothing(text, "pressure", limits=False), "MPa"))
        for text in (stress, modulus)
    )
    per_k = expansion_per_k(expansion)
    begin = read_amount(start, ("temperature",), limits=False).si - _ZERO_C
    found = bolt_heating_temperature(wanted, stiff, per_k, begin)
    numbers = (
        f"{number(wanted, 4)} MPa / ({number(stiff, 6)} MPa × {per_k:.4g} per K) + "
        f"{number(begin, 4)} °C = {number(found, 4)} °C"
    )
    line = f"for {stress.strip()} when cold: warm the bolt to {in_both_scales(found)}"
    note = "the nut is run down by hand while the bolt is warm, and the hole has to let it grow"
    working = Working("t = σ/(E·α) + t0", (numbers,), _HEAT)
    return Answer((line,), (working,), (note,), {"heat_to_c": found})
