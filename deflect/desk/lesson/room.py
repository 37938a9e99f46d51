"""The lesson room: the lesson page beside the solver, and the button that makes a file of it."""

from __future__ import annotations

from pathlib import Path

from nicegui import background_tasks, ui

from deflect.desk.errand import Errand, Failed
from deflect.desk.lesson.page import make_file
from deflect.faults import OutputRefused
from deflect.outputs import put, why_not

FILE = "lesson.html"


def save_lesson(text: str, folder: Path) -> Path:
    """Write the lesson into ``folder``, over an earlier lesson and over nothing else.  Raises OutputRefused."""
    target = folder / FILE
    try:
        if target.is_symlink() or (target.exists() and "deflect lesson" not in target.read_text("utf-8")[:2000]):
            raise OutputRefused(f"{FILE} is there already and is no lesson: move it away")
        put(target, text)
    except (OSError, ValueError) as error:
        raise OutputRefused(f"It cannot be written: {why_not(error)}") from None
    return target


class LessonRoom:
    """One page's lesson room."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._client = folder, ui.context.client
        self._errand: Errand | None = None
        with ui.row().classes("w-full items-center gap-3"):
            self._button = ui.button("Save the lesson as one file", on_click=self._make).props("dense no-caps outline")
            self._told = ui.label("It works without this program and without a network.").classes("desk-dim")
            self._told.props('role="status" data-lesson-saved')
        frame = (
            '<iframe src="/lesson" title="lesson" style="width: 100%; height: calc(100vh - 98px); border: 0"></iframe>'
        )
        ui.html(frame, sanitize=False).classes("w-full")
        self._client.on_delete(self._leave)

    def _make(self) -> None:
        if self._errand is None:
            self._button.disable()
            background_tasks.create(self._follow())

    async def _follow(self) -> None:
        self._errand = Errand(make_file)
        async for news in self._errand.news():
            if isinstance(news, Failed):
                self._told.set_text(news.words)
            elif str(news).startswith("<!DOCTYPE"):
                self._told.set_text(self._saved(str(news)))
            else:
                self._told.set_text(f"Computing the lesson: {news} (some minutes)")
        self._errand = None
        self._button.enable()

    def _saved(self, text: str) -> str:
        try:
            return f"{save_lesson(text, self._folder).name} is saved in {self._folder}"
        except OutputRefused as refused:
            return str(refused)

    def _leave(self) -> None:
        if self._errand is not None:
            self._errand.end()
