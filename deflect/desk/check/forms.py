"""The forms: one entry a key, in the words of the case file; a mistake stands at its entry."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from nicegui import ui
from nicegui.elements.mixins.validation_element import ValidationElement

from deflect.casefile import CaseKind
from deflect.desk.check.form_fields import FormField, FormTable, dotted, field_at, form_of, shown, typed
from deflect.desk.check.papers import KeyPath, Sheet
from deflect.faults import Fault

_LEFT_OUT = ("share", "on_return", "lever")
"""Keys that a new entry of a list starts without."""


class Form:
    """The form of one sheet, or of some of its keys ``only``.  ``edited`` is called after every entry."""

    def __init__(self, sheet: Callable[[], Sheet], kind: CaseKind, edited: Callable[[], None],
                 only: tuple[KeyPath, ...] = ()) -> None:  # fmt: skip
        self._sheet, self._kind, self._edited = sheet, kind, edited
        self._only = only
        self._entries: dict[str, ValidationElement[Any]] = {}
        self._paths: dict[str, tuple[KeyPath, ValidationElement[Any]]] = {}
        with ui.column().classes("w-full gap-1") as self._place:
            pass
        self.show()

    def show(self) -> None:
        """Build the form anew from the sheet."""
        self._entries.clear()
        self._paths.clear()
        self._place.clear()
        with self._place:
            if not self._sheet().readable:
                ui.label("The file cannot be read as it stands: mend it under File.").classes("desk-fault")
                return
            for path in self._only:
                self._entry(field_at(form_of(self._kind), path), path, " ".join(map(str, path[-2:])))
            if not self._only:
                self._table(form_of(self._kind), (), flat=True)

    def refresh(self) -> None:
        """Show what is written now in the entries that there are."""
        for path, entry in self._paths.values():
            entry.set_value(shown(self._sheet().value(path)))

    def tell(self, faults: tuple[Fault, ...]) -> list[Fault]:
        """Show each fault at its entry; returns those that have none here."""
        told = {fault.key: _told(fault) for fault in faults}
        for key, entry in self._entries.items():
            entry.error = told.get(key)
            if key in told:
                _open_around(entry)
        return [fault for fault in faults if fault.key not in self._entries]

    def _table(self, table: FormTable, path: KeyPath, flat: bool = False) -> None:
        for known in table.fields:
            if flat and known.key == "note":
                continue
            self._entry(known, (*path, known.key))
        for inner in table.tables:
            self._section(inner.key, partial(self._table, inner, (*path, inner.key)))
        for key, forms in table.lists.items():
            self._section(key, partial(self._list, forms, (*path, key)))

    def _section(self, key: str, fill: Callable[[], None]) -> None:
        """A table that is filled when it is opened, so that the page opens quickly."""
        with ui.expansion(key.replace("_", " ")).classes("w-full").props("dense switch-toggle-side") as section:
            place = ui.column().classes("w-full gap-1")

        def opened() -> None:
            if section.value and not place.default_slot.children:
                with place:
                    fill()

        section.on_value_change(opened)

    def _list(self, forms: tuple[FormTable, ...], path: KeyPath) -> None:
        with ui.column().classes("w-full gap-1") as place:
            written = self._sheet().value(path) or []
            if not isinstance(written, list):
                ui.label("written in one line: see File").classes("desk-dim")
                return
            for index, one in enumerate(written):
                form = next((f for f in forms if f.key == one.get("kind")), forms[0])
                with ui.row().classes("w-full items-center justify-between"):
                    ui.label(f"{form.key} {index + 1}").classes("text-bold")
                    remove = ui.button("take out", on_click=partial(self._remove, (*path, index), forms, place))
                    remove.props("flat dense no-caps")
                self._table(form, (*path, index))
            with ui.row():
                for form in forms:
                    add = ui.button(f"add {form.key}", on_click=partial(self._add, form, path, forms, place))
                    add.props("outline dense no-caps")

    def _add(self, form: FormTable, path: KeyPath, forms: tuple[FormTable, ...], place: ui.column) -> None:
        values: dict[str, Any] = {} if form.key not in ("patch", "ring", "line") else {"kind": form.key}
        needed = (f for f in form.fields if f.entry == "text" and f.example and not f.usual)
        values |= {f.key: "0 mm" if f.key in ("x", "y") else f.example for f in needed if f.key not in _LEFT_OUT}
        self._sheet().add(path, values)
        self._again(forms, path, place)

    def _remove(self, path: KeyPath, forms: tuple[FormTable, ...], place: ui.column) -> None:
        self._sheet().write(path, None)
        self._again(forms, path[:-1], place)

    def _again(self, forms: tuple[FormTable, ...], path: KeyPath, place: ui.column) -> None:
        gone = f"{dotted(self._kind, path)}["
        for key in [key for key in self._entries if key.startswith(gone)]:
            del self._entries[key], self._paths[key]
        parent = place.parent_slot.parent if place.parent_slot else None
        assert parent is not None
        place.delete()
        with parent:
            self._list(forms, path)
        self._edited()

    def _entry(self, known: FormField, path: KeyPath, label: str = "") -> None:
        key = dotted(self._kind, path)
        label, now = (label or known.key).replace("_", " "), shown(self._sheet().value(path))
        if known.entry == "file":
            ui.label(f"{label}: see File").classes("desk-dim")
            return
        entry: ValidationElement[Any]
        if known.entry in ("words", "flag"):
            words = list(known.words) if known.entry == "words" else ["yes", "no"]
            # What is written may be more than a word, or no word of the list: it is shown, and judged when it is read.
            entry = ui.select(list(dict.fromkeys(["", *words, now])), value=now, label=label)
            entry.on_value_change(lambda e: self._write(known, path, e.value or ""))
        else:
            entry = ui.input(label, value=now, placeholder=known.usual and f"usual: {known.usual}")
            entry.on("change", lambda: self._write(known, path, str(entry.value or "")))
        entry.classes("w-full").props("dense outlined stack-label hide-bottom-space")
        entry.props(f'data-key="{key}"')
        if known.hint:
            with entry:
                ui.tooltip(known.hint).classes("text-body2")
        self._entries[key], self._paths[key] = entry, (path, entry)

    def _write(self, known: FormField, path: KeyPath, text: str) -> None:
        if text == shown(self._sheet().value(path)):
            return
        self._sheet().write(path, typed(known, text))
        self._edited()


def _told(fault: Fault) -> str:
    return "; ".join(filter(None, (fault.problem, f"allowed: {fault.allowed}" if fault.allowed else "", fault.remedy)))


def _open_around(entry: ValidationElement[Any]) -> None:
    """Open the tables around an entry, so that its mistake is seen."""
    slot = entry.parent_slot
    while slot is not None:
        if isinstance(slot.parent, ui.expansion):
            slot.parent.value = True
        slot = slot.parent.parent_slot
