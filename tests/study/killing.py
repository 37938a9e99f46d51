"""A study whose processes are killed at random moments, against the same one left alone.

python tests/study/killing.py --kills 10 --dies 40 --presses 4      prints what it did and whether the rows agree
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
from dataclasses import dataclass
from pathlib import Path

from deflect.study.invented import invent_shop
from deflect.study.journal import Journal
from deflect.study.rows import Row

_RUN = "from deflect.cli import main; main()"
# A run may take so long, s; the journal is looked at so often, s.
_PATIENCE, _LOOK = 600.0, 0.02


@dataclass(frozen=True)
class Killed:
    """What was killed and when; kept: rows that the journal had then."""

    who: str
    kept: int


def start(shop: Path, to: Path, more: tuple[str, ...] = ()) -> subprocess.Popen[bytes]:
    """Begin, or go on with, a study of two workers."""
    words = ["study", str(shop / "dies"), str(shop / "presses"), "--to", str(to), "--workers", "2", *more]
    return subprocess.Popen([sys.executable, "-c", _RUN, *words], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def rows_in(to: Path) -> dict[tuple[str, str, str], Row]:
    """All rows of a journal, by pair and stage."""
    journal = Journal(to / "journal.sqlite")
    rows = {(row.die, row.press, row.stage): row for row in journal.rows(latest=False)}
    journal.close()
    return rows


def workers_of(process: int) -> list[int]:
    """Processes that a process started and that solve, by their command line."""
    found = []
    for entry in Path("/proc").iterdir():
        if not entry.name.isdigit():
            continue
        try:
            parent = int((entry / "stat").read_text().rpartition(")")[2].split()[1])
            is_worker = b"spawn_main" in (entry / "cmdline").read_bytes()
        except (OSError, ValueError, IndexError):
            continue
        if parent == process and is_worker:
            found.append(int(entry.name))
    return found


def disturbed(shop: Path, to: Path, kills: int, total: int, seed: int, more: tuple[str, ...] = ()) -> list[Killed]:
    """Run a study to its end, killing the main process or a worker ``kills`` times at random counts of rows.

    Raises AssertionError where a row that was committed is lost, or solved again.
    """
    chance = random.Random(seed)
    at = sorted(chance.sample(range(1, max(total - 2, kills + 1)), kills))
    told: list[Killed] = []
    process = start(shop, to, more)
    begun = time.monotonic()
    kept: dict[tuple[str, str, str], Row] = {}
    while process.poll() is None or len(told) < kills:
        assert time.monotonic() - begun < _PATIENCE, "the study does not come to its end"
        if process.poll() is not None:
            break
        there = rows_in(to) if (to / "journal.sqlite").exists() else {}
        assert all(there.get(key) == row for key, row in kept.items()), "a committed row was lost or solved again"
        if len(told) < kills and len(there) >= at[len(told)]:
            kept = there
            workers = workers_of(process.pid)
            if workers and chance.random() < 0.5:
                os.kill(chance.choice(workers), signal.SIGKILL)
                told.append(Killed("worker", len(there)))
            else:
                process.kill()
                process.wait()
                told.append(Killed("main", len(there)))
                process = start(shop, to, more)
        time.sleep(_LOOK)
    process.wait()
    assert process.returncode == 0, f"the study ended with {process.returncode}"
    there = rows_in(to)
    assert all(there.get(key) == row for key, row in kept.items()), "a committed row was lost or solved again"
    return told


def main() -> int:
    """The script."""
    asked = argparse.ArgumentParser(description=__doc__)
    for name, usual in (("kills", 10), ("dies", 40), ("presses", 4), ("seed", 1)):
        asked.add_argument(f"--{name}", type=int, default=usual)
    asked.add_argument("--full", action="store_true", help="full rows, too: slow")
    given = asked.parse_args()
    more = ("--full",) if given.full else ("--screening-only",)
    total = given.dies * given.presses * (2 if given.full else 1)
    with tempfile.TemporaryDirectory() as place:
        shop = Path(place) / "shop"
        invent_shop(shop, given.dies, given.presses, given.seed, broken=1)
        assert start(shop, Path(place) / "alone", more).wait() == 0
        told = disturbed(shop, Path(place) / "killed", given.kills, total, given.seed, more)
        alone, killed = rows_in(Path(place) / "alone"), rows_in(Path(place) / "killed")
    for one in told:
        sys.stdout.write(f"killed the {one.who} with {one.kept} rows in the journal\n")
    same = {k: r.compared for k, r in alone.items()} == {k: r.compared for k, r in killed.items()}
    sys.stdout.write(f"{len(told)} kills, {len(alone)} rows alone, {len(killed)} rows killed: ")
    sys.stdout.write("the same rows\n" if same else "THE ROWS DIFFER\n")
    return 0 if same else 1


if __name__ == "__main__":
    sys.exit(main())
