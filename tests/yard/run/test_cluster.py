"""The same parts on a cluster: a worker dies, and nobody can tell from the output."""

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from mendbook.triage import Shop
from mendbook.yard.run import Progress, RunError, run_review
from mendbook.yard.run.job import ReviewJob, digests_of
from mendbook.yard.run.options import Options
from mendbook.yard.run.running import run_job
from tests.yard.run.test_job import DAY, SmallYard
from tests.yard.run.yards import Yard, judge, judge_slowly, options, written

distributed = pytest.importorskip("distributed")
pytestmark = pytest.mark.filterwarnings("default")  # its workers warn of much that is not ours


@contextmanager
def cluster(workers: int) -> Iterator[Any]:
    with distributed.LocalCluster(
        n_workers=workers, threads_per_worker=1, processes=True, dashboard_address="127.0.0.1:0", host="127.0.0.1",
        silence_logs=50,
    ) as made:  # fmt: skip
        yield made


def test_a_worker_dies_in_the_middle(tmp_path: Path, shop: Shop) -> None:
    for name in "abcd":
        (tmp_path / name).mkdir()
    output = {name: tmp_path / name / "out.parquet" for name in "abcd"}
    real = Options(shop=shop, on=DAY, tyres_a_part=2, workers=1)
    run_job(Yard(60), judge, output["a"], options())
    run_review(SmallYard(), output["c"], real)

    with cluster(2) as made:
        killed: list[int] = []

        def kill_one(_: Progress) -> None:
            if not killed:
                killed.append(made.workers[0].pid)
                os.kill(killed[0], signal.SIGKILL)

        run_job(Yard(60), judge_slowly, output["b"], options(cluster=made.scheduler_address), kill_one)
        assert killed
        run_review(SmallYard(), output["d"], replace(real, cluster=made.scheduler_address))
        other = replace(ReviewJob(digests_of(shop), b"", DAY, None), mendbook="0.0.1")
        with pytest.raises(RunError, match=r"has mendbook .*, and this review runs by 0\.0\.1"):
            run_job(SmallYard(), other, tmp_path / "e.parquet", options(cluster=made.scheduler_address))

    assert written(output["a"]) == written(output["b"])
    assert written(output["c"]) == written(output["d"])


def test_no_cluster_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("mendbook.yard.run.cluster._LONGEST", 1)
    with pytest.raises(RunError, match="no cluster answers there"):
        run_job(Yard(60), judge, tmp_path / "out.parquet", options(cluster="tcp://127.0.0.1:9"))


def test_a_cluster_without_workers(tmp_path: Path) -> None:
    with cluster(0) as made, pytest.raises(RunError, match="this cluster has no workers"):
        run_job(Yard(60), judge, tmp_path / "out.parquet", options(cluster=made.scheduler_address))
