"""Saving case files and reports: into the chosen folder only, and never over somebody else's file."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from pathlib import Path

from nicegui import run, ui

from deflect.desk.check.bench import Bench
from deflect.desk.check.papers import Sheet
from deflect.faults import DeflectError, OutputRefused
from deflect.findings import Advice
from deflect.outputs import put, why_not
from deflect.report.writing import write_report

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _-]{0,60}")
"""A name that is a file's name in every folder, and leads nowhere else."""
_LONGEST = 40
"""Letters of a case file's name in the name of its report: both names fit into what a folder may be called."""


def save_sheet(text: str, name: str, folder: Path, ours: Collection[Path]) -> Path:
    """Write a case file into ``folder``, over one of ``ours`` and no other; returns its path.  Raises OutputRefused."""
    try:
        target = _place(folder, name.strip())
        if target.exists() and target not in ours:
            raise OutputRefused(f"{target.name} is there already: choose another name")
        put(target, text)
    except (OSError, ValueError) as error:
        raise OutputRefused(f"It cannot be written: {why_not(error)}") from None
    return target


def report_name(die: str, press: str) -> str:
    """The folder's name of a report: the names of both files, with what is no letter or digit taken out of each."""
    return " on ".join(re.sub(r"[^\w -]", "-", name).strip()[:_LONGEST] or "case" for name in (die, press))


def _place(folder: Path, name: str) -> Path:
    if not _NAME.fullmatch(name):
        raise OutputRefused("A name has letters, digits, blanks, - and _, and no folders")
    return _within(folder, f"{name}.toml")


def _within(folder: Path, name: str) -> Path:
    target = folder / name
    if target.is_symlink() or target.resolve().parent != folder.resolve():
        raise OutputRefused("This name leads out of the folder: choose another one")
    return target


class Saving:
    """Buttons that save die file, press file and report; each asks for a name."""

    def __init__(self, bench: Bench, folder: Path, advice: Callable[[], Advice | None]) -> None:
        self._bench, self._folder, self._advice = bench, folder, advice
        self._written: set[Path] = set()
        with ui.element("div").classes("desk-card w-full"):
            ui.label("Save").classes("text-bold")
            ui.label(f"into {_shown(folder)}").classes("desk-dim").style("overflow-wrap: anywhere")
            self._die = ui.input("name of the die file", value="my-die").props("dense outlined data-save=die")
            self._press = ui.input("name of the press file", value="my-press").props("dense outlined data-save=press")
            with ui.row().classes("gap-1 q-mt-xs"):
                for label, act in (
                    ("Save die", self._save_die),
                    ("Save press", self._save_press),
                    ("Save report", self._report),
                ):
                    ui.button(label, on_click=act).props("dense no-caps outline")
            self._told = (
                ui.label("").classes("desk-dim").props('role="status" data-saved').style("overflow-wrap: anywhere")
            )

    def ready(self, done: bool) -> None:
        """Say whether there is a verdict to report."""
        self._told.set_text("The report can be saved." if done else "")

    def _save_die(self) -> None:
        self._save(self._bench.die, str(self._die.value))

    def _save_press(self) -> None:
        self._save(self._bench.press, str(self._press.value))

    def _save(self, sheet: Sheet, name: str) -> None:
        try:
            target = save_sheet(sheet.text, name, self._folder, self._written)
        except DeflectError as refused:
            self._told.set_text(str(refused))
        else:
            self._written.add(target)
            self._told.set_text(f"{target.name} is saved.")

    async def _report(self) -> None:
        advice = self._advice()
        if advice is None:
            self._told.set_text("The report follows when the verdict is there.")
            return
        try:
            place = _within(self._folder, report_name(self._bench.die.name, self._bench.press.name))
            self._told.set_text("Writing the report …")
            written = await run.io_bound(write_report, advice, place, papers=True)
        except DeflectError as refused:
            self._told.set_text(str(refused))
            return
        files = ", ".join(path.name for path in written or ())
        self._told.set_text(f"The report is in {place.name}: {files}")


def _shown(folder: Path) -> Path:
    """The folder as its user would say it: from where the desk was started, if it lies there."""
    here = Path.cwd()
    return folder.relative_to(here) if folder.is_relative_to(here) else folder
