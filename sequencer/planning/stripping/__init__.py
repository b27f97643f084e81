"""Taking a finished unit apart: what comes off in which order, and what cannot."""

from sequencer.planning.stripping.results import PointOfNoReturn, Strip, TakenBack
from sequencer.planning.stripping.strip import strip

__all__ = ["PointOfNoReturn", "Strip", "TakenBack", "strip"]
