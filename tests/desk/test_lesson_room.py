"""The lesson: played beside the solver, and taken along as one file that needs nothing else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from desk_bench import PATIENCE, Desk
from playwright.sync_api import Browser, FrameLocator, Page, expect

from deflect.desk.lesson.grid import FULL, computed, ends
from deflect.desk.lesson.lessons import LESSONS
from deflect.desk.lesson.page import page as lesson_page
from deflect.desk.lesson.states import SHARES, solved
from deflect.desk.lesson.teaching import SLIDERS, Setting

# Two levels of one slider: enough to draw between them, few enough to wait for.
SMALL = {"bolster": (210.0,), "opening": (2000.0,), "base": (150.0, 450.0), "spread": (0.90,)}
COARSE = 2.5


def number(place: FrameLocator | Page, title: str) -> str:
    """A number of the lesson's table."""
    return place.locator("#numbers tr", has_text=title).locator("td").nth(1).inner_text()


def slide(place: FrameLocator | Page, slider: str, value: float) -> None:
    """Move a slider as a hand does."""
    place.locator(f"[data-slider={slider}]").fill(str(value))


def test_slider_playback_switch_and_a_guided_lesson(desk: Desk, page: Page) -> None:
    page.goto(desk.address)
    page.get_by_role("tab", name="Lesson").click()
    lesson = page.frame_locator("iframe")
    lesson.locator("body[data-ready]").wait_for()
    first = number(lesson, "Table sag")
    slide(lesson, "bolster", 140)
    expect(lesson.locator("#numbers")).not_to_contain_text(first, timeout=PATIENCE)
    lesson.locator("#play").click()
    expect(lesson.locator("#numbers tr", has_text="Strokes played")).not_to_contain_text("0", timeout=PATIENCE)
    lesson.locator("#play").click()
    lesson.get_by_label("key").check()
    expect(lesson.locator("#numbers")).to_contain_text("force on the keys", timeout=PATIENCE)
    lesson.get_by_label("lesson", exact=True).select_option("1")
    lesson.locator("[data-option='0']").click()
    expect(lesson.locator("#guide")).to_have_attribute("data-right", str(LESSONS[1].expected), timeout=PATIENCE)
    expect(lesson.locator("#guide .safety")).to_contain_text("For safety")


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.title)
def test_words_of_a_lesson_explain_what_is_computed(lesson) -> None:  # type: ignore[no-untyped-def]
    after = solved(lesson.after)
    if lesson.number == "where":
        x, y = after["states"][-1]["at"]
        ratio = max(abs(x) / (after["die"]["length"] / 2), abs(y) / (after["die"]["width"] / 2))
    else:
        before = solved(lesson.before)
        first = before["states"][SHARES.index(lesson.share_before)]
        ratio = (
            after["walk"]["creep"] / before["walk"]["creep"]
            if lesson.number == "creep"
            else after["states"][-1][lesson.number] / first[lesson.number]
        )
    right = [k for k, option in enumerate(lesson.options) if option.low <= ratio < option.high]
    assert right == [lesson.expected]


def test_every_lesson_asks_at_computed_settings() -> None:
    for lesson in LESSONS:
        for setting in (lesson.before, lesson.after):
            for slider in SLIDERS:
                levels = ends(FULL) if setting.switch == "posts" else FULL
                assert getattr(setting, slider.key) in levels[slider.key], lesson.title


def test_a_lesson_file_works_from_disk_with_the_network_off(browser: Browser, tmp_path: Path) -> None:
    told = computed(levels=SMALL, coarser=COARSE)
    file = tmp_path / "lesson.html"
    file.write_text(lesson_page(told), encoding="utf-8")
    context = browser.new_context(offline=True)
    asked: list[str] = []
    page = context.new_page()
    wrong: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("pageerror", lambda problem: wrong.append(str(problem)))
    page.goto(file.as_uri())
    page.locator("body[data-ready]").wait_for()
    slide(page, "base", 450)
    exact = solved(Setting(bolster=210.0, base=450.0, spread=0.9), with_walk=False, coarser=COARSE)
    expect(page.locator("#state")).to_have_text("Computed at this setting.")
    assert number(page, "Greatest gap") == f"{exact['states'][-1]['greatest']:.3f} mm"
    expect(page.locator("#verdict")).to_contain_text("At full force")
    slide(page, "base", 300)
    expect(page.locator("#verdict")).to_contain_text("No verdict here")
    expect(page.locator("#state")).to_contain_text("not computed")
    between = [node["states"][-1]["greatest"] for node in told["none"].values()]
    assert float(number(page, "Greatest gap").removesuffix(" mm")) == pytest.approx(sum(between) / 2, abs=6e-4)
    expect(page.locator("#about")).to_contain_text(re.compile(r"off by .* on average"))
    page.locator("#play").click()
    expect(page.locator("#numbers tr", has_text="Strokes played")).not_to_contain_text("0", timeout=PATIENCE)
    assert [url for url in asked if not url.startswith("file:")] == []
    assert wrong == []
    context.close()
