"""From what a person types to a case file: a file that exists, else the name of a demo case."""

from __future__ import annotations

from pathlib import Path

from deflect.casefile.fields import did_you_mean
from deflect.casefile.kinds import FOLDERS, CaseKind
from deflect.faults import CaseRefused, Fault, printable

LONGEST_SHOWN = 200
"""Characters of a name that are shown."""


def demo_folder() -> Path:
    """The folder of demo cases: in the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parents[1]
    packaged = package / "demo"
    return packaged if packaged.is_dir() else package.parent / "cases"


def demo_cases(kind: CaseKind) -> dict[str, Path]:
    """The demo cases of one kind, by name."""
    return {path.stem: path for path in sorted((demo_folder() / FOLDERS[kind]).glob("*.toml"))}


def resolve(typed: str | Path, wanted: tuple[CaseKind, ...], beside: Path | None = None) -> Path:
    """The file that is meant. Relative paths start from the folder ``beside``, if it is given.

    A demo case of another kind than wanted is found too: reading it says what it is.
    """
    name = str(typed)
    path = Path(name) if beside is None else beside / name
    try:
        is_file, is_there = path.is_file(), path.exists()
    except (OSError, ValueError):  # too long, or with characters that no path has
        is_file = is_there = False
    if is_file:
        return path
    known = {kind: demo_cases(kind) for kind in FOLDERS}
    for cases in known.values():
        if name in cases:
            return cases[name]
    if is_there:
        return path  # a folder or a device: reading it says so
    listed = [case for kind in wanted for case in known[kind]]
    remedy = did_you_mean(Path(name).stem, listed) or "check the name and the folder"
    problem = "there is no such file, and no demo case of this name"
    allowed = f"a file, or one of {', '.join(listed)}"
    raise CaseRefused([Fault(printable(name, LONGEST_SHOWN), None, "", "", problem, allowed, remedy)])
