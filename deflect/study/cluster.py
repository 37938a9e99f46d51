"""A dask cluster that is there already; needs the extra "cluster"."""

from __future__ import annotations

from concurrent.futures import Executor
from contextlib import AbstractContextManager
from types import TracebackType
from typing import Any

from deflect.faults import DeflectError

# How long the scheduler may take to answer, s.
_ANSWER = 20


class ClusterMissing(DeflectError):
    """There is no cluster, or no library to reach it."""


class ClusterWorkers(AbstractContextManager["ClusterWorkers"]):
    """The workers of the scheduler at an address; a task whose worker dies is run by another."""

    shares_cache = False

    def __init__(self, scheduler: str) -> None:
        try:
            from distributed import Client
        except ImportError:
            raise ClusterMissing(
                "a cluster needs the library dask.distributed: pip install 'deflect[cluster]'"
            ) from None
        try:
            self._client: Any = Client(scheduler, timeout=_ANSWER, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as error:
            raise ClusterMissing(f"no scheduler answers at {scheduler}: {error}") from None
        threads = self._client.nthreads()
        if not threads:
            self._client.close()
            raise ClusterMissing(f"the scheduler at {scheduler} has no workers yet: start some")
        self.count = sum(threads.values())
        self._executor: Executor = self._client.get_executor(pure=False, retries=3)

    def executor(self) -> Executor:
        """The cluster as an executor."""
        return self._executor

    def replace(self) -> None:
        """Nothing to do: the scheduler does it."""

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._client.close()
