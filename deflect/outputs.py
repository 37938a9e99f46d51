"""Files on disk: whole or not at all, one run at a time, and in plain words why not.

A run that is killed leaves an earlier file as it was, or none; what it had set aside goes when the next run writes
there.
"""

from __future__ import annotations

import errno
import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from types import MappingProxyType

from deflect.faults import LONGEST_PATH, OutputRefused, printable

try:
    import fcntl
except ImportError:  # no such locks on this system: what killed runs leave stays, and runs do not wait
    fcntl = None  # type: ignore[assignment]

PATIENCE = 60.0
"""Seconds that a run waits for another one that is putting its files in place; that takes a few milliseconds."""
_LOOK = 0.05
"""Seconds between two looks whether it is done."""
_ASIDE = ".deflect-aside-"
_HELD_BY_ANOTHER = (errno.EACCES, errno.EAGAIN)

_WORDS = MappingProxyType({
    errno.ENOSPC: "the disk is full: make room, or choose a folder on another disk",
    errno.EDQUOT: "your share of the disk is used up: make room, or choose another folder",
    errno.EFBIG: "the file is larger than may be written there: choose a folder on another disk",
    errno.EROFS: "the disk is read-only: choose a folder on another disk",
    errno.EACCES: "writing is not allowed there: choose a folder of your own, or have the rights changed",
    errno.EPERM: "writing is not allowed there: choose a folder of your own, or have the rights changed",
    errno.EIO: "the disk does not answer as it should: choose a folder on another disk",
    errno.ENAMETOOLONG: "the name is too long: choose a shorter one",
    errno.ENOTDIR: "a part of the name is a file, not a folder: choose another folder",
    errno.EISDIR: "a folder has the name of the file: move it away, or choose another folder",
})  # fmt: skip


def why_not(error: OSError | ValueError) -> str:
    """Why something cannot be written, and what to do, in plain words."""
    words = _WORDS.get(error.errno or 0) if isinstance(error, OSError) else None
    return words or printable((isinstance(error, OSError) and error.strerror) or str(error))


def shown(place: Path) -> str:
    """A path on one line and harmless."""
    return printable(str(place), LONGEST_PATH)


def put(target: Path, content: str | bytes) -> None:
    """Write a file, over an earlier one.  Raises OutputRefused."""
    try:
        with aside(target.parent) as place:
            _write(place / "file", content)
            os.replace(place / "file", target)
    except (OSError, ValueError) as error:
        raise OutputRefused(f"{shown(target)} cannot be written: {why_not(error)}") from None


def put_new(target: Path, text: str) -> None:
    """Write a file that is not there yet.  Raises OutputRefused, also where it is there."""
    try:
        _refuse_there(target)
        with aside(target.parent) as place:
            _write(place / "file", text)
            _link(place / "file", target)
    except FileExistsError:
        raise OutputRefused(f"{shown(target)} is there already: nothing written; choose another name") from None
    except (OSError, ValueError) as error:
        raise OutputRefused(f"{shown(target)} cannot be written: {why_not(error)}") from None


def make_folder(folder: Path) -> None:
    """Make a folder where it is missing.  Raises OSError."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(folder)) from None


@contextmanager
def aside(folder: Path) -> Iterator[Path]:
    """A folder within ``folder`` (made where it is missing) for what is not whole yet; at the end it goes.

    What killed runs left behind in ``folder`` goes first.  Where it comes to nothing, a folder that was made goes, too.
    Raises OSError.
    """
    with ExitStack() as stack:
        stack.enter_context(_made(folder))
        _sweep(folder)
        place: Path | None = None
        # Another run may sweep a folder away before it is held.
        while place is None or not place.is_dir():
            made = tempfile.TemporaryDirectory(prefix=_ASIDE, dir=folder, ignore_cleanup_errors=True)
            place = Path(stack.enter_context(made))
            with suppress(FileNotFoundError):
                stack.enter_context(_held(place, PATIENCE))
        yield place


@contextmanager
def _made(folder: Path) -> Iterator[None]:
    """Make a folder; where what follows fails, those that were missing go again, unless something lies in them."""
    missing = [part for part in (folder, *folder.parents) if not part.exists()]
    try:
        make_folder(folder)
        yield
    except BaseException:
        with suppress(OSError):
            for part in missing:
                part.rmdir()
        raise


@contextmanager
def alone(folder: Path, patience: float, busy: str) -> Iterator[None]:
    """Hold a folder, which is there, for this run; it is let go at the end, also by a kill.

    patience: s to wait for whoever holds it; then OutputRefused with the words ``busy``.  Raises OSError.
    """
    with _held(folder, patience) as ours:
        if not ours:
            raise OutputRefused(busy)
        yield


@contextmanager
def _held(folder: Path, patience: float) -> Iterator[bool]:
    """Whether a folder could be held; where the system or the disk knows no such locks it counts as held."""
    if fcntl is None:
        yield True
        return
    number = os.open(folder, os.O_RDONLY)
    try:
        yield _taken(number, patience) is not False
    finally:
        os.close(number)


def _taken(number: int, patience: float) -> bool | None:
    """Whether the lock of an open folder is ours; None: there are none on this disk."""
    begun = time.monotonic()
    while True:
        try:
            fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            if error.errno not in _HELD_BY_ANOTHER:
                return None
            if time.monotonic() - begun >= patience:
                return False
            time.sleep(_LOOK)
        else:
            return True


def _sweep(folder: Path) -> None:
    """Take away what killed runs had set aside: folders of ours that nobody holds."""
    if fcntl is None:
        return
    for left in folder.glob(f"{_ASIDE}*"):
        with suppress(OSError):
            number = os.open(left, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
            try:
                if _taken(number, 0.0):
                    shutil.rmtree(left, ignore_errors=True)
            finally:
                os.close(number)


def _write(file: Path, content: str | bytes) -> None:
    if isinstance(content, bytes):
        file.write_bytes(content)
    else:
        file.write_text(content, encoding="utf-8", newline="\n")


def _refuse_there(target: Path) -> None:
    if target.exists() or target.is_symlink():
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(target))


def _link(whole: Path, target: Path) -> None:
    """Give a whole file its name, unless another run has taken the name meanwhile."""
    try:
        os.link(whole, target)
    except FileExistsError:
        raise
    except OSError:  # this disk knows no second name for a file
        _refuse_there(target)
        os.rename(whole, target)
