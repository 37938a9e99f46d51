"""The same study on a local cluster of two workers; runs where dask.distributed is there."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from workers_here import HereWorkers

from deflect.study.cluster import ClusterMissing, ClusterWorkers
from deflect.study.journal import Journal
from deflect.study.running import Settings, run
from deflect.study.shop import read_shop

distributed = pytest.importorskip("distributed")
pytestmark = pytest.mark.filterwarnings("default")  # other people's


def test_a_cluster_of_two_workers_gives_the_same_rows(
    shop_folder: Path, tmp_path: Path, workers: HereWorkers, cache: str, opened: Callable[[Path], Journal]
) -> None:
    shop = read_shop(shop_folder / "dies", shop_folder / "presses")
    here, there = opened(tmp_path / "here.sqlite"), opened(tmp_path / "there.sqlite")
    run(shop, here, workers, Settings(screening_only=True, cache=cache))
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        ClusterWorkers(cluster.scheduler_address) as two,
    ):
        assert two.count == 2
        run(shop, there, two, Settings(screening_only=True, cache=str(tmp_path / "bodies")))
    assert [row.compared for row in here.rows()] == [row.compared for row in there.rows()]


def test_no_scheduler_is_told_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("deflect.study.cluster._ANSWER", 0.2)
    with pytest.raises(ClusterMissing, match="no scheduler answers"):
        ClusterWorkers("tcp://127.0.0.1:9")
