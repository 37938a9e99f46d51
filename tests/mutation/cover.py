"""Which lines of the mechanics each test runs, and how long it takes: a journal, one line a test.

    python tests/mutation/cover.py tests/checks tests/mechanics

Tests are collected once; each runs in a fork of its own, so that nothing cached by one test hides lines from the next.
A test that is in the journal already is not run again: what was interrupted goes on.
"""

from __future__ import annotations

import argparse
import json
import os
import signal
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import coverage
import pytest
from _pytest.runner import runtestprotocol

ROOT = Path(__file__).parents[2]
MECHANICS = ROOT / "deflect" / "mechanics"
JOURNAL = ROOT / ".mutation" / "cover.jsonl"
# Slower tests are left out, s: a mutant is looked for with quick ones.
SLOWEST, SLOWEST_FILE = 25, 240
WATCH = coverage.Coverage(data_file=None, config_file=False, include=[f"{MECHANICS}/*"])
WATCH.set_option("run:disable_warnings", ["no-data-collected"])


def covered_by(name: str, items: Sequence[pytest.Item]) -> dict[str, object]:
    """Run tests here and now: whether they passed, their seconds, and their lines of each file of the mechanics."""
    began = time.monotonic()
    WATCH.start()
    reports = [
        report
        for item, after in zip(items, [*items[1:], None], strict=True)
        for report in runtestprotocol(item, log=False, nextitem=after)
    ]
    WATCH.stop()
    took, data = time.monotonic() - began, WATCH.get_data()
    lines = {str(Path(f).relative_to(ROOT)): sorted(data.lines(f) or ()) for f in sorted(data.measured_files())}
    passed = all(report.passed for report in reports)
    return {"test": name, "passed": passed, "seconds": round(took, 3), "lines": lines}


class EachInItsFork:
    """Instead of running a test, or a whole file of them, runs it in a fork that writes its line."""

    def __init__(self, journal: Path, whole: bool) -> None:
        self.journal, self.whole = journal, whole
        text = journal.read_text(encoding="utf-8") if journal.exists() else ""
        self.done = {json.loads(line)["test"] for line in text.splitlines()}

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        named: dict[str, list[pytest.Item]] = {}
        for item in session.items:
            named.setdefault(item.nodeid.partition("::")[0] if self.whole else item.nodeid, []).append(item)
        for name, items in named.items():
            if name not in self.done:
                self.run(name, items)
        return True

    def run(self, name: str, items: Sequence[pytest.Item]) -> None:
        child = os.fork()
        if child == 0:
            signal.alarm(SLOWEST_FILE if self.whole else SLOWEST)
            self.write(covered_by(name, items))
            os._exit(0)
        _, status = os.waitpid(child, 0)
        if status:
            self.write({"test": name, "passed": False, "seconds": None, "lines": {}})

    def write(self, told: dict[str, object]) -> None:
        with self.journal.open("a", encoding="utf-8") as file:
            file.write(json.dumps(told, separators=(",", ":")) + "\n")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("tests", nargs="+")
    parser.add_argument("--journal", type=Path, default=JOURNAL)
    parser.add_argument("--whole", action="store_true", help="each file as one test: where a fixture takes long")
    asked, others = parser.parse_known_args()
    WATCH.start()  # Once for all forks: what it looks up at its start takes longer than most tests.
    WATCH.stop()
    asked.journal.parent.mkdir(exist_ok=True)
    return int(
        pytest.main(["-n", "0", "-q", "-s", *others, *asked.tests], plugins=[EachInItsFork(asked.journal, asked.whole)])
    )


if __name__ == "__main__":
    sys.exit(main())
