"""Checks that are killed at random moments, over and over in one folder: nothing half-written, and the next one works.

    PYTHONPATH=. python tests/faults/killing_checks.py --checks 12 --writings 200 --seed 1

``--checks``: the whole command ``deflect check … --report DIR --papers``, every other one in the last third of it.
``--writings``: only the writing of report, fields and papers, of two dies in turns, so that a mix would be seen.
Besides, a writing is killed before each of its steps on disk, one after the other.
Prints a tally; exit code 1 if one left something half-written.
"""

from __future__ import annotations

import argparse
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from itertools import count
from pathlib import Path

import deflect.mechanics.footprint as footprint
from deflect.advice import advise_on, assess
from deflect.casefile import read_case
from deflect.findings import Advice
from deflect.report import document
from deflect.report.writing import RESULT, write_report

DIE, PRESS = "maple-restrike", "birch-12mn"
_RUN = "from deflect.cli import main; main()"
_COARSER = 3.0
_LATE = 2 / 3
"""Share of its time after which a check has solved and writes."""
_STEPS = ("open", "os.mkdir", "os.rename", "os.remove", "os.rmdir")
"""What the interpreter calls the steps by which files come and go."""
_WORKS = 0.5
"""Share of the kills after which the next run is left alone: it works, and clears up."""
NOTHING, EARLIER, NEW, BEGUN = "nothing", "the earlier one", "the new one", "part of it without a result"

Report = Mapping[str, bytes]


def files_in(folder: Path) -> dict[str, bytes]:
    """The files of a folder by name; what runs have set aside is no file of the report."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()} if folder.is_dir() else {}


def state_of(folder: Path, earlier: Report, new: Report) -> str:
    """What stands in a folder after a kill.  Raises AssertionError where it is half-written, or of two runs at once."""
    found = files_in(folder)
    for name, content in found.items():
        assert content in (earlier.get(name), new.get(name)), f"{name} is half-written"
    if not found:
        assert not earlier, "the earlier report is lost"
        return NOTHING
    if RESULT not in found:  # cut off while it was put in place: the result, which tells that all is there, is not
        assert set(found) <= set(new) | set(earlier)
        return BEGUN
    for report, called in ((earlier, EARLIER), (new, NEW)):
        if RESULT in report and all(found.get(name) == content for name, content in report.items()):
            return called
    raise AssertionError("files of two reports stand beside a result")


def solved() -> Advice:
    """A case on a coarse mesh, one way of thrust, without remedies: what is written is what counts here."""
    return advise_on(assess(read_case(DIE, PRESS), 0, mesh_error=False, thrust_direction=0.0))


def renamed(advice: Advice) -> Advice:
    """The same of a die with another name: every file but the fields differs."""
    analysis = advice.assessment.analysis
    case = replace(analysis.case, die=replace(analysis.case.die, name="The other die"))
    return replace(advice, assessment=replace(advice.assessment, analysis=replace(analysis, case=case)))


def in_a_child(work: Callable[[], object], until: float | None = None) -> bool:
    """Do something in a process of its own, which is killed after ``until`` s or kills itself; whether it ended.

    What prints papers starts threads: it must never run in the process that makes the others.
    """
    child = os.fork()
    if child == 0:
        code = 1
        try:
            work()
            code = 0
        finally:
            os._exit(code)
    if until is not None:
        time.sleep(until)
        os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status) or status == 0, "a report was not written"
    return status == 0


def two_reports(coarser: float = _COARSER) -> list[Advice]:
    """Two that differ, on a coarse mesh."""
    footprint.PATCH_SIZE *= coarser  # type: ignore[misc]
    footprint.ELEMENT_SIZE *= coarser  # type: ignore[misc]
    advice = solved()
    return [advice, renamed(advice)]


def kill_writings(place: Path, times: int, seed: int) -> Counter[str]:
    """Kill so many writings, with papers; what stood in the folder after each."""
    both, takes = two_reports(), 0.0
    for n, advice in enumerate(both):
        begun = time.monotonic()
        assert in_a_child(partial(write_report, advice, place / f"whole-{n}", papers=True))
        takes = max(takes, time.monotonic() - begun)
    whole = [files_in(place / f"whole-{n}") for n in (0, 1)]
    chance, folder = random.Random(seed), place / "killed"
    told: Counter[str] = Counter()
    for n in range(times):
        earlier, new, write = files_in(folder), whole[n % 2], partial(write_report, both[n % 2], folder, papers=True)
        in_a_child(write, until=takes * chance.uniform(0.0, 1.1))
        told[state_of(folder, earlier, new)] += 1
        if chance.random() < _WORKS or n == times - 1:
            works(write, folder, new)
    return told


def works(write: Callable[[], object], folder: Path, new: Report) -> None:
    """The next run, left alone: it comes to its end, and nothing else is left."""
    assert in_a_child(write)
    assert {path.name for path in folder.iterdir()} == set(new), "something was left aside"
    assert files_in(folder) == new


def kill_at_each_step(place: Path) -> Counter[str]:
    """Kill the writing of one report over another before its first step on disk, before its second, and so on."""
    both = two_reports()
    drawn = document.document(both[0])  # once: what is killed is the writing
    document.document = lambda advice: drawn + f"<!-- {advice.assessment.analysis.case.die.name} -->"
    for n, advice in enumerate(both):
        assert in_a_child(partial(write_report, advice, place / f"whole-{n}"))
    earlier, new = (files_in(place / f"whole-{n}") for n in (0, 1))
    folder = place / "killed"
    told: Counter[str] = Counter()
    for step in count(1):
        works(partial(write_report, both[0], folder), folder, earlier)
        ended = in_a_child(lambda step=step: _write_up_to(step, both[1], folder))  # type: ignore[misc]
        told[state_of(folder, earlier, new)] += 1
        if ended:
            return told


def _write_up_to(step: int, advice: Advice, folder: Path) -> None:
    """Write a report, and be killed before so many of its steps on disk have been made."""
    left = step

    def watch(event: str, about: tuple[object, ...]) -> None:
        nonlocal left
        if event in _STEPS and any(str(folder) in str(one) for one in about):
            left -= 1
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(watch)
    write_report(advice, folder)


def kill_checks(place: Path, times: int, seed: int) -> Counter[str]:
    """Kill the whole command so many times; what stood in the folder after each."""
    chance = random.Random(seed)
    words = [sys.executable, "-c", _RUN, "check", DIE, PRESS, "--papers", "--report"]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    begun = time.monotonic()
    subprocess.run([*words, str(place / "alone")], check=True, **quiet)  # type: ignore[call-overload]
    takes, alone = time.monotonic() - begun, files_in(place / "alone")
    told: Counter[str] = Counter()
    for n in range(times):
        earlier = files_in(place / "killed")
        process = subprocess.Popen([*words, str(place / "killed")], **quiet)  # type: ignore[call-overload]
        time.sleep(takes * chance.uniform(_LATE if n % 2 else 0.0, 1.05))
        process.kill()
        process.wait()
        told[state_of(place / "killed", earlier, alone)] += 1
    subprocess.run([*words, str(place / "killed")], check=True, **quiet)  # type: ignore[call-overload]
    assert {path.name for path in (place / "killed").iterdir()} == set(alone), "something was left aside"
    assert files_in(place / "killed") == alone
    return told


def main() -> int:
    """The script."""
    asked = argparse.ArgumentParser(description=__doc__)
    for name, usual in (("checks", 12), ("writings", 200), ("seed", 1)):
        asked.add_argument(f"--{name}", type=int, default=usual)
    given = asked.parse_args()
    kills: dict[str, Callable[[Path], Counter[str]]] = {
        "each step": kill_at_each_step,
        f"{given.checks} checks": partial(kill_checks, times=given.checks, seed=given.seed),
        f"{given.writings} writings": partial(kill_writings, times=given.writings, seed=given.seed),
    }
    for what, kill in kills.items():
        with tempfile.TemporaryDirectory() as place:
            told = kill(Path(place))
        states = ", ".join(f"{state} {times}" for state, times in told.most_common())
        sys.stdout.write(f"{what} killed; in the folder stood: {states}\n")
        sys.stdout.flush()
    return 0


if __name__ == "__main__":
    sys.exit(main())
