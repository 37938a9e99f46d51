"""Whether the tests notice mutants: a journal, one line a mutant, and the page that is made of it.

    python tests/mutation/cover.py tests/checks tests/mechanics     # which test runs which line
    python tests/mutation/draw.py 320                               # the mutants, from a seed
    python tests/mutation/run.py                                    # goes on where it was
    python tests/mutation/run.py --again --seconds 300              # survivors once more, with more tests

One process holds the libraries; each mutant is a fork of it that imports the package with one file changed and runs
the tests that reach the changed line, quickest first, until one fails.  A test that takes three times as long as it
should has noticed the mutant, too.
"""

from __future__ import annotations

import argparse
import ast
import importlib
import json
import os
import re
import select
import signal
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, replace
from functools import cache
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import spec_from_file_location
from types import CodeType, ModuleType

import pytest
from cover import JOURNAL as COVERED
from draw import MECHANICS, ROOT, Mutant, drawn

JOURNAL = ROOT / ".mutation" / "runs.jsonl"
# Loaded before the first fork: what the package and its tests import from elsewhere.
LIBRARIES = ("skfem", "scipy.optimize", "scipy.sparse.linalg", "scipy.stats", "scipy.interpolate", "pydantic", "click",
             "rich.console", "rich.table", "jinja2", "meshio", "jsonschema", "tomlkit")  # fmt: skip
# A test has noticed a mutant by its time if it takes so many times as long as it should, and so many seconds more:
# the machine may be busy with something else.
SLOWER, GRACE = 3, 15
# For import and collection, s.
START = 120
UNNOTICED = ("survived", "not reached")


@dataclass(frozen=True)
class Run:
    """What became of a mutant: noticed by a test, or by its time, survived so many tests, or not reached by any.

    tried: the tests that it has survived, of all runs so far.
    """

    number: int
    outcome: str
    by: str
    tests: int
    seconds: float
    tried: tuple[str, ...] = ()


class Changed(MetaPathFinder, SourceFileLoader):
    """Finds one module, and loads it from a changed text."""

    def __init__(self, mutant: Mutant) -> None:
        SourceFileLoader.__init__(self, mutant.module, str(ROOT / mutant.file))
        self.text = mutant.source

    def find_spec(
        self, fullname: str, path: Sequence[str] | None = None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        return spec_from_file_location(fullname, self.path, loader=self) if fullname == self.name else None

    def get_code(self, fullname: str) -> CodeType:
        code = compile(self.text, self.path, "exec", dont_inherit=True)
        assert isinstance(code, CodeType)
        return code


class Watch:
    """Gives each test its time, and keeps which one failed."""

    def __init__(self, due: dict[str, float]) -> None:
        self.due = due
        self.tests = 0
        self.by = ""

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        self.tests += 1
        self.by = nodeid
        due = self.due.get(nodeid) or self.due[nodeid.partition("::")[0]]
        signal.alarm(int(SLOWER * due) + GRACE)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.by = report.nodeid


@cache
def tests() -> dict[str, tuple[float, dict[str, frozenset[int]]]]:
    """Seconds and lines of every test that passes, quickest first."""
    told = [json.loads(line) for line in COVERED.read_text(encoding="utf-8").splitlines()]
    told = sorted((one for one in told if one["passed"]), key=lambda one: one["seconds"])
    return {one["test"]: (one["seconds"], {f: frozenset(n) for f, n in one["lines"].items()}) for one in told}


def statements(tree: ast.AST, inside: tuple[ast.AST, ...] = ()) -> Iterator[tuple[ast.stmt, tuple[ast.AST, ...]]]:
    """Every statement with the functions and classes around it."""
    for child in ast.iter_child_nodes(tree):
        if isinstance(child, ast.stmt):
            yield child, inside
        around = isinstance(child, ast.FunctionDef | ast.ClassDef)
        yield from statements(child, (*inside, child) if around else inside)


def own_lines(statement: ast.stmt) -> range:
    """The lines of a statement, of a compound one those of its head."""
    body = getattr(statement, "body", None)
    first = min((d.lineno for d in getattr(statement, "decorator_list", ())), default=statement.lineno)
    return range(first, body[0].lineno if body else (statement.end_lineno or statement.lineno) + 1)


def reached_at(mutant: Mutant) -> dict[str, set[int]]:
    """Lines by file that a test must run to be reached by a mutant.

    What runs at import alone is reached where its function runs (a default, a decorator), or where its name is read or
    anything else of its file runs (a constant).
    """
    text = (ROOT / mutant.file).read_text(encoding="utf-8")
    statement, around = next(
        pair for pair in reversed(list(statements(ast.parse(text)))) if mutant.line in own_lines(pair[0])
    )
    if isinstance(statement, ast.FunctionDef):
        return {mutant.file: set(range(statement.body[0].lineno, (statement.end_lineno or 0) + 1))}
    if any(isinstance(node, ast.FunctionDef) for node in around):
        return {mutant.file: set(own_lines(statement))}
    targets = [
        node.id for node in ast.walk(statement) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
    ]
    if isinstance(statement, ast.ClassDef):
        targets = [statement.name]
    named = re.compile(rf"\b({'|'.join(targets) or '$'})\b")
    return {
        str(file.relative_to(ROOT)): {
            n
            for n, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
            if named.search(line) or file == ROOT / mutant.file
        }
        for file in MECHANICS.rglob("*.py")
    }


def tests_of(mutant: Mutant, seconds: float, tried: Sequence[str]) -> dict[str, float]:
    """The quickest tests that reach a mutant and were not tried yet, as many as fit into that time, with its share."""
    at, before = reached_at(mutant), set(tried)
    found: dict[str, float] = {}
    for test, (took, lines) in tests().items():
        reached = test not in before and any(lines[file] & at.get(file, set()) for file in lines)
        if reached and (not found or seconds > took):
            found[test] = took
            seconds -= took
    return found


def in_the_fork(mutant: Mutant, chosen: dict[str, float], answer: int) -> None:
    """Import the package with the change, run the tests, tell what failed.  Does not return."""
    watch = Watch(chosen)

    def too_slow(*_: object) -> None:
        os.write(answer, json.dumps(["by its time", watch.by, watch.tests]).encode())
        os._exit(0)

    signal.signal(signal.SIGALRM, too_slow)
    signal.alarm(START)
    os.setpgid(0, 0)
    sink = os.open(os.devnull, os.O_WRONLY)
    os.dup2(sink, 1)
    os.dup2(sink, 2)
    sys.meta_path.insert(0, Changed(mutant))
    code = pytest.main(["-n", "0", "-x", "-q", "-p", "no:cacheprovider", "--tb=no", *chosen], plugins=[watch])
    outcome, by = ("survived", "") if code == 0 else ("noticed", watch.by or f"at import (exit code {int(code)})")
    os.write(answer, json.dumps([outcome, by, watch.tests]).encode())
    os._exit(0)


def run(number: int, mutant: Mutant, seconds: float, tried: Sequence[str] = ()) -> Run:
    """Run one mutant against the tests that reach it, as many as take that long."""
    chosen = tests_of(mutant, seconds, tried)
    if not chosen:
        return Run(number, "survived" if tried else "not reached", "", 0, 0.0, tuple(tried))
    began = time.monotonic()
    answer, told = os.pipe()
    child = os.fork()
    if child == 0:
        in_the_fork(mutant, chosen, told)
    os.close(told)
    latest = START + sum(SLOWER * due + GRACE for due in chosen.values())
    ready, _, _ = select.select([answer], [], [], latest)
    words = os.read(answer, 65536) if ready else b""
    if not ready:
        os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    os.close(answer)
    # A fork that ends without a word has crashed.
    outcome, by, count = json.loads(words) if words else ("by its time" if not ready else "noticed", "", 0)
    survived = (*tried, *chosen) if outcome == "survived" else ()
    return Run(number, outcome, by, count, round(time.monotonic() - began, 1), survived)


def journal() -> dict[int, Run]:
    """The last run of every mutant so far."""
    text = JOURNAL.read_text(encoding="utf-8") if JOURNAL.exists() else ""
    return {one.number: one for one in (Run(**json.loads(line)) for line in text.splitlines())}


def tell(mutant: Mutant, told: Run) -> None:
    sys.stdout.write(f"{told.number} {mutant.file}:{mutant.line} {told.outcome} {told.by} {told.seconds} s\n")
    sys.stdout.flush()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seconds", type=float, default=40.0, help="of tests for each mutant")
    parser.add_argument("--again", action="store_true", help="those that were not noticed, and none else")
    parser.add_argument("--unchanged", action="store_true", help="files as they are, no journal: all must survive")
    parser.add_argument("--first", type=int, default=None, help="stop after so many of the list")
    asked = parser.parse_args()
    os.chdir(ROOT)
    sys.path.insert(0, str(ROOT))
    for library in LIBRARIES:
        importlib.import_module(library)
    before, every = journal(), drawn()[: asked.first]
    if asked.unchanged:
        for number, mutant in enumerate(every):
            text = (ROOT / mutant.file).read_text(encoding="utf-8")
            tell(mutant, run(number, replace(mutant, source=text), asked.seconds))
        return
    for number, mutant in enumerate(every):
        known = before.get(number)
        wanted = known is not None and known.outcome in UNNOTICED if asked.again else known is None
        if not wanted:
            continue
        told = run(number, mutant, asked.seconds, known.tried if known else ())
        tell(mutant, told)
        with JOURNAL.open("a", encoding="utf-8") as file:
            file.write(json.dumps(asdict(told)) + "\n")


if __name__ == "__main__":
    main()
