"""Processes of this machine."""

from __future__ import annotations

import multiprocessing
import os
import threading
import time
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import AbstractContextManager
from types import TracebackType

# How often a worker looks whether who started it is still there, s.
_LOOK = 0.5
# What workers start with: one thread of linear algebra each, since the matrices are small; and memory that is freed
# is kept for the next pair: handing it back and asking for it anew is a third of a screening row's time (ours).
_ENVIRONMENT = {
    "OPENBLAS_NUM_THREADS": "1",
    "MALLOC_MMAP_THRESHOLD_": str(64 * 2**20),
    "MALLOC_TRIM_THRESHOLD_": str(256 * 2**20),
}


class LocalWorkers(AbstractContextManager["LocalWorkers"]):
    """``count`` processes, each by itself; whoever is killed is replaced."""

    shares_cache = True

    def __init__(self, count: int) -> None:
        self.count = max(count, 1)
        self._executor: ProcessPoolExecutor | None = None

    def executor(self) -> Executor:
        """The pool; started when it is first asked for."""
        if self._executor is None:
            for name, value in _ENVIRONMENT.items():
                os.environ.setdefault(name, value)
            self._executor = ProcessPoolExecutor(
                self.count, multiprocessing.get_context("spawn"), initializer=_watch, initargs=(os.getpid(),)
            )
        return self._executor

    def replace(self) -> None:
        """Let go of what is left of a pool whose workers died."""
        if self._executor is not None:
            self._executor.shutdown(wait=True, cancel_futures=True)
            self._executor = None

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._executor is not None:
            self._executor.shutdown(wait=kind is None, cancel_futures=True)


def _watch(parent: int) -> None:
    """End this process when the one that started it is gone: killed, it cannot say so."""

    def look() -> None:
        while os.getppid() == parent:
            time.sleep(_LOOK)
        os._exit(1)

    threading.Thread(target=look, daemon=True).start()
