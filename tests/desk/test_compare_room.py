"""The compare room: two presses side by side, told as the command tells them."""

from __future__ import annotations

import re

from desk_bench import PATIENCE, Desk
from playwright.sync_api import Page, expect


def choose(page: Page, label: str, name: str) -> None:
    """Choose a case by its name."""
    page.locator(f'[data-compare="{label}"]').click()
    page.get_by_role("option", name=name, exact=True).click()
    expect(page.get_by_role("option")).to_have_count(0)


def test_a_press_that_is_its_own_stand_in_behaves_alike(desk: Desk, page: Page) -> None:
    page.goto(desk.address)
    page.get_by_role("tab", name="Compare").click()
    choose(page, "die", "rowan-trim")
    choose(page, "production press", "alder-10mn")
    choose(page, "stand-in press", "alder-10mn")
    page.get_by_role("button", name="Compare", exact=True).click()
    expect(page.locator("#compare-second rect.st-base")).to_have_count(1, timeout=PATIENCE)
    expect(page.locator("#compare-first rect.st-base")).to_have_count(1)
    verdict = page.locator("[data-verdict]", has_text=re.compile("alike"))
    expect(verdict).to_be_visible()
    expect(page.locator("#cautions-compared")).to_contain_text("nobody below a raised die")
    expect(page.locator("a[href='#cautions-compared']")).to_contain_text("Read all")
    told = page.frame_locator("iframe[title=comparison]")
    expect(told.locator("body")).to_contain_text("Bedding plan")
    expect(told.locator("body")).to_contain_text("Cautions in full")
    page.get_by_role("button", name="Save comparison").click()
    expect(page.locator("[data-compared]")).to_contain_text("comparison.pdf", timeout=PATIENCE)
    place = desk.folder / "comparison"
    assert "Bedding plan" in (place / "comparison.html").read_text("utf-8")
    for paper in ("comparison.pdf", "bedding-plan.pdf"):
        assert (place / paper).read_bytes().startswith(b"%PDF-"), paper
