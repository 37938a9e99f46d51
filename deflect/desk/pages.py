"""The page: its head, its rooms, light and dark."""

from __future__ import annotations

from pathlib import Path

from nicegui import ui

from deflect import __version__
from deflect.desk.check.room import CheckRoom
from deflect.desk.compare.room import CompareRoom
from deflect.desk.lesson.room import LessonRoom


def desk_page(folder: Path) -> None:
    """Lay out one page; nothing of it is shared with another."""
    ui.add_head_html(
        f'<link rel="stylesheet" href="/desk/desk.css?{__version__}">'
        f'<script src="/desk/stage.js?{__version__}"></script><script src="/desk/desk.js?{__version__}"></script>'
    )
    ui.colors(primary="#0b5c7a", secondary="#4d585f", accent="#6a3d8f", positive="#1b6e3c", negative="#a3201d")
    dark = ui.dark_mode(None)
    with ui.header().classes("items-center no-wrap gap-4 q-px-md").style("padding-top: 2px; padding-bottom: 2px"):
        ui.label("deflect").classes("text-bold text-h6")
        with ui.tabs().props("dense no-caps").classes("col") as rooms:
            ui.tab("Check")
            ui.tab("Compare")
            ui.tab("Lesson")
        ui.button("Light or dark", on_click=lambda: dark.set_value(not dark.value)).props("flat dense no-caps")
    with ui.tab_panels(rooms, value="Check", keep_alive=True, animated=False).classes("w-full bg-transparent"):
        with ui.tab_panel("Check").classes("q-pa-none"):
            CheckRoom(folder)
        with ui.tab_panel("Compare").classes("q-pa-none"):
            CompareRoom(folder)
        with ui.tab_panel("Lesson").classes("q-pa-none"):
            LessonRoom(folder)
