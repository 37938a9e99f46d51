"""The check room: case at the left, pictures in the middle, verdict, cautions and remedies at the right."""

from __future__ import annotations

import asyncio
import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from nicegui import background_tasks, ui
from nicegui.events import GenericEventArguments

from deflect.advice import Excluded
from deflect.desk import cautions
from deflect.desk.check import told
from deflect.desk.check.bench import Bench
from deflect.desk.check.case_panel import CasePanel
from deflect.desk.check.remedies import Remedies
from deflect.desk.check.saving import Saving
from deflect.desk.check.told import Seen
from deflect.desk.check.work import Assessed, try_together, work_out
from deflect.desk.errand import Errand, Failed
from deflect.desk.picture import picture
from deflect.findings import Advice, Analysis, Assessment, Outcome
from deflect.mechanics.glance import Glance
from deflect.mechanics.solution import Solution
from deflect.model.case import Case

# How long a case must stay as it is before its ranges are solved, s.
_SETTLED = 0.8
# How long a page may be without its connection before its work is ended, s.
_AWAY = 8.0
_HINT = "Drag the die, turn it by ↻; or with the keyboard: arrows, comma and full stop."
_CAUTIONS = "cautions"
_QUICK, _AS_VERDICT = "Picture: usual values, on the quick mesh", "Picture: usual values, as in the verdict"
_WITH = "Picture: usual values, with what is on"
_RANGED = "With ranges, on finer patches"


class CheckRoom:
    """One page's check room."""

    def __init__(self, folder: Path) -> None:
        self._client = ui.context.client
        self._bench = Bench(folder, self._show, self._not_solved)
        self._errand: Errand | None = None
        self._trial: Errand | None = None
        self._as_it_is: Analysis | None = None
        self._generation = self._settled = 0
        self._assessed: Assessed | None = None
        self._advice: Advice | None = None
        with ui.row().classes("w-full no-wrap items-start gap-3"):
            with ui.column().classes("desk-side desk-left gap-2"):
                self._panel = CasePanel(self._bench, self._edited)
                self._saving = Saving(self._bench, folder, lambda: self._advice)
            with ui.column().classes("desk-main gap-2"):
                self._pictures()
            with ui.column().classes("desk-side desk-right gap-2"):
                self._results()
        ui.on("placed", self._placed)
        self._paused = self._away = False
        self._client.on_connect(self._resume)
        self._client.on_disconnect(self._pause)
        self._client.on_delete(self._leave)
        ui.timer(0.1, self._edited, once=True)

    def _pictures(self) -> None:
        self._note = ui.label(_HINT).classes("desk-dim desk-note").props('aria-live="polite"')
        with ui.element("div").classes("desk-card w-full"):
            ui.html('<svg class="st" id="plan" aria-label="gap below the die, seen from above"></svg>', sanitize=False)
        with ui.element("div").classes("desk-card w-full"):
            with ui.row().classes("w-full items-center gap-2"):
                self._along = ui.toggle({"x": "cut left to right", "y": "cut front to rear"}, value="x")
                self._along.props("dense no-caps").on_value_change(lambda e: self._run(f"desk.along({e.value!r})"))
            ui.html('<svg class="st" id="cut" aria-label="table and die cut open"></svg>', sanitize=False)

    def _results(self) -> None:
        self._verdict = ui.html(told.waiting("solving"), sanitize=False).classes("w-full")
        self._progress = ui.linear_progress(show_value=False).props("indeterminate").classes("w-full")
        self._cautions_in_short = ui.html(cautions.AHEAD, sanitize=False).classes("w-full")
        with ui.element("div").classes("desk-card w-full"):
            self._live_title = ui.label(_QUICK).classes("text-bold")
            self._live = ui.html("", sanitize=False).classes("w-full")
        with ui.element("div").classes("desk-card w-full"):
            self._numbers_title = ui.label(f"{_RANGED}: follows").classes("text-bold")
            self._numbers = ui.html("", sanitize=False).classes("w-full")
        self._remedies = Remedies(self._try)
        self._cautions = ui.html("", sanitize=False).classes("w-full")
        with ui.expansion("Every rule").classes("w-full desk-card").props("dense"):
            self._rules = ui.html("", sanitize=False).classes("w-full")

    @property
    def _before(self) -> Assessment | None:
        """The last assessment: its limits hold until the next one."""
        return None if self._assessed is None else self._assessed.assessment

    def _run(self, code: str) -> None:
        self._client.run_javascript(code)

    def _say(self, words: str) -> None:
        self._note.set_text(words or _HINT)

    def _edited(self) -> None:
        """A key was edited: mistakes at their entries, or the picture anew and the verdict after it."""
        faults = self._bench.read()
        self._panel.tell(faults)
        self._forget()
        if self._bench.case is None:
            count = f"{len(faults)} mistake{'s' if len(faults) > 1 else ''}"
            self._verdict.set_content(told.none(f"{count} in the case: see the marked entries"))
            self._progress.set_visibility(False)
            self._say("The picture shows the case before the mistake.")
            return
        self._fade(True)
        background_tasks.create(self._follow(self._bench.case, self._generation))

    async def _follow(self, case: Case, generation: int) -> None:
        if self._bench.glance is None:
            await self._bench.solve(case, under_way=True)  # the first picture is there sooner
        await self._bench.solve(case)
        await asyncio.sleep(_SETTLED)
        if generation == self._generation:
            await self._work_out(case, generation)

    def _forget(self) -> None:
        """What was worked out belongs to another case."""
        self._generation += 1
        if self._errand is not None:
            self._errand.end()
            self._errand = None
        self._end_trial()
        self._advice = self._as_it_is = None
        with self._client:
            self._remedies.show(None)
        changed = "" if self._assessed is None else "the case has changed: "
        self._verdict.set_content(told.waiting(f"{changed}creep, ranges and remedies follow"))
        self._numbers_title.set_text(f"{_RANGED}: " + ("follows" if self._assessed is None else "of the case before"))
        self._numbers.style("opacity: .45")
        self._progress.set_visibility(True)

    async def _work_out(self, case: Case, generation: int) -> None:
        errand = self._errand = Errand(work_out, case)
        async for news in errand.news():
            if generation != self._generation:
                return
            self._take(news)
        if generation == self._generation:
            self._progress.set_visibility(False)

    def _take(self, news: Any) -> None:
        with self._client:
            if isinstance(news, Failed):
                self._verdict.set_content(told.none(news.words))
            elif isinstance(news, Assessed):
                self._assessed = news
                assessment = news.assessment
                self._verdict.set_content(told.so_far(assessment, news.ranged))
                self._numbers_title.set_text(_RANGED if news.ranged else "At the usual values; the ranges follow")
                self._numbers.set_content(told.numbers(assessment.analysis, assessment.findings)).style("opacity: 1")
                self._cautions_in_short.set_content(cautions.in_short(news.cautions, _CAUTIONS))
                self._cautions.set_content(cautions.in_full(news.cautions, _CAUTIONS))
                self._rules.set_content(told.rules(assessment))
                if news.ranged:
                    self._as_it_is = assessment.analysis
                self._show_as_it_is()
            elif isinstance(news, Advice):
                self._advice = news
                self._verdict.set_content(told.verdict(news))
                self._remedies.show(news)
                self._saving.ready(True)
                self._progress.set_visibility(False)
                self._say("")
            else:
                self._say(f"{str(news).capitalize()} …")

    def _show(self, seen: Glance, under_way: bool, moves: int) -> None:
        self._draw(seen.solution, moves)
        self._show_live(Seen.quick(seen), _QUICK, under_way)
        self._say("While it moves: about, on a coarser mesh." if under_way else "")

    def _show_live(self, seen: Seen, title: str, under_way: bool = False) -> None:
        self._live_title.set_text(title)
        self._live.set_content(told.live(seen, self._before))
        if not under_way:
            self._settled += 1
            self._live.props(f"data-settled={self._settled}")
        self._fade(under_way)

    def _fade(self, under_way: bool) -> None:
        """Show whether the numbers beside the picture are those of what is written now."""
        self._live.style("opacity: .6" if under_way else "opacity: 1")
        self._live.props("data-under-way" if under_way else "", remove="" if under_way else "data-under-way")

    def _not_solved(self, words: str) -> None:
        self._fade(False)
        self._live.set_content("")
        self._say(words)

    def _draw(
        self, solution: Solution, moves: int | None = None, most: float | None = None, judged: Seen | None = None
    ) -> None:
        """Draw a state; most: the gap that the colours reach to, so that before and after can be compared; judged: the
        numbers that the rules judge, to which the gaps of this mesh are put right."""
        drawn = picture(solution) | {"most": most}
        if judged is not None and solution.greatest_gap > 0:
            right = judged.gap / solution.greatest_gap
            drawn["gap"] = [None if gap is None else gap * right for gap in drawn["gap"]]
            drawn["greatest"] = judged.gap
        told_in_numbers = json.dumps(drawn, separators=(",", ":"))
        self._run(f"desk.show({told_in_numbers}, {self._bench.moves if moves is None else moves})")

    def _show_as_it_is(self) -> None:
        """Draw the case without remedies: as the verdict has it, where it is there."""
        if self._as_it_is is not None:
            self._draw(self._as_it_is.solution)
            self._show_live(Seen.judged(self._as_it_is), _AS_VERDICT)
        elif self._bench.glance is not None:
            self._show_live(Seen.quick(self._bench.glance), _QUICK)

    async def _placed(self, event: GenericEventArguments) -> None:
        place = event.args
        x, y, degree, done = float(place["x"]), float(place["y"]), float(place["degree"]), bool(place["done"])
        if not all(map(math.isfinite, (x, y, degree))):
            return
        self._bench.moves = int(place["moves"])
        case = self._bench.moving(x, y, math.radians(degree))
        if case is None:
            return
        if not done:
            self._generation += 1  # whatever is about to be worked out is for a die that stood elsewhere
            if self._errand is not None:
                self._forget()
            await self._bench.solve(case, under_way=True)
            return
        self._bench.placed(x, y, degree)
        self._panel.refresh()
        await self._bench.solve(case, under_way=True)
        self._edited()

    def _try(self, outcomes: Sequence[Outcome]) -> None:
        """Show the case with remedies, or as it is."""
        self._end_trial()
        if not outcomes:
            self._show_as_it_is()
            self._say("")
        elif len(outcomes) == 1:
            self._show_with(outcomes[0])
        else:
            background_tasks.create(self._try_together(outcomes))

    async def _try_together(self, outcomes: Sequence[Outcome]) -> None:
        before = self._before
        assert before is not None
        errand = self._trial = Errand(try_together, before, tuple(outcomes))
        self._say(f"{len(outcomes)} remedies together: solving …")
        self._fade(True)
        with self._client:
            self._remedies.wait("All of them together are being solved: before and after follow.")
        async for news in errand.news():
            if errand is not self._trial:
                return
            with self._client:
                if isinstance(news, Outcome):
                    self._show_with(news)
                else:
                    self._show_as_it_is()
                    self._remedies.wait(news.why if isinstance(news, Excluded) else str(news.words))
                    self._say("")

    def _show_with(self, outcome: Outcome) -> None:
        """Show a solved remedy, on one scale with the case as it is."""
        before = self._before
        assert before is not None
        seen, was = Seen.judged(outcome.analysis), Seen.judged(before.analysis)
        self._draw(outcome.analysis.solution, most=max(seen.gap, was.gap), judged=seen)
        self._show_live(seen, _WITH)
        self._remedies.compare(outcome, before)
        self._say(f"Shown with: {outcome.remedy.title}")

    def _end_trial(self) -> None:
        if self._trial is not None:
            self._trial.end()
            self._trial = None

    async def _pause(self) -> None:
        """Nobody looks any more: the work is ended, and begun anew if somebody comes back later."""
        self._away = True
        await asyncio.sleep(_AWAY)
        if self._away and self._errand is not None and self._advice is None:
            self._paused = True
            self._leave()

    def _resume(self) -> None:
        self._away = False
        if self._paused:
            self._paused = False
            with self._client:
                self._edited()

    def _leave(self) -> None:
        self._generation += 1
        self._end_trial()
        if self._errand is not None:
            self._errand.end()
