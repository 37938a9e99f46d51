"""The remedies that were solved: tried on and off, with every number before and after."""

from __future__ import annotations

from collections.abc import Callable

from nicegui import ui

from deflect.desk.check import told
from deflect.findings import Advice, Outcome


class Remedies:
    """A list of switches, one remedy on at a time.  ``tried`` is called with the one that is on, or None."""

    def __init__(self, tried: Callable[[Outcome | None], None]) -> None:
        self._tried = tried
        with ui.element("div").classes("desk-card w-full"):
            ui.label("Remedies, solved anew: try them on and off").classes("text-bold")
            self._place = ui.column().classes("w-full gap-0")
            self._table = ui.html("", sanitize=False).classes("w-full")
        self.show(None)

    def show(self, advice: Advice | None) -> None:
        """List what an advice proposes; None: nothing yet."""
        self._place.clear()
        self._table.set_content("")
        self._switches: list[ui.switch] = []
        with self._place:
            if advice is None:
                ui.label("follow with the verdict").classes("desk-dim")
            elif not advice.outcomes:
                ui.label("none is needed, or none helps").classes("desk-dim")
            else:
                for outcome in advice.outcomes:
                    self._switch(outcome, advice)

    def _switch(self, outcome: Outcome, advice: Advice) -> None:
        kind = "cures all" if outcome.is_cure else f"cures {len(outcome.cured)}, leaves {len(outcome.left)}"
        kind += f", worsens {len(outcome.worsened)}" if outcome.worsened else ""
        switch = ui.switch(f"{outcome.remedy.title} ({kind})")
        switch.props(f'dense data-remedy="{outcome.remedy.id}"').classes("q-pt-sm")
        with switch:
            ui.tooltip(outcome.proposal.size).classes("text-body2")

        def turned() -> None:
            if switch.value:
                for other in self._switches:
                    if other is not switch:
                        other.set_value(False)
                self._table.set_content(told.before_after(outcome, advice.assessment))
                self._tried(outcome)
            elif not any(other.value for other in self._switches):
                self._table.set_content("")
                self._tried(None)

        switch.on_value_change(turned)
        self._switches.append(switch)
