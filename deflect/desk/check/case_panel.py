"""The left side: which die on which press, and their entries."""

from __future__ import annotations

from collections.abc import Callable

from nicegui import events, ui

from deflect.casefile import CaseKind, demo_cases
from deflect.casefile.document import LARGEST_FILE
from deflect.desk.check.bench import Bench
from deflect.desk.check.forms import Form
from deflect.desk.check.papers import KeyPath, Sheet
from deflect.faults import Fault

_MAIN_DIE: tuple[KeyPath, ...] = (
    ("working_force",), ("base", "thickness"), ("placing", "x"), ("placing", "y"), ("placing", "rotation"),
)  # fmt: skip
_MAIN_PRESS: tuple[KeyPath, ...] = (
    ("bolster", "thickness"),
    ("bed", "opening", "length"),
    ("bed", "opening", "width"),
)


class CasePanel:
    """Choice of die and press, the first entries of both, every entry, and the files themselves."""

    def __init__(self, bench: Bench, edited: Callable[[], None]) -> None:
        self._bench, self._edited = bench, edited
        self._forms: list[Form] = []
        for kind in ("die", "press"):
            self._choice("die" if kind == "die" else "press")
        self._faults = ui.column().classes("w-full gap-1").props('role="alert"')
        with ui.tabs().props("dense no-caps align=left").classes("w-full") as tabs:
            for name in ("Main", "Die", "Press", "File"):
                ui.tab(name)
        with ui.tab_panels(tabs, value="Main", keep_alive=True, animated=False).classes(
            "w-full bg-transparent"
        ) as panels:
            with ui.tab_panel("Main").classes("q-pa-none"):
                ui.label("Die").classes("text-bold q-mt-xs")
                self._form("die", _MAIN_DIE)
                ui.label("Press").classes("text-bold q-mt-sm")
                self._form("press", _MAIN_PRESS)
            with ui.tab_panel("Die").classes("q-pa-none"):
                self._form("die")
            with ui.tab_panel("Press").classes("q-pa-none"):
                self._form("press")
            with ui.tab_panel("File").classes("q-pa-none"):
                self._texts()
        panels.on_value_change(lambda _: self.refresh())

    def tell(self, faults: tuple[Fault, ...]) -> None:
        """Show every mistake: at its entry where there is one on the page, and in full above."""
        for form in self._forms:
            form.tell(faults)
        self._faults.clear()
        with self._faults:
            for fault in faults:
                ui.label(str(fault)).classes("desk-fault").style("white-space: pre-line")

    def refresh(self) -> None:
        """Show what is written now."""
        for form in self._forms:
            form.refresh()
        for kind, area in self._areas.items():
            area.set_value(self._sheet(kind).text)

    def _sheet(self, kind: CaseKind) -> Sheet:
        return self._bench.die if kind == "die" else self._bench.press

    def _take(self, sheet: Sheet) -> None:
        if sheet.kind == "die":
            self._bench.die = sheet
        else:
            self._bench.press = sheet
        for form in self._forms:
            form.show()
        self.refresh()
        self._edited()

    def _choice(self, kind: CaseKind) -> None:
        names = {name: name for name in demo_cases(kind)}
        with ui.row().classes("w-full no-wrap items-center gap-1"):
            chosen = ui.select(names, value=self._sheet(kind).name, label=f"{kind}: demo, invented")
            chosen.classes("col").props(f'dense outlined options-dense data-choice="{kind}"')
            chosen.on_value_change(lambda e: self._take(Sheet.demo(kind, e.value)) if e.value else None)

            async def opened(event: events.UploadEventArguments) -> None:
                data = await event.file.read()
                await self._open(kind, event.file.name, data)
                upload.reset()
                chosen.set_value(None)

            upload = ui.upload(on_upload=opened, auto_upload=True, max_file_size=LARGEST_FILE, max_files=1)
            upload.props('accept=".toml"').classes("hidden")
            upload.on("rejected", lambda: ui.notify("Only a case file (.toml, up to 1 MB) can be opened"))
            ui.button("Open …", on_click=lambda: upload.run_method("pickFiles")).props("outline dense no-caps")

    async def _open(self, kind: CaseKind, name: str, data: bytes) -> None:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            ui.notify("This is no UTF-8 text: save the file as UTF-8 in the editor")
            return
        if len(data) > LARGEST_FILE or "\0" in text:
            ui.notify("This is hardly a case file: it is too large, or no plain text")
            return
        self._take(Sheet(kind, name.rpartition(".")[0] or name, text))

    def _form(self, kind: CaseKind, only: tuple[KeyPath, ...] = ()) -> None:
        self._forms.append(Form(lambda: self._sheet(kind), kind, self._changed, only))

    def _changed(self) -> None:
        self.refresh()
        self._edited()

    def _texts(self) -> None:
        self._areas: dict[CaseKind, ui.textarea] = {}
        kinds: tuple[CaseKind, ...] = ("die", "press")
        for kind in kinds:
            area = ui.textarea(f"{kind} file", value=self._sheet(kind).text).classes("w-full")
            area.props(f'outlined dense data-file="{kind}" input-style="height: 12rem; font: .8rem monospace"')
            area.on("change", lambda kind=kind, area=area: self._typed(kind, str(area.value or "")))
            self._areas[kind] = area

    def _typed(self, kind: CaseKind, text: str) -> None:
        sheet = self._sheet(kind)
        if text == sheet.text:
            return
        sheet.text = text
        for form in self._forms:
            form.show()
        self._edited()
