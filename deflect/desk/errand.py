"""Long work in a process of its own, so that the page answers meanwhile; it is ended when its case has changed."""

from __future__ import annotations

import asyncio
import multiprocessing
from collections.abc import AsyncIterator, Callable
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Any

from nicegui import run

from deflect.faults import GAVE_UP, DeflectError, given_up

# How often a waiting page looks whether something has come, s.
_LOOK = 0.05
# How long a process that tells no more may take to end, s.
_LAST = 5.0
_SPAWN = multiprocessing.get_context("spawn")


@dataclass(frozen=True)
class Failed:
    """The work could not be done: why, in words."""

    words: str


Tell = Callable[[Any], None]
Work = Callable[..., None]


class Errand:
    """One piece of work; ``news`` brings what it tells, in order."""

    def __init__(self, work: Work, *inputs: Any) -> None:
        self._here, self._there = _SPAWN.Pipe(duplex=False)
        self._process = _SPAWN.Process(target=_do, args=(self._there, work, inputs), daemon=True)
        self._ended = False

    async def news(self) -> AsyncIterator[Any]:
        """Begin the work; what it tells until it ends.  The last may be ``Failed``."""
        try:
            # Large inputs are taken in only when the new process is up: the page must not wait for that.
            await run.io_bound(self._process.start)
            self._there.close()
            while not self._ended:
                while not self._here.poll():
                    await asyncio.sleep(_LOOK)
                yield await run.io_bound(self._here.recv)
        except (EOFError, OSError):
            if await self._broke_off():
                yield Failed("the work broke off before it was done: try again")
        finally:
            self.end()

    async def _broke_off(self) -> bool:
        """Whether the work ended by itself, and not as it should: killed, or out of memory."""
        if not self._ended:
            await run.io_bound(self._process.join, _LAST)
        return not self._ended and self._process.exitcode != 0

    def end(self) -> None:
        """End the work, done or not, begun or not."""
        self._ended = True
        if self._process.is_alive():
            self._process.terminate()
        with suppress(OSError):
            self._here.close()


def _do(there: Connection, work: Work, inputs: tuple[Any, ...]) -> None:
    try:
        work(there.send, *inputs)
    except DeflectError as failed:
        there.send(Failed(str(failed)))
    except GAVE_UP as fault:
        there.send(Failed(str(given_up(fault))))
    finally:
        there.close()
