"""Times and compounds along an order: what they make of it, and what is wrong with it.

Nothing here makes an order invalid: it is judged as it is given, and gives findings.
"""

from sequencer.planning.timing.judging import (
    ALONG,
    says_times,
    times_along,
    timing_as_written,
    timing_findings,
)
from sequencer.planning.timing.pausing import paused

__all__ = ["ALONG", "paused", "says_times", "times_along", "timing_as_written", "timing_findings"]
