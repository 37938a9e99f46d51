"""The big run over spoilt case files; not part of the suite, which takes a few hundred of the same.

    PYTHONPATH=. python tests/fuzz/big_run.py --readings 24000 --checks 300 --seed 1

Reads so many mutants of every demo case, template and table of readings, solves so many of those that are accepted and
say something else than the file that they were made of (``--advised`` of them with ranges, remedies and the page), and
prints a tally. Exit code 1 if one went wrong.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from mutants import Original, originals
from reader import ACCEPTED, CRASHED, HUNG, SLOW, read_mutant
from whole_check import ANSWERED, TOLD, check, coarse_mesh
from whole_check import HUNG as CHECK_HUNG
from whole_check import SLOW as CHECK_SLOW

from deflect.casefile import read_case
from deflect.faults import CaseRefused
from deflect.model.case import Case

_TOLD_EVERY = 2000


def say(text: str) -> None:
    """One line, at once."""
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def read_all(count: int, seed: int, wanted: int) -> tuple[bool, list[tuple[int, str, Case]]]:
    """Read ``count`` mutants; whether all went well, and the accepted cases to be solved."""
    files = originals()
    tally: Counter[tuple[str, str]] = Counter()
    slow = hung = 0
    wrong, longest = 0, 0.0
    kept: list[tuple[int, str, Case]] = []
    known = {case for file in files if (case := _case_of(file)) is not None}
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as place:
        for number in range(count):
            file = files[number % len(files)]
            came = read_mutant(Path(place), file, files, seed, number)
            tally[file.kind, came.outcome] += 1
            longest = max(longest, came.seconds)
            slow, hung = slow + (came.seconds > SLOW), hung + (came.seconds > HUNG)
            if came.wrong or came.outcome == CRASHED:
                wrong += 1
                say(f"mutant {number} of {file.kind} {file.name} (seed {seed}): {came.outcome}\n{came.wrong}")
            if came.outcome == ACCEPTED and came.case is not None and len(kept) < wanted * 40:
                bare = _bare(came.case)
                if bare not in known:
                    known.add(bare)
                    kept.append((number, file.name, came.case))
            if (number + 1) % _TOLD_EVERY == 0:
                say(f"{number + 1} read, {time.perf_counter() - begun:.0f} s")
    kinds = sorted({kind for kind, _ in tally})
    outcomes = sorted({outcome for _, outcome in tally})
    say("| file | " + " | ".join(outcomes) + " |")
    for kind in kinds:
        say(f"| {kind} | " + " | ".join(str(tally[kind, outcome]) for outcome in outcomes) + " |")
    say(f"read {count} mutants in {time.perf_counter() - begun:.0f} s: slower than {SLOW:g} s {slow}, hung {hung}, "
        f"longest {longest:.2f} s, went wrong {wrong}")  # fmt: skip
    say(f"accepted cases that say something else: {len(kept)}")
    step = max(len(kept) // max(wanted, 1), 1)
    return wrong == 0 and hung == 0, kept[::step][:wanted]


def _case_of(file: Original) -> Case | None:
    """The case of a file that is right, with what stands beside it in ``read_mutant``."""
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / "case.toml"
        path.write_bytes(file.content)
        try:
            if file.kind == "die":
                return _bare(read_case(path, "alder-10mn"))
            return _bare(read_case("rowan-trim", path)) if file.kind == "press" else None
        except CaseRefused:  # not every demo die goes on this press
            return None


def _bare(case: Case) -> Case:
    """Without where it is written, and without names and notes: they change no answer."""
    from dataclasses import replace

    press = replace(case.press, inputs=(), note="", name="p")
    die = replace(case.die, inputs=(), note="", name="d")
    return replace(case, press=press, die=die, input_hash="")


def solve_all(cases: list[tuple[int, str, Case]], seed: int, remedies: bool) -> bool:
    """Solve cases on a coarse mesh; whether all went well."""
    tally: Counter[str] = Counter()
    slow = hung = wrong = 0
    longest = 0.0
    begun = time.perf_counter()
    with coarse_mesh(remedies):
        for number, name, case in cases:
            answer = check(case, samples=2 if remedies else 0, with_page=remedies)
            tally[answer.outcome] += 1
            longest = max(longest, answer.seconds)
            slow, hung = slow + (answer.seconds > CHECK_SLOW), hung + (answer.seconds > CHECK_HUNG)
            if answer.outcome == TOLD:
                say(f"mutant {number} of {name} (seed {seed}): {answer.wrong}")
            elif answer.wrong or answer.seconds > CHECK_SLOW:
                wrong += bool(answer.wrong)
                told = f"{answer.outcome}, {answer.seconds:.1f} s\n{answer.wrong}"
                say(f"MUTANT {number} of {name} (seed {seed}): {told}")
    say(f"solved {len(cases)} cases{' with remedies' if remedies else ''} in {time.perf_counter() - begun:.0f} s: "
        + ", ".join(f"{outcome} {count}" for outcome, count in sorted(tally.items()))
        + f"; slower than {CHECK_SLOW:g} s {slow}, than {CHECK_HUNG:g} s {hung}, longest {longest:.1f} s, "
        + f"went wrong {wrong}")  # fmt: skip
    return wrong == 0 and set(tally) <= {ANSWERED, TOLD}


def main() -> int:
    """The script."""
    asked = argparse.ArgumentParser(description=__doc__)
    for name, usual in (("readings", 24000), ("checks", 300), ("advised", 10), ("seed", 1)):
        asked.add_argument(f"--{name}", type=int, default=usual)
    given = asked.parse_args()
    well, cases = read_all(given.readings, given.seed, given.checks + given.advised)
    solved = solve_all(cases[given.advised :], given.seed, remedies=False)
    advised = solve_all(cases[: given.advised], given.seed, remedies=True)
    return 0 if well and solved and advised else 1


if __name__ == "__main__":
    sys.exit(main())
