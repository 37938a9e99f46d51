"""How long the desk takes from an event to its picture, in a real browser: a benchmark, told and never asserted.

Run with ``python -m pytest -n 0 tests/desk/test_pace.py --benchmark-only``.  The page itself measures, from the event
until the picture is drawn; what the test run adds is left out.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable

import numpy as np
from desk_bench import Desk, entry, middle_of_die, opened
from playwright.sync_api import Page
from pytest_benchmark.fixture import BenchmarkFixture

ROUNDS = 12
# What no earlier event has asked for, so that everything is solved.
NUMBERS = itertools.count(1)


def paced(page: Page, benchmark: BenchmarkFixture, act: Callable[[], None], held: bool = False) -> None:
    """Act some times, and keep the milliseconds that the page tells; held: the die stays in the hand meanwhile."""
    plan, told = page.locator("#plan"), list[float]()

    def once() -> None:
        before = plan.get_attribute("data-shown")
        act()
        page.wait_for_function("old => document.querySelector('#plan').dataset.shown !== old", arg=before)
        told.append(float(plan.get_attribute("data-milliseconds") or "nan"))
        if not held:
            page.wait_for_function("!document.querySelector('[data-under-way]')")

    benchmark.pedantic(once, rounds=ROUNDS, warmup_rounds=2)
    benchmark.extra_info["in the page, ms"] = float(np.median(told[2:]))
    benchmark.extra_info["at most, ms"] = max(told[2:])


def filled(page: Page, key: str, value: str) -> None:
    field = entry(page, key)
    field.fill(value)
    field.blur()


def test_die_under_way_to_its_picture(desk: Desk, page: Page, benchmark: BenchmarkFixture) -> None:
    """The die in the hand, from each move of the pointer to the picture of it."""
    opened(page, desk)
    x, y = middle_of_die(page)
    page.mouse.move(x, y)
    page.mouse.down()
    paced(page, benchmark, lambda: page.mouse.move(x + 3 * next(NUMBERS), y), held=True)
    page.mouse.up()


def test_new_force_to_its_picture(desk: Desk, page: Page, benchmark: BenchmarkFixture) -> None:
    opened(page, desk)
    paced(page, benchmark, lambda: filled(page, "die.working_force", f"{8000 + next(NUMBERS)} kN"))


def test_new_thickness_to_its_picture(desk: Desk, page: Page, benchmark: BenchmarkFixture) -> None:
    opened(page, desk)
    paced(page, benchmark, lambda: filled(page, "die.base.thickness", f"{380 + next(NUMBERS)} mm"))


def test_die_set_down_to_its_picture(desk: Desk, page: Page, benchmark: BenchmarkFixture) -> None:
    """A die moved by a key, solved on the usual mesh."""
    opened(page, desk)
    page.locator("#plan .st-hold").focus()
    paced(page, benchmark, lambda: page.keyboard.press("ArrowLeft"))
