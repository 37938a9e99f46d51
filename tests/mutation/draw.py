"""Mutants of the mechanics, drawn by a seed: cosmic-ray's operators at places spread evenly over the code.

All places where an operator fits stand in a row, file by file.  From a drawn start every k-th is taken, so that each
file comes up as often as it has code; one of the operators that fit there is drawn, and the list is shuffled, so that
any beginning of it is a fair sample.  Left out, for nothing or everything would notice them: annotations (never
evaluated), identity for order (often the same, or a warning), and bits for sums (a TypeError at once).

    python tests/mutation/draw.py 320       # writes .mutation/drawn.jsonl, some minutes
"""

from __future__ import annotations

import ast
import json
import random
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

ROOT = Path(__file__).parents[2]
MECHANICS = ROOT / "deflect" / "mechanics"
SEED = 20261130
BITS = {"RShift", "LShift", "BitOr", "BitAnd", "BitXor"}
IDENTITY = {"Is", "IsNot"}
DRAWN = ROOT / ".mutation" / "drawn.jsonl"

Span = tuple[tuple[int, int], tuple[int, int]]


@dataclass(frozen=True)
class Place:
    """One change that can be made.  file: from the root.  occurrence: of the operator in the file.  line: from 1."""

    file: str
    operator: str
    occurrence: int
    line: int

    def mutant(self) -> Mutant | None:
        """The change made; None where it does not compile."""
        text = (ROOT / self.file).read_text(encoding="utf-8")
        source = str(mutate_code(text, get_operator(self.operator)(), self.occurrence))
        try:
            compile(source, self.file, "exec")
        except SyntaxError:
            return None
        before, after = text.splitlines(), source.splitlines()
        first = next((i for i, (a, b) in enumerate(zip(before, after, strict=False)) if a != b), self.line - 1)
        last = first + 1 + max(0, len(before) - len(after))
        shown = (" ".join(" ".join(before[first:last]).split()), " ".join(after[first].split()))
        return Mutant(self.file, self.operator.rpartition("/")[2], self.line, *shown, source)


@dataclass(frozen=True)
class Mutant:
    """A change of one file: the lines that differ, before and after, and the whole text as changed."""

    file: str
    operator: str
    line: int
    before: str
    after: str
    source: str

    @property
    def module(self) -> str:
        return self.file.removesuffix(".py").replace("/", ".")


def in_its_family(operator: str) -> bool:
    """Whether an operator mixes neither bits with sums nor identity with order."""
    kind, _, pair = operator.rpartition("/")[2].partition("_")
    mixed = {"ReplaceBinaryOperator": BITS, "ReplaceComparisonOperator": IDENTITY}.get(kind, set())
    return len({name in mixed for name in pair.split("_")}) == 1


def annotations(text: str) -> list[Span]:
    """Where annotations stand."""
    found = []
    for node in ast.walk(ast.parse(text)):
        for name in ("annotation", "returns"):
            told = getattr(node, name, None)
            if told is not None:
                found.append(((told.lineno, told.col_offset), (told.end_lineno, told.end_col_offset)))
    return found


@cache
def operators() -> tuple[str, ...]:
    return tuple(n for n in operator_names() if not get_operator(n).arguments() and in_its_family(n))


def mutants_of(file: Path) -> dict[Span, list[Place]]:
    """Every change of a file, by where it is made."""
    text, found = file.read_text(encoding="utf-8"), defaultdict(list)
    name, told, tree = str(file.relative_to(ROOT)), annotations(text), get_ast(text)
    for operator in operators():
        made = get_operator(operator)()
        spans: Iterator[Span] = (span for node in ast_nodes(tree) for span in made.mutation_positions(node))
        for occurrence, span in enumerate(spans):
            if not any(start <= span[0] and span[1] <= end for start, end in told):
                found[span].append(Place(name, operator, occurrence, span[0][0]))
    return dict(sorted(found.items()))


def places() -> list[list[Place]]:
    """Every place of the mechanics, file by file, with the changes that fit."""
    return [mutants for file in sorted(MECHANICS.rglob("*.py")) for mutants in mutants_of(file).values()]


def draw(count: int, seed: int = SEED) -> list[Mutant]:
    """So many mutants, in the order in which they are to be run; where nothing compiles the next place is taken."""
    every, chance = places(), random.Random(seed)
    step = len(every) / count
    start = chance.random() * step
    drawn = []
    for number in range(count):
        place = int(start + number * step)
        made: Mutant | None = None
        while made is None:
            ways = chance.sample(every[place], len(every[place]))
            made = next(filter(None, (way.mutant() for way in ways)), None)
            place += 1
        drawn.append(made)
    chance.shuffle(drawn)
    return drawn


def drawn() -> list[Mutant]:
    """The list as it was written."""
    return [Mutant(**json.loads(line)) for line in DRAWN.read_text(encoding="utf-8").splitlines()]


if __name__ == "__main__":
    DRAWN.parent.mkdir(exist_ok=True)
    DRAWN.write_text("".join(json.dumps(asdict(one)) + "\n" for one in draw(int(sys.argv[1]))), encoding="utf-8")
