"""What hazards that have a name can do, and what to do about it, in our own plain words."""

from __future__ import annotations

from typing import Literal, TypeAlias

SignalWord: TypeAlias = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]

SHUT_OFF = ("electric", "hydraulic", "gas", "pressure")
"""Energy that comes by a line or a wire, and is shut off where the model names the points."""

OF_COMPOUNDS: dict[str, tuple[SignalWord, str]] = {
    "flammable": (
        "WARNING",
        "{what} can catch fire, the vapour too. No flame, no spark and nothing hot nearby; let "
        "air through.",
    ),
    "breathing": (
        "WARNING",
        "{what} can harm whoever breathes the vapour. Let air through, or wear the mask that the "
        "safety data sheet names.",
    ),
    "skin": (
        "CAUTION",
        "{what} can harm the skin. Wear gloves made for it, and wash splashes off at once.",
    ),
    "eyes": (
        "CAUTION",
        "{what} can harm the eyes. Wear safety glasses; rinse splashes out with water at once, "
        "and see a doctor.",
    ),
}
"""What compounds can do; `{what}` is their names."""

OF_STEPS: dict[str, tuple[SignalWord, str]] = {
    "electric": (
        "WARNING",
        "Live parts can kill. Switch off and lock it off, let charge drain away, and prove with "
        "a tester that nothing is live.",
    ),
    "hydraulic": (
        "WARNING",
        "Oil under pressure can pierce the skin, and parts can move by themselves. Shut it off, "
        "let the pressure down, and prove on the gauge that it is gone. Never feel for a leak.",
    ),
    "gas": (
        "WARNING",
        "Gas under pressure can burst out and throw parts. Shut it off, let it down slowly, and "
        "prove on the gauge that it is gone.",
    ),
    "pressure": (
        "WARNING",
        "Pressure that is left can drive out parts and fluid. Shut it off, let it down slowly, "
        "and prove on the gauge that it is gone.",
    ),
    "spring": (
        "WARNING",
        "A loaded spring can fly out and hit you. Hold it with the tool made for it, stand "
        "aside, let it out slowly, and prove that it is slack.",
    ),
    "rotation": (
        "WARNING",
        "Turning parts catch hands, hair and sleeves. Guards on and everybody clear before it "
        "turns; hands off until it stands still.",
    ),
    "hot": (
        "CAUTION",
        "Hot parts burn. Wear gloves that stand the heat, and leave nothing hot unmarked.",
    ),
    "cold": ("CAUTION", "Very cold parts freeze to the skin. Wear dry, lined gloves."),
    "sharp": ("CAUTION", "Sharp edges cut. Wear gloves that resist cuts, and feel with a tool."),
    "heavy": (
        "CAUTION",
        "What is lifted here is heavy. Lift it with two people or a hoist, and keep feet clear.",
    ),
    "pinch": ("CAUTION", "Parts that close can crush fingers. Hold them where nothing meets."),
    "dust": ("CAUTION", "Dust can harm whoever breathes it in. Wipe or vacuum, never blow it."),
}

"""What can happen at a step."""

_SPELLINGS = {
    "springs": "spring",
    "hydraulics": "hydraulic",
    "electrical": "electric",
    "electricity": "electric",
    "rotating": "rotation",
    "heat": "hot",
    "crush": "pinch",
    "pinching": "pinch",
    "weight": "heavy",
    "inhalation": "breathing",
    "vapour": "breathing",
    "vapor": "breathing",
    "eye": "eyes",
    "fire": "flammable",
}


def hazard_named(words: str) -> str:
    """Return the hazard that words name; the words themselves where they are none we know.

    Examples
    --------
    >>> hazard_named("Springs"), hazard_named("The arm swings back.")
    ('spring', 'The arm swings back.')
    """
    word = words.strip().lower().rstrip(".")
    word = _SPELLINGS.get(word, word)
    return word if word in OF_STEPS or word in OF_COMPOUNDS else words.strip()
