"""Case files spoilt at random: bytes changed anywhere, or figures and lines changed where they stand.

Every mutant follows from a seed and its number, so that one that goes wrong can be made again by these two.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from dataclasses import dataclass

from deflect.casefile import demo_cases, template
from deflect.casefile.names import demo_folder

Hand = Callable[[random.Random, bytes], bytes]
"""One way to spoil a file."""

TOKENS = (
    b'"', b"'", b'"""', b"[", b"]", b"[[", b"]]", b"{", b"}", b"=", b".", b",", b"#", b"\n", b"\r", b"\r\n", b"\\",
    b"\\u0000", b"\\ud800", b"\\U00110000", b"\0", b"\x1b[31m", b"\x7f", b"\xff", b"\xfe\xff", b"\xef\xbb\xbf",
    b"\xc0\x80", b"\xed\xa0\x80", "\u202e".encode(), "\u2028".encode(), "\u0663".encode(), "\u00b2".encode(),
    b"nan", b"-inf", b"1e400", b"1e-400", b"0x7f", b"0o7", b"1_000", b"-0.0", b"9" * 400, b"true", b"1979-05-27",
    b"07:32:00", b" to ", b" mm", b" MN", b" N/mm3", b" %", b" t", b"<script>", b"]]>", b"#eval(1)", b"{{7*7}}",
    b"../../etc/passwd", b"[" * 60, b"a." * 60,
)  # fmt: skip
"""Pieces that a reader may trip over."""
FIGURES = ("0", "-1", "1e-9", "1e9", "1e308", "1e-320", "0.5", "3", "1000", "1e3", "12345", ".5", "5.", "0,2", "-0")
FACTORS = (0.0, -1.0, 1e-6, 1e-3, 0.1, 0.3, 0.5, 0.8, 0.95, 1.05, 1.3, 2.0, 3.0, 10.0, 1e3, 1e6)
UNITS = ("mm", "m", "µm", "N", "kN", "MN", "t", "kg", "%", "degree", "MPa", "GPa", "N/mm3", "K", "h", "")
_FIGURE = re.compile(rb"(?<![A-Za-z0-9_.\-])-?[0-9]+(?:\.[0-9]+)?(?![0-9.])")
_QUANTITY = re.compile(rb'"(?P<number>-?[0-9.]+) (?P<unit>[^"0-9 ]+)"')


@dataclass(frozen=True)
class Original:
    """A file that is right: its kind, the name it has among its kind, its bytes."""

    kind: str
    name: str
    content: bytes


def originals() -> tuple[Original, ...]:
    """Every demo case, every template, and the demo's table of readings."""
    found = [
        Original(kind, name, path.read_bytes())
        for kind in ("die", "press", "readings")
        for name, path in demo_cases(kind).items()  # type: ignore[arg-type]
    ]
    found += [
        Original(kind, f"template of a {kind}", template(kind).encode())  # type: ignore[arg-type]
        for kind in ("die", "press", "readings")
    ]
    tables = sorted((demo_folder() / "readings").glob("*.csv"))
    return (*found, *(Original("table", path.stem, path.read_bytes()) for path in tables))


def mutant(original: Original, others: tuple[Original, ...], seed: int, number: int) -> bytes:
    """The file spoilt by one to four hands."""
    chance = random.Random(f"{seed} {number}")
    content = original.content
    hands = BYTES if chance.random() < 0.5 else LINES
    for _ in range(chance.choice((1, 1, 1, 2, 3, 4))):
        content = chance.choice(hands)(chance, content)
    if chance.random() < 0.03:
        content = _spliced(chance, content, chance.choice(others).content)
    return content


def _place(chance: random.Random, content: bytes) -> int:
    return chance.randrange(len(content) + 1)


def _flip(chance: random.Random, content: bytes) -> bytes:
    if not content:
        return content
    at = chance.randrange(len(content))
    return content[:at] + bytes([content[at] ^ (1 << chance.randrange(8))]) + content[at + 1 :]


def _overwrite(chance: random.Random, content: bytes) -> bytes:
    at = _place(chance, content)
    return content[:at] + bytes([chance.randrange(256)]) + content[at + 1 :]


def _insert(chance: random.Random, content: bytes) -> bytes:
    at = _place(chance, content)
    return content[:at] + chance.choice(TOKENS) + content[at:]


def _replace(chance: random.Random, content: bytes) -> bytes:
    at = _place(chance, content)
    return content[:at] + chance.choice(TOKENS) + content[at + chance.randrange(1, 8) :]


def _cut(chance: random.Random, content: bytes) -> bytes:
    at = _place(chance, content)
    return content[:at] + content[at + chance.choice((1, 2, 5, 20, 200)) :]


def _double(chance: random.Random, content: bytes) -> bytes:
    at = _place(chance, content)
    piece = content[at : at + chance.choice((1, 5, 40, 400))]
    return content[:at] + piece * chance.choice((2, 3, 20)) + content[at + len(piece) :]


def _end_early(chance: random.Random, content: bytes) -> bytes:
    return content[: _place(chance, content)]


def _spliced(chance: random.Random, content: bytes, other: bytes) -> bytes:
    return content[: _place(chance, content)] + other[_place(chance, other) :]


def _found(chance: random.Random, pattern: re.Pattern[bytes], content: bytes) -> re.Match[bytes] | None:
    places = list(pattern.finditer(content))
    return chance.choice(places) if places else None


def _other_figure(chance: random.Random, content: bytes) -> bytes:
    found = _found(chance, _FIGURE, content)
    if found is None:
        return content
    return content[: found.start()] + chance.choice(FIGURES).encode() + content[found.end() :]


def _scaled(chance: random.Random, content: bytes) -> bytes:
    found = _found(chance, _FIGURE, content)
    if found is None:
        return content
    figure = f"{float(found.group()) * chance.choice(FACTORS):.6g}"
    return content[: found.start()] + figure.encode() + content[found.end() :]


def _all_scaled(chance: random.Random, content: bytes) -> bytes:
    """Every quantity of one unit by one factor: as if the whole file had been written in another size."""
    unit = _found(chance, _QUANTITY, content)
    if unit is None:
        return content
    factor = chance.choice((0.1, 0.5, 0.8, 1.2, 2.0, 3.0))

    def scale(found: re.Match[bytes]) -> bytes:
        try:
            figure = f"{float(found['number']) * factor:.6g}"
        except ValueError:
            return found.group()
        return b'"' + figure.encode() + b" " + found["unit"] + b'"' if found["unit"] == unit["unit"] else found.group()

    return _QUANTITY.sub(scale, content)


def _other_unit(chance: random.Random, content: bytes) -> bytes:
    found = _found(chance, _QUANTITY, content)
    if found is None:
        return content
    return content[: found.start("unit")] + chance.choice(UNITS).encode() + content[found.end("unit") :]


def _line_gone(chance: random.Random, content: bytes) -> bytes:
    lines = content.split(b"\n")
    del lines[chance.randrange(len(lines))]
    return b"\n".join(lines)


def _line_twice(chance: random.Random, content: bytes) -> bytes:
    lines = content.split(b"\n")
    at = chance.randrange(len(lines))
    return b"\n".join([*lines[: at + 1], *lines[at:]])


def _lines_change_places(chance: random.Random, content: bytes) -> bytes:
    lines = content.split(b"\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return b"\n".join(lines)


def _remark_becomes_entry(chance: random.Random, content: bytes) -> bytes:
    lines = content.split(b"\n")
    remarks = [n for n, line in enumerate(lines) if line.startswith(b"# ") and (b" = " in line or b"[" in line)]
    if not remarks:
        return content
    at = chance.choice(remarks)
    lines[at] = lines[at].removeprefix(b"# ")
    return b"\n".join(lines)


def _values_change_places(chance: random.Random, content: bytes) -> bytes:
    lines = content.split(b"\n")
    entries = [n for n, line in enumerate(lines) if b" = " in line]
    if len(entries) < 2:
        return content
    one, other = chance.sample(entries, 2)
    (key, _, value), (there, _, its) = lines[one].partition(b" = "), lines[other].partition(b" = ")
    lines[one], lines[other] = key + b" = " + its, there + b" = " + value
    return b"\n".join(lines)


BYTES: tuple[Hand, ...] = (_flip, _overwrite, _insert, _replace, _cut, _double, _end_early)
LINES: tuple[Hand, ...] = (
    _other_figure, _scaled, _scaled, _scaled, _all_scaled, _other_unit, _line_gone, _line_twice, _lines_change_places,
    _remark_becomes_entry, _values_change_places,
)  # fmt: skip
