"""The fingerprint of a model: a short hash that paper and file share, so that neither drifts."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.quantities import Amount

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly


def fingerprint(assembly: Assembly) -> str:
    """Return eight hexadecimal digits, as ``7f3a·c91e``, that change with anything the model says.

    Comments, layout and the choice of short or long forms do not change it.
    """
    text = json.dumps(_plain(assembly), ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    digest = hashlib.sha256(text.encode()).hexdigest()
    return f"{digest[:4]}·{digest[4:8]}"


def _plain(value: object) -> object:
    if isinstance(value, Amount):
        return " ".join(value.text.split())
    if isinstance(value, Fraction):
        return str(value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = ((field.name, getattr(value, field.name)) for field in dataclasses.fields(value))
        return {name: _plain(held) for name, held in fields if held not in (None, "", (), False)}
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return value
