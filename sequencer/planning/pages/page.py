"""The shape of a page: what a finding means, why it matters, an example, what to do."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """All there is to say of one kind of finding, apart from any one model.

    Attributes
    ----------
    code : str
        The word in brackets at the head of the finding.
    severity : str
        How grave it is, and where that depends on something, on what.
    short : str
        What it finds, in one line, for a list of all codes.
    what, why, do : str
        What it finds, why it matters at the bench, and what to do; each one paragraph.
    example : str
        A whole small model in the file format that gives the finding.
    order : tuple of str
        For a finding about an order of one's own: the steps, as given to `plan --from`.
    beside : tuple of (str, str)
        Further files that the example needs, by their names.
    done, redo : tuple of str
        For a finding of `revise`: the steps done, and what of them is to be done again.
    says : str
        The message of the finding in the example; empty where that only shows the kind.
    """

    code: str
    severity: str
    short: str
    what: str
    why: str
    example: str
    do: str
    order: tuple[str, ...] = ()
    beside: tuple[tuple[str, str], ...] = ()
    done: tuple[str, ...] = ()
    redo: tuple[str, ...] = ()
    says: str = ""
