"""A mend that is followed line by line: the log has nothing against it, and the job is done."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import pytest

from tests.commands.jobs import MODELS, Job, job_of

if TYPE_CHECKING:
    from pathlib import Path

# What the log says of a step of a mend besides its order: times, papers, readings and signatures
# that the test leaves out.
BESIDES = frozenset(("too-soon", "too-late", "time-unknown", "not-read", "hold-open"))
PAPER = "--sheet none"


def _codes(job: Job, line: str) -> set[str]:
    """Record a line, and return what there is against it."""
    return {
        one["code"]
        for one in job.json(f"log {line} {PAPER} --anyway")["findings"]
        if one["severity"] != "note"
    }


@pytest.mark.parametrize("number", range(3))
@pytest.mark.parametrize(
    "model", ["paste-between-the-halves", "gasket-on-dry-faces", "crush-ring-once-too-far"]
)
def test_a_mend_that_is_followed_ends_the_job(
    model: str, number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some steps of a job are done in a wrong order, and one of them may be spoiled."""
    chance = random.Random(number)  # noqa: S311  # the same mistakes every time
    job = job_of((MODELS / "cases" / f"{model}.yaml").read_text("utf-8"), tmp_path, monkeypatch)
    done = list(job.status()["open"])[: chance.randint(3, 8)]
    done.insert(chance.randrange(len(done)), done.pop(chance.randrange(len(done))))
    for step in done:
        _codes(job, f"done {step}")
    mend = job.revise(f"--redo {chance.choice(done)}")
    if mend["undo"]:
        assert _codes(job, f"undone {' '.join(mend['undo'])}") == set()
    for step in mend["do"]:
        in_place = {"done-already"} if step in mend["in_place"] else set()
        assert _codes(job, f"done {step}") <= BESIDES | in_place, step
    assert job.status()["open"] == []
    rest = job.revise()
    assert (rest["undo"], rest["do"]) == ([], [])
