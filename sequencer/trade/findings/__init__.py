"""What the trade's numbers say about a model: one module for each kind of thing."""

from sequencer.trade.findings.every import findings

__all__ = ["findings"]
