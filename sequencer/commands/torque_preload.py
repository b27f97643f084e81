"""`sequencer torque preload`: what a torque leaves in a bolt, as a band, and its scatter."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, above_nothing, between, calculator, number
from sequencer.commands.bolt_words import (
    EQUATION,
    bolt_options,
    both_ends,
    factor_of,
    forces,
    in_unit_of,
    k_of,
    one,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.commands.bench import Value
    from sequencer.trade.basics import Band
    from sequencer.trade.nut_factors import NutFactor
    from sequencer.trade.threads import Thread

UNCERTAIN = (
    "the band comes from the nut factor K, which nobody knows better for a joint not tested; "
    "its ends are rounded outwards"
)
_PER_CENT = 100
_SCATTER = "NASA-STD-5020B, equations 25 and 26a"
_RELAXED = "relaxation taken as a division: NASA TM-106943, tables I and II"
_SEVERAL = "NASA-STD-5020B, equations 5 and 26b, for joints that are not separation-critical"


@click.command("preload")
@click.argument("torque")
@bolt_options
@click.option("--method", help='How it is tightened: "torque, lubricated", "by feel".')
@click.option("--relaxation", default="0", help="What is lost with time, in per cent, such as 5.")
@click.option("--bolts", default=1, show_default=True, type=click.IntRange(1, 500))
@calculator
def preload_command(  # noqa: PLR0913  # click hands over every option
    torque: str,
    *,
    thread: str,
    surface: str,
    nut_factor: str | None,
    method: str | None,
    relaxation: str,
    bolts: int,
) -> Answer:
    """Tell what preload TORQUE may leave in a bolt, as a band.

    With --method also by the published scatter of that way of tightening, about the usual nut
    factor; with --bolts then the least that their mean may be.
    """
    from sequencer.trade.threads import read_thread
    from sequencer.trade.torque import preload_band

    amount = above_nothing(torque, "torque")
    known, factor = read_thread(thread), factor_of(surface, nut_factor)
    torque_nm = both_ends(amount, "N·m")
    preload = preload_band(torque_nm, factor, known)
    lines = [f"{amount.text.strip()} on {known.name}, {factor.surface}: preload {forces(preload)}"]
    working = [preload_working(torque_nm, factor, known, preload)]
    values: dict[str, Value] = {"preload_n": [preload.low, preload.high]}
    if method is not None:
        scatter = _Scatter(method, _share(relaxation), torque_nm, factor, known)
        lines += scatter.lines(bolts)
        working += scatter.working(bolts)
        values["scatter_n"] = scatter.values()
    return Answer(tuple(lines), tuple(working), (UNCERTAIN,), values)


def preload_working(torque_nm: Band, factor: NutFactor, thread: Thread, preload: Band) -> Working:
    """Return the working of a preload from a torque."""
    numbers = (
        f"{between(torque_nm.low, torque_nm.high, 5)} N·m / "
        f"({k_of(factor)} × {number(thread.diameter_mm, 6)} mm) = "
        f"{in_unit_of(preload, 'kN')}"
    )
    return Working("F = T/(K·D)", (numbers,), f"{EQUATION}; K: {factor.source}")


def _share(per_cent: str) -> float:
    from sequencer.model.quantities import AmountError, read_amount

    amount = read_amount(per_cent, ("number", "ratio"), limits=False)
    share = amount.value / _PER_CENT
    if not 0 <= share < 1:
        raise AmountError(f"`{per_cent.strip()}` is no share", "give per cent, such as 5")
    return float(share)


class _Scatter:
    """The preload by each published scatter of one method, about the usual nut factor."""

    def __init__(
        self, method: str, relaxation: float, torque_nm: Band, factor: NutFactor, thread: Thread
    ) -> None:
        from sequencer.trade.basics import TradeError
        from sequencer.trade.nut_factors import SCATTER
        from sequencer.trade.torque import preload_from_torque

        self.method = method.strip().lower()
        if self.method not in SCATTER:
            what = f"no scatter is published here for `{method.strip()}`"
            raise TradeError(what, f"use one of: {'; '.join(SCATTER)}")
        by_source = SCATTER[self.method]
        self.sources = {
            scatter: ", ".join(one for one, other in by_source.items() if other == scatter)
            for scatter in by_source.values()
        }
        self.relaxation = relaxation
        self.ends = tuple(
            preload_from_torque(end, factor.usual, thread.diameter_mm)
            for end in (torque_nm.low, torque_nm.high)
        )
        self.usual = factor.usual

    def band(self, scatter: float) -> Band:
        from sequencer.trade.basics import Band
        from sequencer.trade.torque import with_scatter

        low, high = (with_scatter(end, scatter, self.relaxation) for end in self.ends)
        return Band(low.low, high.high)

    def lines(self, bolts: int) -> Iterator[str]:
        from sequencer.trade.torque import least_preload_of_several

        for scatter, source in self.sources.items():
            yield f"  {self.method}, ±{scatter:.0%} by {source}: {forces(self.band(scatter))}"
            if bolts > 1:
                least = least_preload_of_several(self.ends[0], scatter, bolts)
                mean = forces(one(least / (1 + self.relaxation)))
                yield f"  the mean of {bolts} bolts: about {mean} at the least"

    def working(self, bolts: int) -> Iterator[Working]:
        low, high = (number(end / 1000, 4) for end in self.ends)
        lost = f" / {1 + self.relaxation:g}" if self.relaxation else ""
        numbers = tuple(
            f"(1 − {scatter:g}) × {low} kN{lost} to (1 + {scatter:g}) × {high} kN, at K "
            f"{number(self.usual)}"
            for scatter in self.sources
        )
        source = f"{_SCATTER}; {_RELAXED}" if self.relaxation else _SCATTER
        yield Working("Fmin = (1 − Γ)·Tmin/(K·D); Fmax = (1 + Γ)·Tmax/(K·D)", numbers, source)
        if bolts > 1:
            means = tuple(
                f"(1 − {scatter:g} / √{bolts}) × {low} kN{lost}" for scatter in self.sources
            )
            yield Working("the mean of n bolts: Fmin = (1 − Γ/√n)·Tmin/(K·D)", means, _SEVERAL)

    def values(self) -> dict[str, Value]:
        bands = {source: self.band(scatter) for scatter, source in self.sources.items()}
        return {source: [band.low, band.high] for source, band in bands.items()}
