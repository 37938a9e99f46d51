"""The guided lessons: a question, what a learner may predict, the two settings that answer it, and what it means.

Which prediction is right is read off the computed numbers, not off this file; ``expected`` says which one the words
under ``why`` explain, and a test holds the two together.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from typing import Any

from deflect.desk.lesson.teaching import Setting

_ENDLESS = 1e9


@dataclass(frozen=True)
class Option:
    """A prediction, right where number after / number before lies from ``low`` to ``high``."""

    text: str
    low: float
    high: float


@dataclass(frozen=True)
class Lesson:
    """number: "sag", "greatest", "contact", "breathing", "creep", or "where" (how far out the greatest gap lies: 0 the
    middle, 1 an edge; asked of ``after`` alone); share_before: of the force, in the first setting."""

    title: str
    question: str
    options: tuple[Option, ...]
    number: str
    before: Setting
    after: Setting
    expected: int
    why: str
    floor: str
    safety: str
    share_before: float = 1.0


_USUAL = Setting(bolster=210.0)
_EDGES = replace(_USUAL, base=450.0, spread=0.9)

LESSONS: tuple[Lesson, ...] = (
    Lesson(
        "The table is no rock",
        "The bolster is made half as thick, 140 instead of 280 mm. What becomes of the sag of the table under 8 "
        "MN?",
        (
            Option("about the same", 0.0, 1.3),
            Option("two to three times", 1.3, 4.0),
            Option("about eight times", 4.0, _ENDLESS),
        ),
        "sag",
        replace(_USUAL, bolster=280.0),
        replace(_USUAL, bolster=140.0),
        1,
        "A slab alone would sag with the cube of its thickness, eight times. But part of the sag is shear, and "
        "the die base bends with the table and carries its share. Thickness counts, yet less than the cube says.",
        "A press does not become good by a thick bolster alone: the hollow below it and the die on it count as "
        "well. Ask for the sag as it was measured, with the load that it was measured under.",
        "A table that sags springs back. What stands loose on it moves at every stroke: nothing is put down on a "
        "bolster while the press runs.",
    ),
    Lesson(
        "A stiff die bridges",
        "The force acts near the edges of the base. The base is made three times as thick. What becomes of the "
        "gap below its middle?",
        (
            Option("it closes", 0.0, 0.8),
            Option("it hardly changes", 0.8, 1.25),
            Option("it opens much wider", 1.25, _ENDLESS),
        ),
        "greatest",
        replace(_USUAL, base=150.0, spread=0.9),
        _EDGES,
        2,
        "The table sags in any case. A thin base follows it and stays in contact; a thick one stays straight, "
        "stands on its edges and leaves the sagging table below it.",
        "'Make it stiffer' is no cure for everything. On a sagging table a thick base needs the table relieved, "
        "posts, a shim, or a base that bears on less.",
        "A die that stands on its edges rocks. Check the clamps again after the first strokes, with the energy "
        "locked out.",
    ),
    Lesson(
        "Where does it lift?",
        "Now the base is thin, and the force acts near the middle. Where is the greatest gap?",
        (
            Option("below the middle", 0.0, 0.5),
            Option("between middle and edge", 0.5, 0.9),
            Option("at the corners", 0.9, _ENDLESS),
        ),
        "where",
        replace(_USUAL, base=150.0, spread=0.4),
        replace(_USUAL, base=150.0, spread=0.4),
        2,
        "The force presses the middle into the sagging table. The base bends, and its corners, which nothing "
        "presses down, rise off the table.",
        "A feeler gauge at the corners finds this one; it says nothing of a void below the middle. Two different "
        "faults, two different cures.",
        "Never feel for a gap with the fingers, and never with the press under power: die blocks in, energy "
        "locked out, gauge at arm's length.",
    ),
    Lesson(
        "Twice the force",
        "The stiff die stands on its edges. The force is doubled from 4 to 8 MN. What becomes of the gap?",
        (
            Option("it stays: it is a matter of shape", 0.0, 1.3),
            Option("it about doubles", 1.3, 2.6),
            Option("it becomes about four times as wide", 2.6, _ENDLESS),
        ),
        "greatest",
        _EDGES,
        _EDGES,
        1,
        "Bodies and contact answer in proportion as long as the same places stay in contact; weight and hold-"
        "downs disturb this a little.",
        "A gap that is measured at a trial with half the force is half of what production sees. Measure under the"
        " force that will act.",
        "A trial at less force proves nothing about the clamps at full force.",
        share_before=0.5,
    ),
    Lesson(
        "Force goes where it is put",
        "On the thick base the force is moved from near the middle to near the edges. How much of the base still "
        "carries?",
        (
            Option("much less", 0.0, 0.8),
            Option("as much as before", 0.8, 1.05),
            Option("more", 1.05, _ENDLESS),
        ),
        "contact",
        replace(_USUAL, base=450.0, spread=0.4),
        _EDGES,
        0,
        "Near the middle the force presses base and table together. Near the edges it leaves the middle alone, "
        "and the table falls away below it.",
        "A trim die with its line near the edge is another case than a forming die of the same size and force. "
        "The press plate's tonnage says nothing of it.",
        "Where less of the base carries, the same force presses harder on what is left: look for marks on the "
        "bolster, with the die out and blocked.",
    ),
    Lesson(
        "The die walks",
        "A free die with a side thrust of half a per cent creeps at every stroke. The base is made three times as"
        " thick; the force stays near the middle. What becomes of the creep?",
        (
            Option("it stops: it is heavier", 0.0, 0.1),
            Option("it becomes less", 0.1, 0.75),
            Option("it stays", 0.75, _ENDLESS),
        ),
        "creep",
        replace(_USUAL, base=150.0, spread=0.4),
        replace(_USUAL, base=450.0, spread=0.4),
        1,
        "As both bodies bend, the underside of the die and the top of the table slide over each other: the die "
        "breathes. A surface that slides anyway resists no small thrust. A stiffer base breathes less, so it "
        "creeps less, but it does not stop.",
        "Micrometres a stroke are millimetres a shift. Mark the die's place on the bolster and look again at the "
        "end of the shift.",
        "A die that has crept meets its guides or the upper half off centre. Stop, lock out, and set it right: no"
        " pushing with a bar while the slide is up and unblocked.",
    ),
    Lesson(
        "A key holds, and does not calm",
        "Keys are put in; the die cannot creep any more. What becomes of the breathing between die and table?",
        (
            Option("it stops", 0.0, 0.1),
            Option("it becomes half", 0.1, 0.75),
            Option("it stays", 0.75, _ENDLESS),
        ),
        "breathing",
        _USUAL,
        replace(_USUAL, switch="key"),
        2,
        "A key holds the die as a whole against shifting. It neither lifts the table nor stiffens the base: gap, "
        "bending and breathing stay, and the key takes a force at every stroke.",
        "A keyed die can still be a badly seated die. Wear beside the keys, and polished patches below the base, "
        "are breathing, not creep.",
        "Keys and cones do not hold a die down. It can be picked up by the rising slide and dropped: clamp it as "
        "well.",
    ),
    Lesson(
        "Posts below the bolster",
        "Thin bolster, long bed opening, stiff die: the worst of all. Two posts are set in the opening. What "
        "becomes of the gap?",
        (
            Option("it closes altogether", 0.0, 0.02),
            Option("it becomes much smaller", 0.02, 0.6),
            Option("it hardly changes", 0.6, _ENDLESS),
        ),
        "greatest",
        replace(_EDGES, bolster=140.0, opening=2400.0),
        replace(_EDGES, bolster=140.0, opening=2400.0, switch="posts"),
        1,
        "The posts carry the table where it sags most. They are set 0.05 mm low and give a little, so a rest of "
        "the gap remains, and the table now sags between them.",
        "Posts cost the cushion, and every other die on this press stands on them as well. Their height is "
        "checked with a feeler gauge, and again after some weeks.",
        "Nobody reaches into the bed opening before energy is locked out and the slide is blocked. A post that is"
        " not fastened is shot out.",
    ),
)  # fmt: skip


def as_plain() -> list[dict[str, Any]]:
    """Every lesson as JSON values."""
    return [asdict(lesson) for lesson in LESSONS]
