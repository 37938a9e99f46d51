"""How a run of the command line ends: its exit codes, lost output, a request to stop, a program that gave up."""

from __future__ import annotations

import errno
import io
import logging
import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any, NoReturn

import click

from deflect.faults import GAVE_UP, given_up

if TYPE_CHECKING:
    from rich.console import Console

RAN, STRICT, FAILED, REFUSED = 0, 1, 1, 2
TERMINATED = 128 + signal.SIGTERM
_LOG = logging.getLogger(__name__)


class Group(click.Group):
    """Commands whose output may be full, closed or short of characters, and which may be told to stop."""

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Read the words and run; help and version, too, may meet a full output."""
        try:
            return super().main(*args, **kwargs)
        except OSError as error:
            _output_lost(error)

    def invoke(self, ctx: click.Context) -> object:
        """Run the command; whatever becomes of the output, no traceback is shown."""
        if sys.stdout is None:
            click.echo("There is nowhere to write to: standard output is closed", err=True)
            sys.exit(REFUSED)
        for stream in (sys.stdout, sys.stderr):
            if isinstance(stream, io.TextIOWrapper):
                stream.reconfigure(errors="replace")
        with _stoppable():
            try:
                result = super().invoke(ctx)
                sys.stdout.flush()
            except SystemExit:
                _flush_last()
                raise
            except OSError as error:
                _output_lost(error)
            except (click.exceptions.Exit, click.Abort):
                raise
            except GAVE_UP as fault:
                _LOG.debug("the program gave up", exc_info=fault)
                click.echo(str(given_up(fault)), err=True)
                sys.exit(REFUSED)
        return result


@contextmanager
def _stoppable() -> Iterator[None]:
    """Let a request to end run as an ordinary exit, so that nothing is left half written."""

    def leave(*_: object) -> NoReturn:
        raise SystemExit(TERMINATED)

    try:
        before = signal.signal(signal.SIGTERM, leave)
    except ValueError:  # not in the main thread: nobody to tell
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _flush_last() -> None:
    """Write out what is left; where that fails, say so and leave with the code for it."""
    try:
        sys.stdout.flush()
    except OSError as error:
        _output_lost(error)


def _output_lost(error: OSError) -> NoReturn:
    """End after the output could not be written: quietly where the reader has gone, in words otherwise."""
    if error.errno not in (errno.EPIPE, errno.EINVAL) and not isinstance(error, BrokenPipeError):
        with suppress(OSError):
            click.echo(f"The output cannot be written: {_plain(error)}; nothing on it can be relied on", err=True)
    _discard_output()
    sys.exit(REFUSED)


def _reader_gone() -> NoReturn:
    raise BrokenPipeError(errno.EPIPE, os.strerror(errno.EPIPE))


def _plain(error: OSError) -> str:
    return "the disk is full" if error.errno == errno.ENOSPC else (error.strerror or "no reason given").lower()


def _discard_output() -> None:
    """Send what is still in the buffer nowhere: Python would complain of it at its end."""
    with suppress(OSError, ValueError, io.UnsupportedOperation):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def console() -> Console:
    """A console for standard output; its own way with a reader that has gone means something else here."""
    from rich.console import Console

    made = Console()
    made.on_broken_pipe = _reader_gone  # type: ignore[method-assign]
    return made
