"""`sequencer torque thread`: what a thread is, what tables say of it, and what it carries."""

from __future__ import annotations

from math import ceil, floor
from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, calculator, number
from sequencer.commands.bolt_words import (
    AREA,
    EQUATION,
    factor_of,
    forces,
    in_unit_of,
    k_of,
    one,
    strength_named,
    torques,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.commands.bench import Value
    from sequencer.trade.basics import Band
    from sequencer.trade.strengths import Strength
    from sequencer.trade.threads import Thread

_INCH_MM = 25.4
_DECIMALS = 6  # so that a whole number made of floats stays one
_SPANNERS = {True: ("ISO 4014", "DIN 931"), False: ("ASME B18.2.1",)}
_SPANNER_SOURCES = {
    True: "across flats: the standards named, as carried by a package of fastener sizes",
    False: "across flats: ASME B18.2.1, from memory",
}
_TABLES = "looked up as printed, never interpolated; each is for its own bolts and surfaces"


@click.command("thread")
@click.argument("thread")
@click.option("--grade", help="As marked on the head: 8.8, 5, A2-70.")
@click.option("--surface", default="", help="Such as dry or oiled, for the usual torque.")
@calculator
def thread_command(thread: str, grade: str | None, surface: str) -> Answer:
    """Tell the sizes of THREAD, and what tables say; with --grade what it carries as well."""
    from sequencer.trade.threads import read_thread

    known = read_thread(thread)
    per_pitch, source = AREA[known.metric]
    area = known.stress_area_mm2
    size = f"{number(known.diameter_mm, 6)} − {per_pitch} × {number(known.pitch_mm, 6)}"
    working = [
        Working(
            f"stress area = π/4·(D − {per_pitch}·P)²",
            (f"π/4·({size})² mm² = {number(area, 4)} mm²",),
            source,
        )
    ]
    values: dict[str, Value] = {"stress_area_mm2": area, "pitch_mm": known.pitch_mm}
    lines = [
        f"{known.name}: D {number(known.diameter_mm, 6)} mm, pitch {number(known.pitch_mm, 4)} mm, "
        f"stress area {number(area)} mm² ({number(area / _INCH_MM**2)} in²)",
        *_spanners(known),
    ]
    if grade is not None:
        strength = strength_named(grade, known)
        lines += _strength(known, strength)
        band, more = _usual(known, strength, surface)
        lines.append(f"  usual torque {torques(band)}, for 75 % of the {strength.limit_name}")
        working.append(more)
        values |= {"limit_mpa": strength.limit_mpa, "usual_nm": [band.low, band.high]}
    lines += _tables(known)
    notes = (f"published tables: {_TABLES}", _SPANNER_SOURCES[known.metric])
    return Answer(tuple(lines), tuple(working), notes, values)


def _spanners(thread: Thread) -> Iterator[str]:
    from sequencer.trade.basics import Unknown
    from sequencer.trade.hexagons import across_flats

    found = {name: across_flats(thread, name) for name in _SPANNERS[thread.metric]}
    known = {name: size for name, size in found.items() if not isinstance(size, Unknown)}
    if len(known) > 1 and len(set(known.values())) == 1:
        yield f"  across flats {next(iter(known.values()))} ({' and '.join(known)})"
    elif known:
        yield "  across flats " + ", ".join(f"{size} ({name})" for name, size in known.items())


def _strength(thread: Thread, strength: Strength) -> Iterator[str]:
    from sequencer.trade.strengths import nominal_tensile_mpa
    from sequencer.trade.torque import proof_load

    nominal = ""
    if strength.standard == "ISO 898-1":
        nominal = f" (nominal {number(nominal_tensile_mpa(strength.grade), 4)})"
    yield (
        f"  grade {strength.grade} ({strength.source}): {strength.limit_name.partition(' ')[0]} "
        f"{number(strength.limit_mpa, 4)} MPa, tensile at least "
        f"{number(strength.tensile_mpa, 4)} MPa{nominal}"
    )
    yield f"  {strength.limit_name} {forces(one(proof_load(thread, strength)))}"


def _usual(thread: Thread, strength: Strength, surface: str) -> tuple[Band, Working]:
    from sequencer.trade.torque import USUAL_SHARE, proof_load, torque_band

    factor = factor_of(surface, None)
    band = torque_band(thread, strength, factor)
    load = proof_load(thread, strength)
    numbers = (
        f"{k_of(factor)} × {number(thread.diameter_mm, 6)} mm × {USUAL_SHARE:g} × "
        f"{number(load / 1000, 4)} kN = {in_unit_of(band, 'N·m')}"
    )
    source = f"{EQUATION}; K: {factor.source}; 75 %: a machine-design textbook, as quoted"
    return band, Working("T = K·D·F", (numbers,), source)


def _tables(thread: Thread) -> Iterator[str]:
    """Yield what published tables print for a thread, in the unit that they print."""
    from sequencer.trade.joint_length import STAND_OUT_PITCHES
    from sequencer.trade.locking import drag_of
    from sequencer.trade.torque_tables import BOLT_TORQUES, INCH_POUND_NM, NUT_TORQUES

    def inch_pounds(band: Band) -> str:
        low, high = (round(end / INCH_POUND_NM, _DECIMALS) for end in (band.low, band.high))
        return f"{ceil(low)} to {floor(high)}"

    row = NUT_TORQUES.get(thread.short)
    if row is not None:
        most = round(row.most_tension_nm / INCH_POUND_NM)
        yield (
            f"  {row.source}: tension nut {inch_pounds(row.tension_nm)} in·lbf, shear nut "
            f"{inch_pounds(row.shear_nm)}, at most {most} (oil-free cadmium plate)"
        )
    size = thread.short.rpartition("-")[0]
    for (listed, strength), bolt in BOLT_TORQUES.items():
        if listed == size:
            yield (
                f"  {bolt.source}, by size alone, {strength}: dry {inch_pounds(bolt.dry_nm)} "
                f"in·lbf, lubricated {inch_pounds(bolt.lubricated_nm)}"
            )
    drag = drag_of(thread)
    if drag is not None:
        most_drag = number(drag.most_nm / INCH_POUND_NM)
        yield f"  {drag.source}: drag of a self-locking nut at most {most_drag} in·lbf"
    rules: dict[int, list[str]] = {}
    for rule, pitches in STAND_OUT_PITCHES.items():
        rules.setdefault(pitches, []).append(rule)
    least = (
        f"{number(pitches * thread.pitch_mm)} mm ({', '.join(named)})"
        for pitches, named in rules.items()
    )
    yield f"  beyond a nut shows at least {' or '.join(least)}"
