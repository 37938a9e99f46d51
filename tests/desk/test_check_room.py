"""The check room, driven as a person drives it."""

from __future__ import annotations

import json
import subprocess
import sys
import tomllib
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from desk_bench import PATIENCE, Desk, entry, live, middle_of_die, opened, redrawn
from playwright.sync_api import Browser, Page, expect

from deflect.casefile import demo_cases

# A slug lies on the table, and seized guides pull: clean it away, and set more clamps besides. The way of the thrust is
# stated, so that one is marched.
SLUG, PRESS = "slug", "alder-10mn"
STATED = 'operation = "form"\nthrust_direction = "0 degree"'
SEIZED = '\n[die.lift_off]\nguides = "150 kN"\n'


def test_demo_die_is_drawn_at_once_and_nobody_else_is_asked(desk: Desk, page: Page) -> None:
    asked: set[str] = set()
    page.on("request", lambda request: asked.add(urlsplit(request.url).netloc))
    page.on("websocket", lambda socket: asked.add(urlsplit(socket.url).netloc))
    opened(page, desk)
    assert live(page, "gap").endswith("mm")
    assert asked - {""} == {urlsplit(desk.address).netloc}
    assert list(desk.started_in.iterdir()) == []


def test_dragging_turning_and_keys_move_the_die_and_write_its_place(desk: Desk, page: Page) -> None:
    opened(page, desk)
    die = page.locator("#plan .st-hold")
    x, y = middle_of_die(page)
    before = live(page, "contact"), live(page, "gap")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 40, y, steps=4)
    page.mouse.up()
    expect(entry(page, "die.placing.x")).not_to_have_value("")
    moved = float(entry(page, "die.placing.x").input_value().removesuffix(" mm"))
    assert moved > 200
    page.wait_for_function("old => document.querySelector('[data-live=gap]').textContent !== old", arg=before[1])
    with redrawn(page):
        die.focus()
        page.keyboard.press("ArrowLeft")
    expect(entry(page, "die.placing.x")).to_have_value(f"{moved - 10:g} mm")
    with redrawn(page):
        page.keyboard.press(",")
    expect(entry(page, "die.placing.rotation")).to_have_value("1 degree")


def test_a_mistake_stands_at_its_entry_and_the_picture_stays(desk: Desk, page: Page) -> None:
    opened(page, desk)
    thickness = entry(page, "die.base.thickness")
    thickness.fill("0,4 m")
    thickness.blur()
    expect(page.locator(".q-field--error", has=thickness)).to_contain_text("allowed: 15 mm to 1.5 m")
    expect(page.get_by_role("alert").first).to_contain_text("line 20")
    expect(page.locator("[data-verdict]")).to_have_text("No verdict")
    with redrawn(page):
        thickness.fill("300 mm")
        thickness.blur()
    expect(page.locator(".q-field--error")).to_have_count(0)
    expect(page.get_by_role("alert").first).to_be_empty()


def test_a_thinner_base_closes_the_gap_below_the_bridging_die(desk: Desk, page: Page) -> None:
    opened(page, desk)
    thick = float(live(page, "gap").removesuffix(" mm"))
    thickness = entry(page, "die.base.thickness")
    with redrawn(page):
        thickness.fill("250 mm")
        thickness.blur()
    assert float(live(page, "gap").removesuffix(" mm")) < 0.7 * thick


def test_two_pages_do_not_disturb_each_other(desk: Desk, page: Page, browser: Browser) -> None:
    opened(page, desk)
    other = browser.new_page()
    other.set_default_timeout(PATIENCE)
    opened(other, desk)
    before = live(other, "gap")
    force = entry(page, "die.working_force")
    with redrawn(page):
        force.fill("4 MN")
        force.blur()
    assert entry(other, "die.working_force").input_value() == "8.8 MN"
    assert live(other, "gap") == before
    other.close()


def test_remedy_on_and_off_and_page_and_command_tell_the_same(desk: Desk, page: Page, tmp_path: Path) -> None:
    text = demo_cases("die")["yew-form"].read_text("utf-8").replace('operation = "form"', STATED) + SEIZED
    (tmp_path / f"{SLUG}.toml").write_text(text, encoding="utf-8")
    words = ["-c", "from deflect.cli import main; main()", "check", f"{SLUG}.toml", PRESS, "--json"]
    with subprocess.Popen([sys.executable, *words], cwd=tmp_path, stdout=subprocess.PIPE) as command:
        try:
            _compare(desk, page, command, text)
        finally:
            command.kill()


def _compare(desk: Desk, page: Page, command: subprocess.Popen[bytes], text: str) -> None:
    opened(page, desk)
    with redrawn(page):
        sheet = {"name": f"{SLUG}.toml", "mimeType": "text/plain", "buffer": text.encode()}
        page.locator(".q-uploader input[type=file]").first.set_input_files(sheet)
    expect(page.locator(".desk-verdict.fit-with-measures [data-verdict]")).to_have_text(
        "Fit with measures", timeout=PATIENCE
    )
    expect(page.locator("#cautions")).to_contain_text("Cautions")
    as_it_is = live(page, "gap")
    remedy = page.locator("[data-remedy=clean-table]")
    with redrawn(page):
        remedy.click()
    assert float(live(page, "gap").removesuffix(" mm")) < float(as_it_is.removesuffix(" mm"))
    expect(page.get_by_label("before and after")).to_contain_text("0.")
    with redrawn(page):
        remedy.click()
    assert live(page, "gap") == as_it_is
    both = page.locator("[data-remedy='clean-table+more-clamps']")
    with redrawn(page):
        both.click()
    remedy.click()
    expect(page.locator("[data-excluded]")).to_contain_text("have a remedy in common")
    expect(remedy).to_have_attribute("aria-checked", "false")
    expect(both).to_have_attribute("aria-checked", "true")
    page.get_by_role("button", name="Save report").click()
    place = desk.folder / f"{SLUG} on {PRESS}"
    expect(page.locator("[data-saved]")).to_contain_text("report.pdf", timeout=PATIENCE)
    assert (place / "report.pdf").read_bytes().startswith(b"%PDF-")
    ours = json.loads((place / "result.json").read_text("utf-8"))
    theirs = json.loads(command.communicate()[0])
    assert ours == theirs
    shown = page.locator("[data-number=greatest_gap_mm]").inner_text()
    assert float(shown.removesuffix(" mm")) == pytest.approx(theirs["headlines"]["greatest_gap_mm"]["usual"], abs=5e-4)


def test_saved_die_keeps_its_comments_and_no_name_leads_out_of_the_folder(desk: Desk, page: Page) -> None:
    opened(page, desk)
    with redrawn(page):
        entry(page, "die.working_force").fill("8.5 MN")
        entry(page, "die.working_force").blur()
    name = page.locator("input[data-save=die]")
    name.fill("../outside")
    page.get_by_role("button", name="Save die").click()
    expect(page.locator("[data-saved]")).to_contain_text("no folders")
    assert not (desk.folder.parent / "outside.toml").exists()
    name.fill("trim-8-5")
    page.get_by_role("button", name="Save die").click()
    expect(page.locator("[data-saved]")).to_contain_text("trim-8-5.toml is saved")
    text = (desk.folder / "trim-8-5.toml").read_text("utf-8")
    assert text.startswith("# Demo case.")
    assert tomllib.loads(text)["die"]["working_force"] == "8.5 MN"


def test_an_opened_file_is_a_case_file_or_is_refused(desk: Desk, page: Page) -> None:
    opened(page, desk)
    text = demo_cases("die")["rowan-trim"].read_text("utf-8").replace('thickness = "450 mm"', 'thickness = "300 mm"')
    chooser = page.locator(".q-uploader input[type=file]").first
    chooser.set_input_files({"name": "photo.toml", "mimeType": "image/png", "buffer": b"\x89PNG\r\n\x00\xff"})
    expect(page.get_by_text("no UTF-8 text")).to_be_visible()
    assert entry(page, "die.base.thickness").input_value() == "450 mm"
    with redrawn(page):
        chooser.set_input_files({"name": "mine.toml", "mimeType": "text/plain", "buffer": text.encode()})
    assert entry(page, "die.base.thickness").input_value() == "300 mm"
    with_script = text.replace("Rowan trim", "<img src=x onerror=alert(1)>")
    chooser.set_input_files({"name": "bad.toml", "mimeType": "text/plain", "buffer": b"[die]\nbase = <script>"})
    expect(page.get_by_role("alert").first).to_contain_text("bad.toml, line 2")
    with redrawn(page):
        chooser.set_input_files({"name": "odd.toml", "mimeType": "text/plain", "buffer": with_script.encode()})
    assert page.locator("img[src=x]").count() == 0
