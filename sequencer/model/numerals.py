"""Numbers as people type them: many dashes and spaces, decimal commas, fractions, exact values."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction


class AmountError(ValueError):
    """Text that is not a figure of the quantity wanted.

    `what` says what is wrong, `fix` what to type; `start` and `width` are where in the text.
    """

    def __init__(self, what: str, fix: str, start: int = 0, width: int | None = None) -> None:
        super().__init__(what)
        self.what = what
        self.fix = fix
        self.start = start
        self.width = width


_DIGITS = r"[0-9]{1,3}(?:[ '][0-9]{3})+(?![0-9])|[0-9]+"
PLAIN_NUMBER = rf"(?:(?:{_DIGITS})(?:[.,][0-9]+)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{{1,3}})?"
"""The pattern of a number without a sign or fraction, in text as `plain_text` leaves it."""

_WRITTEN_FRACTION = r"(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+)\s?/\s?(?P<bottom>[0-9]+)(?![0-9])"
_ONE_SIGN_FRACTION = r"(?:(?P<before>[0-9]+)\s?)?(?P<sign>[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])"
_NUMBER = re.compile(rf"{_ONE_SIGN_FRACTION}|{_WRITTEN_FRACTION}|(?P<plain>{PLAIN_NUMBER})")
_SIGN = re.compile(r"[+-]\s?")
_DOUBTFUL = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}(?![0-9.,])")
_SEVERAL_MARKS = re.compile(r"[0-9]+(?:[.,][0-9]+){2,}")
_LARGEST_EXPONENT = 15

_SAME = str.maketrans(
    {
        "\u00a0": " ", "\u2000": " ", "\u2001": " ", "\u2002": " ", "\u2003": " ", "\u2004": " ",
        "\u2005": " ", "\u2006": " ", "\u2007": " ", "\u2008": " ", "\u2009": " ", "\u200a": " ",
        "\u202f": " ", "\u205f": " ", "\u3000": " ", "\u2212": "-", "\u2010": "-", "\u2011": "-",
        "\u2012": "-", "\u2013": "-", "\u2014": "-", "\u22c5": "·", "\u2219": "·", "\u2022": "·",
        "\u03bc": "µ", "\u2126": "Ω", "\u03a9": "Ω", "\u201c": '"', "\u201d": '"', "\u2033": '"',
        "\u2018": "'", "\u2019": "'", "\u2032": "'", "\u00ba": "°", "\u2044": "/",
    }
)  # fmt: skip


def plain_text(text: str) -> str:
    """Return the text with the many dashes, spaces, quotes and twin letters made one of each.

    The length stays the same, so that a place in the result is a place in what was typed.
    """
    return text.translate(_SAME)


class Cursor:
    """The text still to be read; positions count in the text as typed."""

    def __init__(self, text: str) -> None:
        self.text = plain_text(text)
        self.at = 0
        self.skip_spaces()

    @property
    def rest(self) -> str:
        """What is still to be read, without the spaces at its end."""
        return self.text[self.at :].rstrip()

    def skip_spaces(self) -> int:
        """Go past spaces, and return where the cursor then stands."""
        rest = self.text[self.at :]
        self.at += len(rest) - len(rest.lstrip())
        return self.at

    def take(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        """Go past what the pattern matches here, and return it."""
        found = pattern.match(self.text, self.at)
        if found:
            self.at = found.end()
        return found

    def number(self) -> tuple[Fraction, int]:
        """Take a number without a sign; return it and how many decimals were typed."""
        self._refuse_doubtful()
        found = self.take(_NUMBER)
        if not found:
            whole = self.text.strip()
            what = f"`{whole}` has no number where one belongs" if whole else "a figure is missing"
            fix = "write a number and a unit, such as `12.5 mm`"
            raise AmountError(what, fix, min(self.at, max(len(self.text) - 1, 0)), None)
        if found["plain"]:
            return decimal(found["plain"], found.start())
        return _fraction(found), 0

    def signed(self) -> tuple[Fraction, int]:
        """Take a number that may have a sign; return it and how many decimals were typed."""
        sign = self.take(_SIGN)
        number, places = self.number()
        return (-number if sign and sign.group().startswith("-") else number), places

    def _refuse_doubtful(self) -> None:
        doubtful = _DOUBTFUL.match(self.text, self.at)
        if doubtful:
            typed = doubtful.group()
            fix = f"write `{typed.replace(',', '')}` or `{typed.replace(',', '.')}`, as is meant"
            what = f"`{typed}` could be thousands or a decimal comma"
            raise AmountError(what, fix, self.at, len(typed))
        several = _SEVERAL_MARKS.match(self.text, self.at)
        if several:
            what = f"`{several.group()}` has more than one decimal mark"
            fix = "write the number with one decimal point and no other mark"
            raise AmountError(what, fix, self.at, len(several.group()))


def _fraction(found: re.Match[str]) -> Fraction:
    if found["sign"]:
        top, _, bottom = unicodedata.normalize("NFKC", found["sign"]).partition("\u2044")
        return int(found["before"] or 0) + Fraction(int(top), int(bottom))
    typed = found.group()
    if int(found["bottom"]) == 0:
        raise AmountError(
            f"`{typed}` divides by nothing", "mend the fraction", found.start(), len(typed)
        )
    return int(found["whole"] or 0) + Fraction(int(found["top"]), int(found["bottom"]))


def decimal(typed: str, at: int) -> tuple[Fraction, int]:
    """Return a number that `PLAIN_NUMBER` matched at a place, and how many decimals it has.

    Raises
    ------
    AmountError
        If its exponent is beyond anything measured.
    """
    plain = re.sub(r"[ ']", "", typed).replace(",", ".")
    mantissa, _, exponent = plain.lower().partition("e")
    if exponent and abs(int(exponent)) > _LARGEST_EXPONENT:
        what = f"`{typed}` is too large or too small"
        raise AmountError(what, "check the exponent", at, len(typed))
    places = len(mantissa.partition(".")[2]) - int(exponent or 0)
    return Fraction(plain), max(places, 0)
