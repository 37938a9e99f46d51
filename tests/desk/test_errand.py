"""Work in a process of its own: large inputs arrive while the page goes on, and what was ended tells nothing."""

from __future__ import annotations

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

from desk_bench import length_told

from deflect.desk.errand import Errand, Failed

# More than a pipe holds (64 KiB on Linux; from memory), so that whoever sends waits for whoever reads.
LARGE = 4_000_000
_T = TypeVar("_T")


def run_apart(work: Coroutine[Any, Any, _T]) -> _T:
    """In a thread of its own: a browser that is open in this one has a loop of its own there."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(asyncio.run, work).result()


async def told(errand: Errand) -> list[Any]:
    return [news async for news in errand.news()]


def test_a_large_input_arrives_and_others_go_on_meanwhile() -> None:
    async def beside() -> tuple[list[Any], int]:
        waiting = asyncio.ensure_future(told(Errand(length_told, "x" * LARGE)))
        turns = 0
        while not waiting.done():
            await asyncio.sleep(0.01)
            turns += 1
        return await waiting, turns

    news, turns = run_apart(beside())
    assert news == [LARGE]
    assert turns > 1


def test_what_was_ended_before_it_began_tells_nothing() -> None:
    errand = Errand(length_told, "x")
    errand.end()
    assert run_apart(told(errand)) == []


def test_work_that_broke_off_is_told() -> None:
    (failed,) = run_apart(told(Errand(length_told, 1.0)))  # no work for numbers: its process ends with an error
    assert isinstance(failed, Failed)
    assert "broke off" in failed.words
