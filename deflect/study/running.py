"""Running a study: what is missing in the journal is solved, and each row is committed as it arrives."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, Executor, Future, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from time import monotonic
from typing import Protocol, TypeVar

from deflect.advice.sifting import Sifted
from deflect.model.case import Case
from deflect.study.journal import Journal
from deflect.study.pair import Task, prepare, row_of
from deflect.study.rows import FAILED, Row, Stage
from deflect.study.shop import DieEntry, PressEntry, Shop, case_of, digest_of

# So many tasks are out for each worker: enough to keep it busy, few enough to lose little and hold little.
_OUT = 4
# A pair at which workers died so often is left with a message.
_DEATHS = 4


@dataclass(frozen=True)
class Settings:
    """How a study is run.

    full: solve every pair in full; screening_only: none; else those that screening leaves open.  samples: draws of a
    full row; cache: folder of condensed bodies, "": each worker's own.
    """

    full: bool = False
    screening_only: bool = False
    samples: int = 16
    cache: str = ""


@dataclass(frozen=True)
class Progress:
    """stage; done and total of its pairs in this run; kept: pairs that the journal had already; seconds since it
    began."""

    stage: str
    done: int
    total: int
    kept: int
    seconds: float

    @property
    def rate(self) -> float:
        """Pairs per second."""
        return self.done / self.seconds if self.seconds > 0 else 0.0

    @property
    def left(self) -> float | None:
        """Seconds left at this rate; None: not known yet."""
        return (self.total - self.done) / self.rate if self.done else None


class Workers(Protocol):
    """Who solves: processes of this machine, or a cluster."""

    count: int
    shares_cache: bool

    def executor(self) -> Executor:
        """The executor to submit to; a new one after ``replace``."""

    def replace(self) -> None:
        """Begin anew after workers have died."""


Told = Callable[[Progress], None]
J = TypeVar("J")
R = TypeVar("R")


def run(shop: Shop, journal: Journal, workers: Workers, settings: Settings, told: Told = lambda _: None) -> None:
    """Bring a journal up to date with a shop.  What is in it and rests on the same inputs is not solved again."""
    journal.forget_others([d.name for d in shop.dies], [p.name for p in shop.presses])
    _Stage(shop, journal, workers, settings, told, Stage.SCREENING).run()
    if not settings.screening_only:
        _Stage(shop, journal, workers, settings, told, Stage.FULL).run()


@dataclass(frozen=True, eq=False)
class _Stage:
    shop: Shop
    journal: Journal
    workers: Workers
    settings: Settings
    told: Told
    stage: Stage

    def run(self) -> None:
        missing, kept = self._count()
        if missing and self.stage is Stage.SCREENING and self.workers.shares_cache:
            self._prepare()
        begun, done = monotonic(), 0
        self.told(Progress(self.stage.value, 0, missing, kept, 0.0))
        for rows in _solved(self.workers, self._tasks()):
            self.journal.commit(rows)
            done += len(rows)
            self.told(Progress(self.stage.value, done, missing, kept, monotonic() - begun))

    def _count(self) -> tuple[int, int]:
        """Pairs that are missing, and pairs that are there; what no longer holds is taken out."""
        missing = kept = 0
        for press, dies in self.shop.blocks():
            wanted, stale = self._sorted(press, dies)
            if stale and self.stage is Stage.FULL:
                self.journal.drop(press.name, stale, self.stage)
            missing += len(wanted)
            kept += len(dies) - len(wanted)
        return missing, kept

    def _sorted(self, press: PressEntry, dies: tuple[DieEntry, ...]) -> tuple[list[DieEntry], list[str]]:
        """Dies that are to be solved on a press, and those whose row rests on other inputs."""
        there = self.journal.done(press.name, self.stage)
        digests = {die.name: digest_of(die, press, self.stage, self.settings.samples) for die in dies}
        stale = [die.name for die in dies if die.name in there and there[die.name] != digests[die.name]]
        wanted = [die for die in dies if there.get(die.name) != digests[die.name]]
        if self.stage is Stage.FULL and not self.settings.full:
            left_open = self.journal.open_dies(press.name, Sifted.OPEN.value)
            wanted = [die for die in wanted if die.name in left_open]
        return wanted, stale

    def _tasks(self) -> Iterator[Task | tuple[Row, str]]:
        for press, dies in self.shop.blocks():
            for die in self._sorted(press, dies)[0]:
                digest = digest_of(die, press, self.stage, self.settings.samples)
                case = case_of(die, press, self.stage)
                if isinstance(case, Row):
                    yield case, digest
                else:
                    settings = self.settings
                    yield Task(die.name, press.name, self.stage, digest, case, settings.samples, settings.cache)

    def _prepare(self) -> None:
        """Condense every body once, each in one worker."""
        presses = {p.name: p for p in self.shop.presses if p.read.value is not None}
        dies = {d.name: d for d in self.shop.dies if d.read.value is not None}
        if not presses or not dies:
            return
        one_die, one_press = next(iter(dies.values())), next(iter(presses.values()))
        cases = [(_pair(one_die, press), False) for press in presses.values()]
        cases += [(_pair(die, one_press), True) for die in dies.values()]
        begun, done = monotonic(), 0
        self.told(Progress("condensing bodies", 0, len(cases), 0, 0.0))
        jobs = iter(cases)
        for finished in _windowed(
            self.workers, jobs, lambda executor, job: executor.submit(prepare, job[0], self.settings.cache, job[1])
        ):
            done += len(finished)
            self.told(Progress("condensing bodies", done, len(cases), 0, monotonic() - begun))


def _pair(die: DieEntry, press: PressEntry) -> Case:
    assert die.read.value is not None
    assert press.read.value is not None
    return Case(press.read.value, die.read.value)


def _solved(workers: Workers, tasks: Iterator[Task | tuple[Row, str]]) -> Iterator[list[tuple[Row, str]]]:
    """Rows as they arrive, together with those that need no solving."""
    refused: list[tuple[Row, str]] = []

    def to_solve() -> Iterator[Task]:
        for task in tasks:
            if isinstance(task, Task):
                yield task
            else:
                refused.append(task)

    for finished in _windowed(workers, to_solve(), lambda executor, task: executor.submit(row_of, task)):
        rows = [(_row(task, outcome), task.digest) for task, outcome in finished]
        rows += refused
        refused.clear()
        yield rows
    if refused:
        yield refused


def _row(task: Task, outcome: object) -> Row:
    if isinstance(outcome, Row):
        return outcome
    case = task.case
    message = (
        f"workers died {_DEATHS} times over this pair: is there enough memory?" if outcome is None else str(outcome)
    )
    return Row(
        task.die, task.press, task.stage.value, FAILED, die_name=case.die.name, press_name=case.press.name,
        message=message,
    )  # fmt: skip


def _windowed(
    workers: Workers, jobs: Iterator[J], submit: Callable[[Executor, J], Future[R]]
) -> Iterator[list[tuple[J, R | None]]]:
    """Submit jobs, few at a time, and give back what is done; where workers died, what was out is submitted again.

    None: workers died too often over this job.
    """
    out: dict[Future[R], tuple[J, int]] = {}
    again: list[tuple[J, int]] = []
    most = _OUT * max(workers.count, 1)
    more = True
    while more or again or out:
        while len(out) < most and (again or more):
            if again:
                job, deaths = again.pop()
            else:
                following = next(jobs, None)
                if following is None:
                    more = False
                    break
                job, deaths = following, 0
            try:
                out[submit(workers.executor(), job)] = (job, deaths)
            except BrokenProcessPool:
                again.append((job, deaths))
                break
        finished: list[tuple[J, R | None]] = []
        broken = not out and bool(again)
        done = wait(out, return_when=FIRST_COMPLETED).done if out else set()
        for future in done:
            job, deaths = out.pop(future)
            try:
                finished.append((job, future.result()))
            except BrokenProcessPool:
                broken = True
                again.append((job, deaths + 1))
        if broken:
            again += [(job, deaths + 1) for job, deaths in out.values()]
            out.clear()
            workers.replace()
            # One at a time from here on shows at which job they die.
            finished += [(job, None) for job, deaths in again if deaths >= _DEATHS]
            again = [(job, deaths) for job, deaths in again if deaths < _DEATHS]
        if finished:
            yield finished
