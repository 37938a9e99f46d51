"""Page of the mutants: how many were noticed, file by file, and why each of the others was not.

    python tests/mutation/page.py > reports/mutation.md

Why a mutant was not noticed is written down by hand, in survivors.toml, by its number on the list.
"""

from __future__ import annotations

import subprocess
import sys
import tomllib
from collections import Counter
from importlib.metadata import version
from pathlib import Path

from draw import ROOT, SEED, Mutant, drawn
from run import UNNOTICED, Run, journal

REASONS = Path(__file__).with_name("survivors.toml")
# How the reason of a mutant begins that changes no result.
SAME = "Same:"
UNTOLD = "not looked at yet"


def reasons() -> dict[int, str]:
    return {int(number): why for number, why in tomllib.loads(REASONS.read_text(encoding="utf-8")).items()}


def commit() -> str:
    """The commit whose mechanics the mutants are of."""
    told = ["git", "log", "-1", "--format=%h", "--", "deflect/mechanics"]
    return subprocess.run(told, cwd=ROOT, capture_output=True, text=True, check=True).stdout.strip()


def share(part: int, whole: int) -> str:
    return f"{part} of {whole}, {part / whole:.1%}"


def tally(mutants: list[Mutant], runs: dict[int, Run]) -> list[str]:
    drawn_in, missed_in = Counter(m.file for m in mutants), Counter[str]()
    missed_in.update(mutants[n].file for n, run in runs.items() if run.outcome in UNNOTICED)
    rows = [
        f"| `{file.removeprefix('deflect/mechanics/')}` | {count} | {count - missed_in[file]} | {missed_in[file]} |"
        for file, count in sorted(drawn_in.items())
    ]
    return ["| file of `deflect/mechanics/` | drawn | noticed | survived |", "|---|---|---|---|", *rows]


def survivors(mutants: list[Mutant], runs: dict[int, Run]) -> list[str]:
    told, rows = reasons(), []
    for number, run in sorted(runs.items()):
        if run.outcome in UNNOTICED:
            one = mutants[number]
            name = f"`{one.file.removeprefix('deflect/mechanics/')}`, line {one.line}"
            change = f"`{one.before.strip()}` → `{one.after.strip()}`"
            rows.append(f"* **{number}.** {name}: {change}. {told.get(number, UNTOLD)}")
    return rows


def page() -> str:
    runs = journal()
    count = max(runs) + 1
    mutants = drawn()
    missed = {n for n, run in runs.items() if run.outcome in UNNOTICED}
    same = {n for n in missed if reasons().get(n, "").startswith(SAME)}
    slow = sum(run.outcome == "by its time" for run in runs.values())
    told = [
        "# Mutants of the mechanics",
        "",
        f"Made by `tests/mutation/` with the operators of cosmic-ray {version('cosmic-ray')}, seed {SEED}, from the "
        f"mechanics of commit {commit()}: {len(mutants)} drawn evenly over all places where an operator fits, file by "
        f"file; the first {count} of the shuffled list were run, with the tests that reach the changed line, quickest "
        "first; what survived was run once more, with slower tests and with those that were written for it.",
        "",
        "```",
        "pip install -e '.[test,mutation]'",
        "python tests/mutation/cover.py tests/checks tests/mechanics            # which test runs which line",
        "python tests/mutation/cover.py --whole tests/report tests/advice      # the same where a fixture takes long",
        f"python tests/mutation/draw.py {len(mutants)}",
        "python tests/mutation/run.py                    # goes on where it was; --again --seconds 120: survivors anew",
        "python tests/mutation/page.py > reports/mutation.md",
        "```",
        "",
        f"* noticed: {share(count - len(missed), count)} ({slow} of them by a test that took three times its time)",
        f"* survived and changes no result: {len(same)}",
        f"* noticed, of those that change a result: {share(count - len(missed), count - len(same))}",
        "",
        "Mutants in lines that no test reaches count as survived.  Numbers are those of the list.",
        "",
        "## Survivors",
        *(survivors(mutants, runs) or ["none"]),
        "",
        "## By file",
        *tally(mutants[:count], runs),
        "",
    ]
    return "\n".join(told)


if __name__ == "__main__":
    sys.stdout.write(page())
