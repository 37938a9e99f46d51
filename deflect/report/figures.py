"""The figures: canvases, colours and files; what is drawn on them stands in drawing_*.py.

The only module that imports matplotlib, and only once a figure is asked for.
"""

from __future__ import annotations

import io
import re
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

import numpy as np
from markupsafe import Markup

from deflect.compare.comparing import Solved
from deflect.findings import Advice, Analysis
from deflect.mechanics.arrays import Floats
from deflect.mechanics.closure import Closure
from deflect.mechanics.difference import Difference
from deflect.mechanics.ring import Ring
from deflect.mechanics.slipping import Slipping
from deflect.model.case import Case
from deflect.model.die import Shim
from deflect.model.values import Rectangle
from deflect.report import drawing_closure, drawing_lift, drawing_maps, drawing_ring, drawing_sections, drawing_strokes
from deflect.report.compared import drawing as compared
from deflect.report.pen import BANDS, Bands, Pen

_WIDTH = 9.0  # inches; the document scales it to the page
_DPI = 100
# Inks that the document replaces by its own, so that a figure follows its light or dark page.
_INKS = {"#010203": "currentColor", "#040506": "var(--dim)", "#070809": "var(--paper)", "#0a0b0c": "var(--soft)"}
_PAGE = Pen("#010203", "#040506", "#070809", "#0a0b0c")
_PRINT = Pen("#1d242b", "#5b666d", "#ffffff", "#eef0ee")
_SETTINGS = {
    "font.family": "DejaVu Sans",
    "font.size": 9.5,
    "text.parse_math": False,
    "axes.formatter.use_mathtext": False,
    "axes.unicode_minus": True,
    "axes.linewidth": 0.7,
    "svg.fonttype": "none",
    "svg.hashsalt": "deflect",
    "hatch.linewidth": 0.5,
}
# Settings of matplotlib are one for the whole process: one figure at a time.
_ONE_AT_A_TIME = threading.Lock()

Draw = Callable[[Any, Pen], None]


def gap_map(analysis: Analysis) -> Markup:
    """Gap between die base and bolster under force, in plan."""
    return _svg("gap", 4.9, lambda figure, pen: drawing_maps.gap(figure.subplots(), pen, analysis))


def force_plan(analysis: Analysis) -> Markup:
    """Bolster, bed opening, die and force patterns, in plan."""
    return _svg("plan", 5.4, lambda figure, pen: drawing_maps.forces(figure.subplots(), pen, analysis))


def contact_map(analysis: Analysis) -> Markup:
    """Contact and its pressure, in plan."""
    return _svg("contact", 4.9, lambda figure, pen: drawing_maps.contact(figure.subplots(), pen, analysis))


def face_map(analysis: Analysis) -> Markup:
    """Face error after the best rigid fit, in plan."""
    return _svg("face", 4.9, lambda figure, pen: drawing_maps.face(figure.subplots(), pen, analysis))


def cut_through(analysis: Analysis) -> Markup:
    """Table and die cut along x and along y, heights exaggerated."""
    return _svg("cut", 7.4, lambda figure, pen: drawing_sections.both(figure, pen, analysis))


def creep_path(analysis: Analysis, tolerance: float) -> Markup:
    """Shift of the die over the first strokes, free and held, with the tolerance (mm), and where it goes."""
    return _svg("creep", 3.6, lambda figure, pen: drawing_strokes.creep(figure, pen, analysis, tolerance))


def slip_map(analysis: Analysis, slipping: Slipping) -> Markup:
    """How far each patch slides within one stroke, in plan."""
    return _svg("slip", 5.2, lambda figure, pen: drawing_maps.slip(figure.subplots(), pen, analysis, slipping))


def closing_map(closure: Closure) -> Markup:
    """Marks that spotting would show, and how the force spreads over the faces."""
    return _svg("closing", 3.6, lambda figure, pen: drawing_closure.closing(figure, pen, closure))


def camber_map(closure: Closure) -> Markup:
    """What is to be left standing on each face."""
    return _svg("camber", 3.6, lambda figure, pen: drawing_closure.camber(figure, pen, closure))


def ring_map(case: Case, ring: Ring) -> Markup:
    """Pressure of the blank holder, in plan."""
    return _svg("ring", 4.6, lambda figure, pen: drawing_ring.ring_map(figure.subplots(), pen, case, ring))


def lift_balance(analysis: Analysis) -> Markup:
    """What pulls the lower half up and what holds it down, as arrows."""
    return _svg("lift", 3.2, lambda figure, pen: drawing_lift.balance(figure.subplots(), pen, analysis))


def compared_maps(first: Solved, second: Solved, told: Difference, what: str, mark: int) -> Markup:
    """Face or table on production press and stand-in, and their difference, on one scale."""
    return _svg(f"{what}{mark}", 3.0, lambda figure, pen: compared.three_maps(figure, pen, first, second, told, what))


def compared_tables(first: Solved, second: Solved, mark: int) -> Markup:
    """Both tables cut open along x and along y."""
    return _svg(f"tables{mark}", 5.6, lambda figure, pen: compared.both_tables(figure, pen, first, second))


def shim_plan(plan: Rectangle, fields: Sequence[Rectangle], shims: Sequence[Shim], mark: str) -> Markup:
    """The shim plan to print."""
    return _svg(
        f"shims{mark}", 5.2, lambda figure, pen: compared.shim_plan(figure.subplots(), pen, plan, fields, shims)
    )


def readme_picture(advice: Advice) -> bytes:
    """Gap map and section side by side, as a PNG 1100 pixels wide."""
    analysis = advice.assessment.analysis

    def draw(figure: Any, pen: Pen) -> None:
        left, right = figure.subplots(1, 2, gridspec_kw={"width_ratios": (1.12, 1)})
        drawing_maps.gap(left, pen, analysis)
        drawing_sections.one(right, pen, analysis, "x")

    with _canvas(11.0, 3.9, _PRINT, draw) as figure:
        target = io.BytesIO()
        figure.savefig(target, format="png", dpi=_DPI, metadata={"Software": None})
        return target.getvalue()


def font_folder() -> str:
    """Where the fonts of the figures are, for papers that print the figures."""
    import matplotlib

    return f"{matplotlib.get_data_path()}/fonts/ttf"


@contextmanager
def _canvas(width: float, height: float, pen: Pen, draw: Draw) -> Iterator[Any]:
    """A drawn figure, under our settings, which end with it."""
    import matplotlib
    from matplotlib.figure import Figure

    with _ONE_AT_A_TIME, matplotlib.rc_context():
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(_SETTINGS | {
            "axes.facecolor": pen.paper, "axes.edgecolor": pen.dim, "axes.labelcolor": pen.ink, "text.color": pen.ink,
            "xtick.color": pen.dim, "ytick.color": pen.dim, "xtick.labelcolor": pen.ink, "ytick.labelcolor": pen.ink,
        })  # fmt: skip
        figure = Figure(figsize=(width, height), layout="constrained")
        figure.patch.set_facecolor(pen.paper)
        figure.patch.set_visible(pen is _PRINT)
        draw(figure, Pen(pen.ink, pen.dim, pen.paper, pen.soft, banded))
        yield figure


def _svg(name: str, height: float, draw: Draw) -> Markup:
    with _canvas(_WIDTH, height, _PAGE, draw) as figure:
        target = io.StringIO()
        figure.savefig(target, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    return Markup(inline(target.getvalue(), name))


def inline(svg: str, name: str) -> str:
    """An SVG file's text as a part of a document: its own ids, the document's inks, nothing to fetch."""
    svg = svg[svg.index("<svg") :]
    svg = re.sub(r"<metadata>.*?</metadata>|<!--.*?-->", "", svg, flags=re.DOTALL)
    head, _, body = svg.partition(">")
    box = re.search(r'viewBox="[^"]*"', head)
    assert box is not None
    body = re.sub(r' id="', f' id="{name}-', body)
    body = re.sub(r"url\(#", f"url(#{name}-", body)
    body = re.sub(r'(?:xlink:)?href="#', f'href="#{name}-', body)
    body = re.sub(r' d="([^"]*)"', lambda d: re.sub(r"(\.\d\d)\d+", r"\1", d[0]), body)
    for ink, meant in _INKS.items():
        body = body.replace(ink, meant)
    return f"<svg {box[0]} role=\"img\" font-family=\"'DejaVu Sans', 'Liberation Sans', sans-serif\">{body}"


def banded(values: Floats, zero: float | None = None) -> Bands:
    """Bands at round numbers over the finite values, and their colours; from ``zero`` on where it is given."""
    import matplotlib
    from matplotlib.colors import BoundaryNorm
    from matplotlib.ticker import MaxNLocator

    finite = values[np.isfinite(values)]
    low = zero if zero is not None else float(finite.min(initial=0.0))
    high = float(finite.max(initial=low))
    if high - low < 1e-6:
        high = low + 1e-3
    edges = np.asarray(MaxNLocator(nbins=BANDS, steps=[1, 2, 5, 10]).tick_values(low, high))
    colours = matplotlib.colormaps["viridis"]
    return Bands(colours, BoundaryNorm(edges, colours.N), edges)
