"""What is known of a case once it is solved, and the shape of rules, remedies and cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from deflect.mechanics.analysis import Analysis as Analysis
from deflect.mechanics.analysis import MeshError as MeshError
from deflect.mechanics.creep import CreepResult as CreepResult
from deflect.mechanics.side_by_side import SideBySide as SideBySide
from deflect.mechanics.spread import Spread as Spread
from deflect.model.case import Case
from deflect.model.values import Interval
from deflect.sources import Source


class Status(StrEnum):
    """How a rule comes out."""

    HOLDS = "holds"
    BREAKS = "breaks"
    UNDECIDED = "undecided"
    REPORTED = "reported"
    NOT_CHECKED = "not checked"


class Verdict(StrEnum):
    """What the whole case comes to."""

    FIT = "fit"
    WITH_MEASURES = "fit with measures"
    NOT_FIT = "not fit"
    UNDECIDED = "undecided"


class Stage(StrEnum):
    """When a remedy can be carried out."""

    PRESS = "now, at the press"
    TRYOUT = "before the next tryout"
    DESIGN = "only in design"


class Trouble(StrEnum):
    """The names by which rules and remedies meet."""

    HEIGHT = "height"
    FOOTPRINT = "footprint"
    CLAMPING = "clamping"
    PINS = "cushion pins"
    MASS = "mass"
    OVERLOAD = "overload"
    STATED_FORCE = "stated force"
    FORCE_OVER_HEIGHT = "force over height"
    SAG = "table sag"
    GAP = "gap"
    ROCKING = "rocking"
    FACE = "face error"
    CLOSURE = "closure"
    MATCHING = "sideways match"
    CREEP = "creep"
    PICK_UP = "pick-up"
    OFFSET = "off-centre force"
    PRESSURE = "bearing pressure"
    HOLDER = "blank holder"
    RIBS = "ribs"
    STRESS = "bending stress"


@dataclass(frozen=True)
class Reading:
    """A rule's number: value with its range, the limit, and which way it must lie.

    limit None: reported without a limit.  where: place or circumstance in words; note: one sentence.
    certain: the value does not depend on the ranges of the inputs.
    """

    value: Interval
    limit: float | None
    at_most: bool = True
    where: str = ""
    note: str = ""
    certain: bool = False

    @staticmethod
    def between(value: float, low: float, high: float, where: str = "", note: str = "") -> Reading:
        """An exact number that must lie from ``low`` to ``high``: read against the end that it is nearer to."""
        at_most = high - value <= value - low
        return Reading(Interval.exactly(value), high if at_most else low, at_most, where, note, certain=True)


@dataclass(frozen=True)
class NotChecked:
    """A rule that could not be asked: which inputs are missing, by their keys, or why it does not apply."""

    reason: str
    applies: bool = True
    inputs: tuple[str, ...] = ()

    @staticmethod
    def missing(inputs: Mapping[str, object]) -> NotChecked:
        """Not checked because of the inputs that are None, each named by its key."""
        keys = tuple(key for key, value in inputs.items() if value is None)
        told = " and ".join(part for part in (", ".join(keys[:-1]), *keys[-1:]) if part)
        return NotChecked(f"{told} {'is' if len(keys) == 1 else 'are'} missing", inputs=keys)


@dataclass(frozen=True)
class Saying:
    """What the trade says of a remedy or a rule ("a thicker base always helps"), and the rules whose numbers may
    speak against it."""

    words: str
    rules: tuple[str, ...]


@dataclass(frozen=True)
class Rule:
    """One rule.

    unit: of value and limit ("mm", "µm", "MPa", "kN", "%", "strokes", "mm/m", "t", "clamps", "ways", "times"); formula:
    how the number comes about, by hand; measure: the number of a case, in the unit's own size; guards: no
    remedy is proposed that leaves its number short of the limit and worse than before.
    """

    id: str
    title: str
    question: str
    trouble: Trouble
    unit: str
    formula: str
    why: str
    source: Source
    breaks: str
    holds: str
    measure: Callable[[Analysis], Reading | NotChecked]
    guards: bool = False
    trade_says: tuple[Saying, ...] = ()


@dataclass(frozen=True)
class Finding:
    """A rule asked of a case; missing: the keys of the inputs without which it could not be."""

    rule: Rule
    status: Status
    reading: Reading | None
    reason: str = ""
    missing: tuple[str, ...] = ()

    @property
    def value(self) -> Interval | None:
        return None if self.reading is None else self.reading.value

    @property
    def limit(self) -> float | None:
        return None if self.reading is None else self.reading.limit


@dataclass(frozen=True)
class Proposal:
    """One way to carry out a remedy: the changed case, and its size in words."""

    case: Case
    size: str
    hazard: str = ""


@dataclass(frozen=True)
class Judged:
    """How a changed case stands to its limits, as shares of them; at most 0: they hold.

    excess: of the worst number that the remedy is for and that did not hold before;
    harm: of the worst number that held before.
    """

    excess: float
    harm: float


# Solves a changed case, without its creep, and judges it.
Ask = Callable[[Case], Judged]


def _nothing(_: Analysis) -> Iterator[Proposal]:
    yield from ()


@dataclass(frozen=True)
class Remedy:
    """One remedy.

    cures: troubles it is tried for; effort: in words and, for ranking, hours; stage: when it can be done;
    who, when: in words;
    drawback, hazard: always shown; proposals: the least first, each to be re-solved;
    sized: where the remedy has a size, searched for by asking: the least that cures.
    """

    id: str
    title: str
    cures: frozenset[Trouble]
    effort: str
    hours: float
    stage: Stage
    who: str
    when: str
    drawback: str
    hazard: str
    source: Source
    proposals: Callable[[Analysis], Iterator[Proposal]] = _nothing
    sized: Callable[[Analysis, Ask], Iterator[Proposal]] | None = None

    trade_says: tuple[Saying, ...] = ()

    def offered(self, analysis: Analysis, ask: Ask) -> Iterator[Proposal]:
        """What the remedy offers a case: by its size where it has one, else its list."""
        return self.proposals(analysis) if self.sized is None else self.sized(analysis, ask)


@dataclass(frozen=True)
class Warned:
    """A caution as it stands in the output: heading, sentences, computed lines, whom to ask."""

    id: str
    heading: str
    words: tuple[str, ...]
    numbers: tuple[str, ...]
    defer: str
    source: Source

    def __post_init__(self) -> None:
        if not (self.heading and self.words and all(self.words) and self.defer):
            raise ValueError(f"a caution always says something, and whom to ask: {self.id}")


@dataclass(frozen=True)
class Caution:
    """One caution; ``words`` always gives something: cautions cannot be switched off."""

    id: str
    order: int
    say: Callable[[Analysis], Warned]


@dataclass(frozen=True, eq=False)
class Outcome:
    """A remedy re-solved: what it proposes, every rule after it, what it cures and what it worsens.

    confirmed: whether the ranges were solved too; if not, the findings hold at the usual values only.
    """

    remedy: Remedy
    proposal: Proposal
    analysis: Analysis
    findings: tuple[Finding, ...]
    cured: tuple[str, ...]
    left: tuple[str, ...]
    worsened: tuple[str, ...]
    confirmed: bool

    @property
    def is_cure(self) -> bool:
        """Whether nothing that broke or was undecided is left, and nothing new breaks."""
        return not self.left and not self.worsened


@dataclass(frozen=True)
class Step:
    """One step of advice: when, what, why from this case's numbers, and how the number changes."""

    stage: Stage
    remedy: str
    title: str
    size: str
    why: str
    change: str


@dataclass(frozen=True)
class Measurement:
    """An input that would decide: how to measure it, and what its two ends would mean for a rule.

    Of an input that is missing: where to read it, with which values the rule holds and with which it breaks.
    """

    uncertain: str
    rule: str
    how: str
    at_low: str
    at_high: str
    decides: bool = True
    """Whether the rule comes out one way at one end and the other way at the other one."""


@dataclass(frozen=True, eq=False)
class Assessment:
    """Every rule asked of one case."""

    analysis: Analysis
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Lighter:
    """A pattern of ribs: in words, mass of the base in kg, greatest gap and face error in mm, stress of the base in
    MPa."""

    told: str
    mass: float
    gap: float
    face: float
    stress: float


@dataclass(frozen=True, eq=False)
class Advice:
    """The answer to a check; side_by_side: plates against solids, where it was asked for; lighter: the base as it is,
    and with lighter ribs."""

    verdict: Verdict
    reasons: tuple[str, ...]
    assessment: Assessment
    outcomes: tuple[Outcome, ...]
    cautions: tuple[Warned, ...]
    deciders: tuple[str, ...]
    measurements: tuple[Measurement, ...] = ()
    steps: tuple[Step, ...] = ()
    against_trade: tuple[str, ...] = ()
    unmended: tuple[str, ...] = ()
    side_by_side: SideBySide | None = None
    lighter: tuple[Lighter, ...] = ()

    def __post_init__(self) -> None:
        if not self.cautions:
            raise ValueError("cautions are part of every result")
