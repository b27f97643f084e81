"""How commands write files: whole or not at all, and never over one that is not theirs."""

from __future__ import annotations

import contextlib
import shutil
from typing import TYPE_CHECKING

from sequencer.problem import Problem

if TYPE_CHECKING:
    from pathlib import Path


class NotWrittenError(Exception):
    """A file that could not be written; `problem` says why."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


INTO = "free the file or the folder, or choose another with --into"


def write_whole(target: Path, data: bytes, *, why: str, fix: str = INTO) -> None:
    """Write a file whole or not at all; one that was there keeps its rights, and a link its end.

    `why` says what is lost if it cannot be written, `fix` what to do then.

    Raises
    ------
    NotWrittenError
        If the file or its folder may not be written.
    """
    end = target.resolve()
    unfinished = end.with_name(f"{end.name}.part")
    try:
        end.parent.mkdir(parents=True, exist_ok=True)
        unfinished.write_bytes(data)
        if end.exists():
            shutil.copymode(end, unfinished)
        unfinished.replace(end)
    except OSError as fault:
        with contextlib.suppress(OSError):
            unfinished.unlink()
        raise NotWrittenError(_not_written(target, fault, why, fix)) from fault


def write_new(target: Path, data: bytes, *, why: str, fix: str = INTO) -> bool:
    """Write a file that is not there yet; return False and leave it alone if it is.

    Raises
    ------
    NotWrittenError
        If the file or its folder may not be written.
    """
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("xb") as file:
            file.write(data)
    except FileExistsError:
        return False
    except OSError as fault:
        raise NotWrittenError(_not_written(target, fault, why, fix)) from fault
    return True


def _not_written(target: Path, fault: OSError, why: str, fix: str) -> Problem:
    message = f"cannot write {target}: {fault.strerror}"
    return Problem("not-written", "error", message, why=why, fix=fix)
