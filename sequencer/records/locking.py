"""One writer at a time: a lock on the open file, where the system has one."""

from __future__ import annotations

import contextlib
import time
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

_PATIENCE = 10.0  # seconds; a writer holds the lock for a few thousandths
_PAUSE = 0.02


class BusyError(RuntimeError):
    """Somebody else has held the lock for too long."""


@contextlib.contextmanager
def locked(descriptor: int, patience: float = _PATIENCE) -> Iterator[bool]:
    """Hold the lock of an open file; tells whether there is any such thing here.

    Raises
    ------
    BusyError
        If another writer does not let go of it within `patience` seconds.

    Notes
    -----
    The lock goes with the open file: the system takes it back when a writer dies.
    """
    system = _system()
    if system is None or not _taken(system, descriptor, patience):
        yield False
        return
    try:
        yield True
    finally:
        system.flock(descriptor, system.LOCK_UN)


def _system() -> Any:
    """Return the module with file locks; None on a system without them."""
    try:
        import fcntl
    except ImportError:
        return None
    return fcntl


def _taken(system: Any, descriptor: int, patience: float) -> bool:
    """Take the lock; False where the disk (a network share, perhaps) has no locks."""
    give_up = time.monotonic() + patience
    while True:
        try:
            system.flock(descriptor, system.LOCK_EX | system.LOCK_NB)
        except BlockingIOError:
            if time.monotonic() > give_up:
                raise BusyError from None
            time.sleep(_PAUSE)
        except OSError:
            return False
        else:
            return True
