"""The compare room: choose a die, its production press and a stand-in; see both, and what would make them alike."""

from __future__ import annotations

import json
from functools import partial
from html import escape
from pathlib import Path
from typing import Any

from nicegui import background_tasks, run, ui

from deflect.casefile import CaseKind, demo_cases
from deflect.desk import cautions
from deflect.desk.compare.work import Told, compare_presses
from deflect.desk.errand import Errand, Failed
from deflect.faults import DeflectError, printable
from deflect.report.wording import opening
from deflect.report.writing import write_comparison

_CAUTIONS = "cautions-compared"
_ASKED = (
    "Will the die behave on the stand-in press as it does on its production press, and if not, what would make it? "
    "Both presses are solved over their ranges: this takes a minute or more."
)
_DIE, _PRODUCTION, _STANDIN = "hazel-draw", "birch-12mn", "larch-16mn"


class CompareRoom:
    """One page's compare room."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._client = folder, ui.context.client
        self._errand: Errand | None = None
        self._told: Told | None = None
        with ui.row().classes("w-full items-center gap-2 no-wrap"):
            self._die = self._choice("die", "die", _DIE)
            self._production = self._choice("press", "production press", _PRODUCTION)
            self._standin = self._choice("press", "stand-in press", _STANDIN)
            self._force = ui.input("force on the stand-in", placeholder="usual: the die's")
            self._force.props("dense outlined stack-label")
            self._button = ui.button("Compare", on_click=self._start).props("no-caps dense").classes("q-px-md")
            self._save_button = ui.button("Save comparison", on_click=self._save).props("outline no-caps dense")
        self._status = ui.label(_ASKED).classes("desk-dim").props('role="status" data-compared')
        self._progress = ui.linear_progress(show_value=False).props("indeterminate").classes("w-full")
        self._progress.set_visibility(False)
        self._verdict = ui.html("", sanitize=False).classes("w-full")
        self._in_short = ui.html(cautions.AHEAD, sanitize=False).classes("w-full")
        self._titles: list[ui.label] = []
        with ui.row().classes("w-full no-wrap gap-3") as self._pictures:
            for name, title in (("first", "production press"), ("second", "stand-in press")):
                with ui.element("div").classes("desk-card desk-main"):
                    self._titles.append(ui.label(title).classes("text-bold"))
                    ui.html(
                        f'<svg class="st" id="compare-{name}" aria-label="gap on the {title}"></svg>', sanitize=False
                    )
        self._page = ui.html("", sanitize=False).classes("w-full")
        self._cautions = ui.html("", sanitize=False).classes("w-full")
        self._pictures.set_visibility(False)
        self._client.on_delete(self._leave)

    def _choice(self, kind: CaseKind, label: str, first: str) -> ui.select:
        """Demo cases and the files that were saved into the folder."""
        names = {name: name for name in demo_cases(kind)}
        if self._folder.is_dir():
            names |= {str(path): f"saved: {printable(path.stem)}" for path in sorted(self._folder.glob("*.toml"))}
        chosen = ui.select(names, value=first if first in names else next(iter(names)), label=label)
        chosen.classes("col").props(f'dense outlined options-dense data-compare="{label}"')
        return chosen

    def _start(self) -> None:
        if self._errand is not None:
            self._errand.end()
        self._told = None
        self._status.set_text("Starting …")
        self._progress.set_visibility(True)
        self._faded(True)
        words = [str(one.value or "") for one in (self._die, self._production, self._standin, self._force)]
        self._errand = Errand(compare_presses, *words)
        background_tasks.create(self._follow(self._errand))

    async def _follow(self, errand: Errand) -> None:
        async for news in errand.news():
            if errand is not self._errand:
                return
            with self._client:
                self._take(news)
        if errand is self._errand:
            self._progress.set_visibility(False)

    def _faded(self, old: bool) -> None:
        """Show that what is seen belongs to the comparison before."""
        for seen in (self._verdict, self._pictures, self._page):
            seen.style("opacity: .45" if old else "opacity: 1")

    def _take(self, news: Any) -> None:
        if isinstance(news, Failed):
            self._status.set_text(news.words)
        elif isinstance(news, Told):
            self._told = news
            self._faded(False)
            self._progress.set_visibility(False)
            self._status.set_text("Difference maps, shim plan and bedding plan stand on the page below the pictures.")
            verdict = f"<b data-verdict>{escape(opening(news.verdict))}</b><div>{escape(opening(news.headline))}</div>"
            self._verdict.set_content(f'<div class="desk-verdict {news.kind}" role="status">{verdict}</div>')
            self._in_short.set_content(cautions.in_short(news.cautions, _CAUTIONS))
            self._cautions.set_content(cautions.in_full(news.cautions, _CAUTIONS))
            for label, what, title in zip(self._titles, ("Production press", "Stand-in"), news.titles, strict=True):
                label.set_text(f"{what}: {title}")
            self._pictures.set_visibility(news.pictures is not None)
            for name, drawn in zip(("first", "second"), news.pictures or (), strict=False):
                told = json.dumps(drawn, separators=(",", ":"))
                self._client.run_javascript(f'stage.plan(document.getElementById("compare-{name}"), {told}, {{}})')
            frame = f'<iframe srcdoc="{escape(news.page)}" title="comparison"'
            self._page.set_content(f'{frame} sandbox style="width: 100%; height: 78vh; border: 0"></iframe>')
        else:
            self._status.set_text(f"{str(news).capitalize()} …")

    async def _save(self) -> None:
        if self._told is None:
            self._status.set_text("The comparison can be saved when it is there.")
            return
        place, told = self._folder / "comparison", self._told
        papers = {file: partial(bytes, content) for file, content in told.papers.items()}
        try:
            written = await run.io_bound(write_comparison, told.page, papers, place)
        except (DeflectError, OSError) as failed:
            self._status.set_text(str(failed))
            return
        files = ", ".join(path.name for path in written or ())
        self._status.set_text(". ".join(filter(None, (f"Saved in {place.name}: {files}", told.no_papers))))

    def _leave(self) -> None:
        if self._errand is not None:
            self._errand.end()
