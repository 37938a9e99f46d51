"""What the browser tests share: a desk that runs, opening its page, reading it, waiting for a picture."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Locator, Page

PATIENCE = 300_000
"""Milliseconds that a page may take: a limit for what hangs, not a demand."""


@dataclass(frozen=True)
class Desk:
    """A desk that runs: its address, the folder that it may write to, the folder that it was started in."""

    address: str
    folder: Path
    started_in: Path


def opened(page: Page, desk: Desk, die: str = "", press: str = "") -> None:
    """Open the page, choose a case, and wait for its picture on the usual mesh."""
    page.goto(desk.address)
    settled(page)
    for kind, name in (("die", die), ("press", press)):
        if name:
            page.locator(f"[data-choice={kind}]").click()
            page.get_by_role("option", name=name, exact=True).click()
            settled(page)


def settled(page: Page) -> None:
    """Wait until a picture is there and nothing says that it is under way."""
    page.wait_for_selector("#plan[data-shown]")
    page.wait_for_function("document.querySelector('[data-live=gap]') && !document.querySelector('[data-under-way]')")


@contextmanager
def redrawn(page: Page) -> Iterator[None]:
    """Wait until what is done within is solved and shown."""
    before = page.locator("[data-settled]").get_attribute("data-settled")
    yield
    page.wait_for_function("old => document.querySelector('[data-settled]').dataset.settled !== old", arg=before)
    settled(page)


def middle_of_die(page: Page) -> tuple[float, float]:
    """Where to take the die in the hand, in pixels; asked in one step, as a plan drawn anew replaces its shapes."""
    x, y = page.evaluate(
        """() => {
            const box = document.querySelector("#plan .st-hold").getBoundingClientRect();
            return [box.x + box.width / 2, box.y + box.height / 2];
        }"""
    )
    return float(x), float(y)


def entry(page: Page, key: str) -> Locator:
    """The first entry of a key."""
    return page.locator(f'input[data-key="{key}"]').first


def live(page: Page, number: str) -> str:
    """A number beside the picture."""
    return page.locator(f"[data-live={number}]").inner_text()


def length_told(tell: Callable[[object], None], text: str) -> None:
    """Work for an errand: how long its input is."""
    tell(len(text))
