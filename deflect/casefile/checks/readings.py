"""Cross-checks of readings, and of readings with the press that they were taken on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from deflect.casefile.locator import Path
from deflect.casefile.parts.part import Objection
from deflect.casefile.parts.press import PressPart
from deflect.casefile.parts.readings import ReadingsPart, StepPart
from deflect.units import show_force, show_length

MOST_FORCE = 1.25
"""Share of the rated force that no test of a press goes beyond; ours."""


def of_steps(steps: tuple[StepPart, ...], at: Path) -> Iterator[Objection]:
    """What is wrong with readings, whatever press they belong to; at: where the steps stand."""
    for k, step in enumerate(steps):
        twice = [name for name, count in Counter(dial.name for dial in step.dials).items() if count > 1]
        for name in twice:
            again = [n for n, dial in enumerate(step.dials) if dial.name == name][1]
            yield Objection(
                (*at, k, "dials", again, "name"),
                f'the dial "{name}" is there twice under one force',
                "each dial once for each force",
                "give dials names of their own, or write the mean of both readings",
            )
    read = [dial.reading for step in steps for dial in step.dials]
    if len(read) > 1 and max(read) <= 0 and min(read) < 0:
        yield Objection(
            (*at, 0, "dials", 0, "reading"),
            "no reading is above zero: the table goes up everywhere",
            "downward movement is positive",
            "change the sign of the readings",
        )


def on_press(press: PressPart, steps: tuple[StepPart, ...], at: Path) -> Iterator[Objection]:
    """Readings that this press cannot have given."""
    plan, cuts = press.bolster.plan, press.bolster.cuts
    size = f"within {show_length(plan.length / 2)} left and right, {show_length(plan.width / 2)} front and back"
    for k, step in enumerate(steps):
        if step.force > MOST_FORCE * press.rated_force:
            yield Objection(
                (*at, k, "force"),
                f"the force is more than {MOST_FORCE:g} times the rated force, {show_force(press.rated_force)}",
                f"up to {show_force(MOST_FORCE * press.rated_force)}",
                "check the force and its unit",
            )
        for n, dial in enumerate(step.dials):
            off = abs(dial.x) > plan.length / 2 or abs(dial.y) > plan.width / 2
            over = any(cut.left < dial.x < cut.right and cut.front < dial.y < cut.back for cut in cuts)
            if off or over:
                where = "off the bolster" if off else "over a cut-out of the bolster"
                yield Objection(
                    (*at, k, "dials", n, "x"),
                    f'the dial "{dial.name}" stands {where}',
                    f"on the bolster, {size}",
                    "check x and y; they are taken from the middle of the bolster",
                )
        for n, force in enumerate(step.forces):
            spots = force.spots()
            if any(abs(x) > plan.length / 2 + 1 or abs(y) > plan.width / 2 + 1 for x, y in spots):
                yield Objection(
                    (*at, k, "forces", n),
                    "the force reaches beyond the bolster",
                    f"on the bolster, {size}",
                    "check place and size; they are taken from the middle of the bolster",
                )


def something_measured(readings: ReadingsPart) -> Iterator[Objection]:
    """Readings hold at least one figure."""
    if not readings.steps and readings.acceptance is None:
        yield Objection(
            (),
            "nothing was measured",
            "[[readings.steps]] with dials, table with a CSV file, or [readings.acceptance]",
            "add what was read",
        )
