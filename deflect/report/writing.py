"""Report files on disk: all of them or none, and never over somebody else's."""

from __future__ import annotations

import errno
import json
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from types import MappingProxyType

from deflect.faults import OutputRefused
from deflect.findings import Advice
from deflect.outputs import PATIENCE, alone, aside, shown, why_not
from deflect.report import document, fields
from deflect.report.data import WRITTEN_BY, as_json
from deflect.report.paper import printing

RESULT, PAGE, VERIFICATION = "result.json", "report.html", "verification.html"
CALIBRATION, COMPARISON, STUDY = "calibration.html", "comparison.html", "study.html"
_WRITERS: Mapping[str, Callable[[Advice, Path], None]] = MappingProxyType({
    PAGE: lambda advice, path: _write_text(document.document(advice), path),
    "table.vtu": lambda advice, path: fields.write_table(advice.assessment.analysis, path),
    "die.vtu": lambda advice, path: fields.write_die(advice.assessment.analysis, path),
    RESULT: lambda advice, path: _write_text(result_text(advice), path),
})  # fmt: skip
FILES = tuple(_WRITERS)
"""Names of the files of a report, as they are put in place: the page tells whose they are, the result that all are."""

_BUSY = "another run is putting its report there and does not come to an end: choose another folder"


def require_place(folder: str | Path) -> None:
    """Raises OutputRefused where no report can be written into ``folder``, before anything is computed."""
    place = Path(folder)
    _require(place, FILES, lambda: _is_ours(place))


def require_place_for(page: str, folder: str | Path) -> None:
    """The same for a page of ours (``COMPARISON``, ``CALIBRATION`` …)."""
    place = Path(folder)
    _require(place, (page,), lambda: _is_page(place / page))


def _require(place: Path, files: Iterable[str], is_ours: Callable[[], bool]) -> None:
    with _told(place):
        made = next((part for part in (place, *place.parents) if part.exists()), place)
        with aside(place):
            _refuse_foreign(place, files, is_ours)
            _refuse_folders(place, files)
        while place != made and not any(place.iterdir()):  # it is made again when there is something to put there
            place.rmdir()
            place = place.parent


def write_report(advice: Advice, folder: str | Path, papers: bool = False) -> tuple[Path, ...]:
    """Write all files of a report into ``folder``, made where it is missing. Returns their paths.

    papers: as PDF, too: the report, and the plans for the tool room.

    Everything is written aside first and then put in place, so that no half file is ever seen.
    Raises OutputRefused, which says what to do.
    """
    place = Path(folder)
    writers = {file: partial(write, advice) for file, write in _WRITERS.items()}
    if papers:
        printing.require()
        # The papers go in place before the result, which tells that all is there.
        printed = {file: partial(_write_bytes, paper) for file, paper in printing.papers(advice).items()}
        writers = printed | writers
    return _put(place, writers, lambda: _is_ours(place))


def write_verification(page: str, folder: str | Path) -> Path:
    """Write the page of published checks into ``folder``, as ``write_report`` does."""
    return write_page(VERIFICATION, page, folder)


def write_page(file: str, page: str, folder: str | Path) -> Path:
    """Write one page of ours into ``folder``, as ``write_report`` does."""
    place = Path(folder)
    target = place / file
    writers = {file: partial(_write_text, page)}
    return _put(place, writers, lambda: _is_page(target))[0]


def write_comparison(page: str, papers: Mapping[str, Callable[[], bytes]], folder: str | Path) -> tuple[Path, ...]:
    """Write the page of a comparison, and papers that are printed as they are written, as ``write_report`` does."""
    place = Path(folder)
    writers: dict[str, Callable[[Path], None]] = {file: partial(_write_bytes, paper) for file, paper in papers.items()}
    writers[COMPARISON] = partial(_write_text, page)
    return _put(place, writers, lambda: _is_page(place / COMPARISON))


def _is_page(file: Path) -> bool:
    return file.is_file() and document.GENERATOR in _start(file)


def _put(place: Path, writers: Mapping[str, Callable[[Path], None]], is_ours: Callable[[], bool]) -> tuple[Path, ...]:
    *_, last = writers
    with _told(place), aside(place) as ready:
        _refuse_foreign(place, writers, is_ours)
        for file, write in writers.items():
            write(ready / file)
        # One run at a time from here on: a report is of one run as a whole.
        with alone(place, PATIENCE, f"The report cannot be written to {shown(place)}: {_BUSY}"):
            _refuse_folders(place, writers)
            if len(writers) > 1:  # cut short from here on, the folder has no result that belongs to another page
                (place / last).unlink(missing_ok=True)
            for file in writers:
                os.replace(ready / file, place / file)
    return tuple(place / file for file in writers)


@contextmanager
def _told(place: Path) -> Iterator[None]:
    """Whatever the disk says becomes a refusal in words."""
    try:
        if place.is_file():
            raise OutputRefused(f"{shown(place)} is a file, not a folder: name a folder for the report")
        yield
    except (OSError, ValueError) as error:
        raise OutputRefused(f"The report cannot be written to {shown(place)}: {why_not(error)}") from None


def result_text(advice: Advice) -> str:
    """The JSON output as text."""
    return json.dumps(as_json(advice), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _write_text(text: str, path: Path) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")


def _write_bytes(content: Callable[[], bytes], path: Path) -> None:
    path.write_bytes(content())


def _refuse_foreign(place: Path, files: Iterable[str], is_ours: Callable[[], bool]) -> None:
    """Refuse a folder that holds a file of a report's name which no report of ours left there."""
    there = [file for file in files if (place / file).exists()]
    if there and not is_ours():
        raise OutputRefused(
            f"{shown(place)} already holds {there[0]}, which is not from an earlier report: "
            "move it away, or choose another folder"
        )


def _refuse_folders(place: Path, files: Iterable[str]) -> None:
    """Refuse a folder that stands where a file is to be put: before the first file is put in place."""
    for file in files:
        if (place / file).is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), file)


def _is_ours(place: Path) -> bool:
    """Whether an earlier report of ours is there; where one was cut short, its page is there and no result."""
    result, page = place / RESULT, place / PAGE
    if result.exists():
        return result.is_file() and f'"written_by": "{WRITTEN_BY}"' in _start(result)
    return _is_page(page)


def _start(file: Path) -> str:
    with file.open(encoding="utf-8", errors="replace") as opened:
        return opened.read(400)
