"""The remedies that were solved: tried on and off, alone or together, with every number before and after."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from nicegui import ui

from deflect.advice import Excluded, joined
from deflect.desk.check import told
from deflect.findings import Advice, Assessment, Outcome


class Remedies:
    """A list of switches.  ``tried`` is called with the remedies that are on, in the order in which they came on."""

    def __init__(self, tried: Callable[[Sequence[Outcome]], None]) -> None:
        self._tried = tried
        self._on: list[Outcome] = []
        with ui.element("div").classes("desk-card w-full"):
            ui.label("Remedies, solved anew: try them on and off").classes("text-bold")
            self._place = ui.column().classes("w-full gap-0")
            self._said = ui.label("").classes("desk-fault").props('role="status" data-excluded')
            self._table = ui.html("", sanitize=False).classes("w-full")
        self.show(None)

    def show(self, advice: Advice | None) -> None:
        """List what an advice proposes; None: nothing yet."""
        self._place.clear()
        self._on.clear()
        self._table.set_content("")
        self._said.set_text("")
        with self._place:
            if advice is None:
                ui.label("follow with the verdict").classes("desk-dim")
            elif not advice.outcomes:
                ui.label("none is needed, or none helps").classes("desk-dim")
            else:
                if len(advice.outcomes) > 1:
                    ui.label("Several can be on: each at its own size, on top of the others.").classes("desk-dim")
                for outcome in advice.outcomes:
                    self._switch(outcome, advice.assessment)

    def compare(self, outcome: Outcome, before: Assessment) -> None:
        """Tell every number before and after."""
        self._table.set_content(told.before_after(outcome, before))

    def wait(self, words: str) -> None:
        """Say why there is nothing to compare yet, or at all."""
        self._table.set_content(told.dim(words))

    def _switch(self, outcome: Outcome, before: Assessment) -> None:
        cured, asked = len(outcome.cured), len(outcome.cured) + len(outcome.left)
        kind = "cures all" if outcome.is_cure else f"cures {cured} of {asked}"
        kind += f", worsens {len(outcome.worsened)}" if outcome.worsened else ""
        switch = ui.switch(f"{outcome.remedy.title} ({kind})")
        switch.props(f'dense data-remedy="{outcome.remedy.id}"').classes("q-pt-sm desk-remedy")
        with switch:
            ui.tooltip(outcome.proposal.size).classes("text-body2")

        def turned() -> None:
            if switch.value == (outcome in self._on):
                return
            self._said.set_text("")
            if switch.value:
                found = joined(before.analysis.case, [*self._on, outcome])
                if isinstance(found, Excluded):
                    self._said.set_text(found.why)
                    switch.set_value(False)
                    return
                self._on.append(outcome)
            else:
                self._on.remove(outcome)
            self._table.set_content("")
            self._tried(tuple(self._on))

        switch.on_value_change(turned)
