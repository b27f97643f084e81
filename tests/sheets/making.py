"""Short ways to make figures and references in models to print."""

from __future__ import annotations

from sequencer.model.common import Limit, Link, Size, WayIn
from sequencer.model.fastening import Torque, TorqueValue
from sequencer.model.quantities import Amount, read_amount
from sequencer.model.steps import Fit


def amount(text: str) -> Amount:
    return read_amount(
        text, ("torque", "length", "mass", "time", "force", "angle", "temperature", "pressure")
    )


def torque(text: str, source: str = "", why: str = "", angle: str = "") -> Torque:
    plain = text.partition(" then ")[0]
    value = TorqueValue(
        text=text,
        amount=amount(plain) if plain[0].isdigit() else None,
        angle=amount(angle) if angle else None,
    )
    return Torque(value=value, source=source, why=why)


def limit(text: str, source: str = "", why: str = "") -> Limit:
    return Limit(value=amount(text), source=source, why=why)


def after(*steps: str, why: str = "") -> tuple[Link, ...]:
    return tuple(Link(step, why=why) for step in steps)


def links(kind: str, *names: str) -> tuple[Link, ...]:
    return tuple(Link(name, kind) for name in names)


def tools(*entries: str) -> tuple[tuple[Link, ...], ...]:
    """Tools that a step needs; those named in one text will do either way."""
    return tuple(links("tool", *entry.split()) for entry in entries)


def fits(*names: str) -> tuple[Fit, ...]:
    return tuple(Fit(name) for name in names)


def shut_by(name: str, *parts: str, opening: str = "", room: str = "", why: str = "") -> WayIn:
    return WayIn(
        name=name,
        opening=Size(value=amount(opening)) if opening else None,
        room=Size(value=amount(room)) if room else None,
        shut_by=links("part", *parts),
        why=why,
    )
