"""The line of every key, in whichever way TOML lets one write it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest

from deflect.casefile import demo_cases, template
from deflect.casefile.locator import Path, lines_of

TRICKY = """\
# remark with [brackets] and = signs
top = 1
'quoted key' = "a # no remark"   # a remark
"esc\\u0061ped" = 'C:\\path'
a.b . "c" = 3
[t]
x = {p = 1, q = {r = [1, 2]}, "s t" = "}"}
y = [
  "one",   # remark, with ] and ,
  ["two", [
    "three"]],
  {k = 1}, {k = 2},
]
long = \"\"\"
[not.a.table]
z = 1
\\\"\"\" still \"\"\"\"
w = '''
k = 2'''
date = 1979-05-27T07:32:00Z
[[t.list]]
m = 1
[[t.list]]
m = 2
[t.list.inner]
n = 3
[[t.list.deep]]
o = 4
[[t.list.deep]]
o = 5
[ u . v ]
last = true"""

EXPECTED: dict[Path, int] = {
    ("top",): 2,
    ("quoted key",): 3,
    ("escaped",): 4,
    ("a",): 5,
    ("a", "b", "c"): 5,
    ("t",): 6,
    ("t", "x", "q", "r", 1): 7,
    ("t", "x", "s t"): 7,
    ("t", "y"): 8,
    ("t", "y", 0): 9,
    ("t", "y", 1, 0): 10,
    ("t", "y", 1, 1, 0): 11,
    ("t", "y", 3, "k"): 12,
    ("t", "long"): 14,
    ("t", "w"): 18,
    ("t", "date"): 20,
    ("t", "list", 0): 21,
    ("t", "list", 0, "m"): 22,
    ("t", "list", 1): 23,
    ("t", "list", 1, "m"): 24,
    ("t", "list", 1, "inner", "n"): 26,
    ("t", "list", 1, "deep", 0, "o"): 28,
    ("t", "list", 1, "deep", 1, "o"): 30,
    ("u",): 31,
    ("u", "v", "last"): 32,
}


def places(value: Any, at: Path = ()) -> Iterator[Path]:
    """Every path in a TOML document."""
    inner: Any = ()
    if isinstance(value, dict):
        inner = value.items()
    elif isinstance(value, list):
        inner = enumerate(value)
    for step, below in inner:
        yield (*at, step)
        yield from places(below, (*at, step))


@pytest.mark.parametrize("path", EXPECTED, ids=str)
def test_finds_the_line(path: Path) -> None:
    assert lines_of(TRICKY)[path] == EXPECTED[path]


def test_windows_line_ends_count_once() -> None:
    assert lines_of(TRICKY.replace("\n", "\r\n")) == lines_of(TRICKY)


DEMOS = [path.read_text(encoding="utf-8") for kind in ("press", "die") for path in demo_cases(kind).values()]


@pytest.mark.parametrize("text", [TRICKY, *DEMOS, template("press"), template("die")])
def test_every_path_of_a_document_has_a_line(text: str) -> None:
    lines, written = lines_of(text), text.split("\n")
    found = list(places(tomllib.loads(text)))
    assert set(found) == set(lines)
    for path in found:
        key = path[-1]
        if isinstance(key, str) and key != "escaped":
            assert key in written[lines[path] - 1]
