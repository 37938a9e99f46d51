"""The lesson as one HTML page: beside the solver where the desk serves it, alone with computed settings as a file."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

from deflect import __version__
from deflect.desk.errand import Tell
from deflect.desk.lesson.grid import FULL, Levels, computed
from deflect.desk.lesson.lessons import as_plain
from deflect.desk.lesson.states import Plain
from deflect.desk.lesson.teaching import SLIDERS

_STATIC = Path(__file__).parents[1] / "static"
_POLICY = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:"
"""A lesson file asks for nothing outside itself, and the browser sees to it."""


@cache
def _file(name: str) -> str:
    return (_STATIC / name).read_text(encoding="utf-8")


def page(data: Plain | None = None) -> str:
    """The page; ``data``: computed settings, so that it works alone; None: it asks the desk."""
    facts = {
        "data": data,
        "lessons": as_plain(),
        "sliders": [
            {"key": s.key, "title": s.title, "unit": s.unit, "low": s.low, "high": s.high, "step": s.step}
            for s in SLIDERS
        ],
        "version": __version__,
    }
    policy = "" if data is None else f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
    html = _file("lesson.html")
    for mark, text in (
        ("<!--policy-->", policy),
        ("/*style*/", _file("desk.css") + _file("lesson.css")),
        ("/*facts*/", f"window.LESSON = {_in_script(facts)};"),
        ("/*stage*/", _file("stage.js")),
        ("/*lesson*/", _file("lesson.js")),
    ):
        html = html.replace(mark, text, 1)
    return html


def _in_script(facts: Plain) -> str:
    """JSON that cannot end the script it stands in."""
    return json.dumps(facts, separators=(",", ":"), ensure_ascii=False).replace("</", "<\\/").replace("<!--", "<\\!--")


def make_file(tell: Tell, levels: Levels = FULL) -> None:
    """Compute every setting and tell the finished page, words on the way."""
    tell(page(computed(tell, levels)))
