"""Rows asked for, exported, shown."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from deflect.faults import OutputRefused
from deflect.findings import Warned
from deflect.report.study_page import HEADS, SIGNS, page
from deflect.sources import PRACTICE
from deflect.study.export import write_csv, write_parquet
from deflect.study.journal import Journal
from deflect.study.rows import COLUMNS, NUMBERS, Row
from deflect.study.where import FilterRefused, clause_of

ROWS = [
    Row("a", "p", "screening", "open", gap_mm=0.04, creep_bound_um=90.0, may_slide=0),
    Row("b", "p", "screening", "clear", gap_mm=0.01, press_name='</script><b>"'),
    Row("c", "p", "screening", "refused", message="c.toml, line 3: what is it, then"),
]
CAUTION = Warned("crane", "Nobody below", ("Nobody stands below.",), (), "Ask.", PRACTICE)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with closing(Journal(tmp_path / "j.sqlite")) as opened:
        opened.commit([(row, "x") for row in ROWS])
        yield opened


@pytest.mark.parametrize(
    ("filters", "dies"),
    [
        ((), "abc"),
        (("gap_mm > 0.02",), "a"),
        (("gap_mm<=0.04", "verdict = clear"), "b"),
        (("verdict != refused",), "ab"),
        (("message ~ LINE 3",), "c"),
        (("verdict = x' OR '1'='1",), ""),
    ],
)
def test_filters(journal: Journal, filters: tuple[str, ...], dies: str) -> None:
    assert "".join(row.die for row in journal.rows(*clause_of(filters))) == dies


@pytest.mark.parametrize("filter_", ["gap > 1", "gap_mm > wide", "verdict < fit", "gap_mm", "1; DROP TABLE rows"])
def test_filters_that_cannot_be_read_are_refused_with_what_is_allowed(filter_: str) -> None:
    with pytest.raises(FilterRefused, match="allowed: COLUMN SIGN VALUE"):
        clause_of([filter_])


def test_a_full_row_stands_for_its_screening(journal: Journal) -> None:
    journal.commit([(Row("a", "p", "full", "fit", creep_um=1.0), "y")])
    assert [row.stage for row in journal.rows()] == ["full", "screening", "screening"]
    assert len(list(journal.rows(latest=False))) == 4


def test_csv_holds_what_the_journal_holds(journal: Journal, tmp_path: Path) -> None:
    assert write_csv(journal.rows(), tmp_path / "rows.csv") == 3
    with (tmp_path / "rows.csv").open(newline="") as file:
        read = list(csv.DictReader(file))
    assert tuple(read[0]) == COLUMNS
    assert (read[0]["gap_mm"], read[1]["gap_mm"], read[2]["gap_mm"]) == ("0.04", "0.01", "")
    assert read[2]["message"] == ROWS[2].message


def test_parquet_holds_what_the_journal_holds(journal: Journal, tmp_path: Path) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    assert write_parquet(journal.rows(), tmp_path / "rows.parquet") == 3
    read = parquet.read_table(tmp_path / "rows.parquet").to_pylist()
    assert [(row["die"], row["gap_mm"]) for row in read] == [("a", 0.04), ("b", 0.01), ("c", None)]


def test_a_foreign_file_is_no_journal(tmp_path: Path) -> None:
    import sqlite3

    with sqlite3.connect(tmp_path / "other.sqlite") as base:
        base.execute("CREATE TABLE mine (x)")
    base.close()
    with pytest.raises(OutputRefused, match="no journal"):
        Journal(tmp_path / "other.sqlite")
    (tmp_path / "text.sqlite").write_text("this is a text of some length, and no journal at all")
    with pytest.raises(OutputRefused):
        Journal(tmp_path / "text.sqlite")


def test_the_page_is_one_file_and_never_calls_a_bound_a_creep() -> None:
    told = page(ROWS, (CAUTION,))
    assert not re.search(r"(src|href)=|https?:|@import|fetch\(", told)
    assert "</script><b>" not in told
    found = re.search(r'id="data">(.*?)</script>', told, re.DOTALL)
    assert found is not None
    data = json.loads(found[1])
    assert len(data["rows"]) == 3
    assert "Nobody below" in told
    assert data["heads"]["creep_bound_um"].startswith("Bound of")
    assert set(HEADS) <= set(COLUMNS)
    assert {row.verdict for row in ROWS} <= set(SIGNS)
    assert "creep_bound_um" in NUMBERS
