"""The packets that several tests look at, each printed once."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader

from sequencer.sheets.packet import packet_html
from sequencer.sheets.pdf import write_pdf
from tests.sheets.pages import Printed
from tests.sheets.sample import FINGERPRINT, winch, winch_plan


@pytest.fixture(scope="session")
def winch_html() -> str:
    return packet_html(winch(), winch_plan(), fingerprint=FINGERPRINT)


@pytest.fixture(scope="session")
def printed(winch_html: str) -> Printed:
    """The packet of the winch on A4, with what the renderer logged meanwhile."""
    return Printed.of(winch_html)


@pytest.fixture(scope="session")
def letter() -> PdfReader:
    """The same as a draft on Letter."""
    reasons = ("joint `foot`: two sources disagree and none is chosen",)
    html = packet_html(
        winch(), winch_plan(), fingerprint=FINGERPRINT, paper="Letter", draft=reasons
    )
    return PdfReader(io.BytesIO(write_pdf(html)))
