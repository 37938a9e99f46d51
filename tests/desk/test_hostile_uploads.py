"""Hostile names on the desk: in files that are opened, in the folder of saved files, and as names to save under."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from desk_bench import Desk, entry, opened, redrawn, settled
from playwright.sync_api import Page, expect

from deflect.casefile import demo_cases
from deflect.desk.check.saving import report_name, save_sheet
from deflect.faults import OutputRefused

MARKUP = "</script><img src=x onerror=alert(1)> {{7*7}} ${7*7} [red] #eval(1) ../../etc '; --"
"""What may stand in a case file as a name and a note."""
UNSEEN = "\\u001b[31m \\u202e"
"""What may not, as it is written there."""
FILES = (
    "<img src=x onerror=alert(1)>",
    "..%2F..%2Fetc%2Fpasswd",
    "{{7*7}}",
    "a\u202eb",
    "\x1b[31mred",
    "x\udcffy",
    "y" * 200,
)
"""What may be a file's name."""


@pytest.fixture
def harmless(page: Page) -> Iterator[Page]:
    """A page on which nothing of the names has come to life: no dialog, no picture, no handler, no other page."""
    dialogs: list[str] = []
    page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
    yield page
    assert dialogs == []
    assert page.locator("img[src=x], [onerror]").count() == 0
    assert "49" not in page.locator("body").inner_text().split()


def die_named(name: str) -> bytes:
    """A demo die's text with another name and note."""
    text = demo_cases("die")["rowan-trim"].read_text(encoding="utf-8")
    return re.sub(r'(?m)^(name|note) = ".*"$', lambda found: f"{found[1]} = {name}", text).encode()


def test_opened_files_with_hostile_names_are_text(desk: Desk, harmless: Page) -> None:
    """Markup is shown as it stands, unseen signs are refused, and the name of the file leads nowhere."""
    page = harmless
    opened(page, desk)
    chooser = page.locator(".q-uploader input[type=file]").first
    for file in (FILES[0], "\u202e..\\..\\c", FILES[-1]):
        sheet = {"name": f"{file}.toml", "mimeType": "text/plain", "buffer": die_named(json.dumps(MARKUP))}
        with redrawn(page):
            chooser.set_input_files(sheet)
        assert entry(page, "die.base.thickness").input_value() == "450 mm"
    bad = {"name": f"{FILES[0]}.toml", "mimeType": "text/plain", "buffer": die_named(f'"{UNSEEN}"')}
    chooser.set_input_files(bad)
    told = page.get_by_role("alert").first
    expect(told).to_contain_text("control characters")
    expect(told).to_contain_text(FILES[0])
    assert not re.search("[\x1b\u202e]", told.inner_text())
    kept = {path.name for path in desk.folder.iterdir()} if desk.folder.exists() else set()
    assert not any("etc" in name or "img" in name for name in kept)


def test_files_with_hostile_names_in_the_folder_are_offered_as_text(desk: Desk, harmless: Page) -> None:
    page = harmless
    desk.folder.mkdir(exist_ok=True)
    made = []
    for name in FILES:
        path = desk.folder / f"{name}.toml"
        with suppress(OSError, UnicodeError):  # a disk that knows no such name
            path.write_bytes(die_named(json.dumps(MARKUP)))
            made.append(path)
    try:
        page.goto(desk.address)
        settled(page)
        page.get_by_role("tab", name="Compare").click()
        page.locator('[data-compare="die"]').click()
        expect(page.get_by_role("option", name=f"saved: {FILES[0]}", exact=True)).to_be_visible()
    finally:
        for path in made:
            path.unlink()


@pytest.mark.parametrize("name", ["../outside", "a/b", "/etc/passwd", "..", "", "<b>", "a\0b", "\x1b[31m", "z" * 300])
def test_a_name_to_save_under_leads_nowhere(tmp_path: Path, name: str) -> None:
    with pytest.raises(OutputRefused, match="no folders"):
        save_sheet("text", name, tmp_path, ())
    assert list(tmp_path.iterdir()) == []


def test_a_name_that_is_a_way_out_is_refused(tmp_path: Path) -> None:
    folder, outside = tmp_path / "folder", tmp_path / "outside.toml"
    folder.mkdir()
    outside.write_text("mine")
    (folder / "link.toml").symlink_to(outside)
    with pytest.raises(OutputRefused, match="leads out of the folder"):
        save_sheet("text", "link", folder, ())
    assert outside.read_text() == "mine"


@pytest.mark.parametrize("name", [*FILES, "../../x", "/etc/passwd", ".", "", "a\0b", "ä"])
def test_the_folder_of_a_report_is_within_and_can_be_made(tmp_path: Path, name: str) -> None:
    for pair in ((name, "press"), ("die", name), (name, name)):
        made = tmp_path / report_name(*pair)
        assert made.resolve().parent == tmp_path
        made.mkdir()
        assert os.fspath(made).isprintable()
