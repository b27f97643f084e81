"""The order with the least handling: turning over, picking up tools, getting compounds ready."""

from sequencer.planning.handling.cost import (
    Attributes,
    Handling,
    Weights,
    handling_of,
    seconds_of,
)
from sequencer.planning.handling.least import Handled, least_handling

__all__ = [
    "Attributes",
    "Handled",
    "Handling",
    "Weights",
    "handling_of",
    "least_handling",
    "seconds_of",
]
