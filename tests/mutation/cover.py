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
from pathlib import Path

import coverage
import pytest
from _pytest.runner import runtestprotocol

ROOT = Path(__file__).parents[2]
MECHANICS = ROOT / "deflect" / "mechanics"
JOURNAL = ROOT / ".mutation" / "cover.jsonl"
# Slower tests are left out, s: a mutant is looked for with quick ones.
SLOWEST = 25
WATCH = coverage.Coverage(data_file=None, config_file=False, include=[f"{MECHANICS}/*"])
WATCH.set_option("run:disable_warnings", ["no-data-collected"])


def covered_by(item: pytest.Item) -> dict[str, object]:
    """Run one test here and now: whether it passed, its seconds, and its lines of each file of the mechanics."""
    watch = WATCH
    began = time.monotonic()
    watch.start()
    reports = runtestprotocol(item, log=False, nextitem=None)
    watch.stop()
    took = time.monotonic() - began
    data = watch.get_data()
    lines = {str(Path(f).relative_to(ROOT)): sorted(data.lines(f) or ()) for f in sorted(data.measured_files())}
    passed = all(report.passed for report in reports)
    return {"test": item.nodeid, "passed": passed, "seconds": round(took, 3), "lines": lines}


class EachInItsFork:
    """Instead of running a test, runs it in a fork that writes its line."""

    def __init__(self, journal: Path) -> None:
        self.journal = journal
        text = journal.read_text(encoding="utf-8") if journal.exists() else ""
        self.done = {json.loads(line)["test"] for line in text.splitlines()}

    def pytest_runtest_protocol(self, item: pytest.Item) -> bool:
        if item.nodeid in self.done:
            return True
        child = os.fork()
        if child == 0:
            signal.alarm(SLOWEST)
            self.write(covered_by(item))
            os._exit(0)
        _, status = os.waitpid(child, 0)
        if status:
            self.write({"test": item.nodeid, "passed": False, "seconds": None, "lines": {}})
        return True

    def write(self, told: dict[str, object]) -> None:
        with self.journal.open("a", encoding="utf-8") as file:
            file.write(json.dumps(told, separators=(",", ":")) + "\n")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("tests", nargs="+")
    parser.add_argument("--journal", type=Path, default=JOURNAL)
    asked, others = parser.parse_known_args()
    WATCH.start()  # Once for all forks: what it looks up at its start takes longer than most tests.
    WATCH.stop()
    asked.journal.parent.mkdir(exist_ok=True)
    return int(pytest.main(["-n", "0", "-q", "-s", *others, *asked.tests], plugins=[EachInItsFork(asked.journal)]))


if __name__ == "__main__":
    sys.exit(main())
