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

from deflect.faults import GAVE_UP, DeflectError, printable

# How often a waiting page looks whether something has come, s.
_LOOK = 0.05
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
        self._here, there = _SPAWN.Pipe(duplex=False)
        self._process = _SPAWN.Process(target=_do, args=(there, work, inputs), daemon=True)
        self._process.start()
        there.close()

    async def news(self) -> AsyncIterator[Any]:
        """What the work tells until it ends; the last may be ``Failed``."""
        try:
            while True:
                while not self._here.poll():
                    await asyncio.sleep(_LOOK)
                yield await run.io_bound(self._here.recv)
        except (EOFError, OSError):
            return
        finally:
            self.end()

    def end(self) -> None:
        """End the work, done or not."""
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
        there.send(Failed(f"the solver gave up ({printable(f'{type(fault).__name__}: {fault}', 300)})"))
    finally:
        there.close()
