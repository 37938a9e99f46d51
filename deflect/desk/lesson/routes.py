"""The lesson page beside the solver: the page itself, and a setting of its sliders solved."""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Literal

from fastapi import Query
from fastapi.responses import HTMLResponse, JSONResponse
from nicegui import app, run

from deflect.desk.lesson.page import page
from deflect.desk.lesson.states import Plain, solved
from deflect.desk.lesson.teaching import SLIDERS, Setting
from deflect.faults import MechanicsFailed

_ENDS = {slider.key: (slider.low, slider.high) for slider in SLIDERS}
# Settings that are kept: a class goes back and forth between two.
_KEPT = 64


def _between(key: str) -> object:
    low, high = _ENDS[key]
    return Query(ge=low, le=high)


def lesson_routes() -> None:
    """Serve the lesson page and its settings."""

    @app.get("/lesson", response_class=HTMLResponse)
    def lesson() -> str:
        return page()

    @app.get("/lesson/state")
    async def state(
        bolster: Annotated[float, _between("bolster")],
        opening: Annotated[float, _between("opening")],
        base: Annotated[float, _between("base")],
        spread: Annotated[float, _between("spread")],
        switch: Literal["none", "key", "cones", "posts"],
    ) -> JSONResponse:
        try:
            return JSONResponse(await run.io_bound(_solved, Setting(bolster, opening, base, spread, switch)))
        except MechanicsFailed as failed:
            return JSONResponse({"problem": str(failed)}, 422)


@lru_cache(maxsize=_KEPT)
def _solved(setting: Setting) -> Plain:
    return solved(setting)
