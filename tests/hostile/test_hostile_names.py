"""Names that try to be markup, formulas, templates, paths or control signs: harmless in every output."""

from __future__ import annotations

import csv
import io
import json
import os
import re
import shutil
import sqlite3
import xml.etree.ElementTree as Tree
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from rich.console import Console

from deflect.advice import advise_on, assess
from deflect.advice.sensitivity import Moved, Sensitivity
from deflect.casefile import CaseKind, calibrated_text, demo_cases, read_case, read_die, read_measured
from deflect.cli import main
from deflect.faults import CaseRefused
from deflect.findings import Advice
from deflect.mechanics import footprint
from deflect.mechanics.calibration import calibrate
from deflect.mechanics.keeping import forget
from deflect.report import calibration, document, fields
from deflect.report.data import as_json
from deflect.report.explaining import explain
from deflect.report.paper import printing
from deflect.report.sensitivity_told import print_sensitivity, sensitivity_json
from deflect.report.study_page import page as study_page
from deflect.report.summary import print_summary
from deflect.study.export import write_csv
from deflect.study.journal import Journal
from deflect.study.rows import Row
from deflect.study.shop import read_shop

NAMES = (
    "<script>alert(1)</script>",
    "</script><img src=x onerror=alert(1)>",
    "]]><!-- & &lt;b&gt;",
    '#eval("1") #read("/etc/passwd") $x_2$ @label <label>',
    "{{ 7*7 }} {% raw %} ${7*7}",
    "[red]x[/red] [/] [link=file:///etc]y[/link] \\",
    "=cmd|' /C calc'!A0",
    "+1+1",
    "@SUM(1)",
    "-2+3",
    "../../etc/passwd",
    "'; DROP TABLE rows; --",
    "%s %n %x",
    "name" * 30,
)
"""What may stand in a case file."""
UNSEEN = (
    "\x1b[31mred",
    "bell\x07",
    "a\u202eb",
    "\u200fright",
    "\u2066x",
    "zero\u200bwidth",
    "\x9b31m",
    "del\x7f",
    "\ufeffx",
)  # fmt: skip
"""What may not: signs that are not seen, and that turn a line round or colour a terminal."""
FILES = (
    "\x1b[31mred",
    "a\u202eb",
    "<script>alert(1)<",
    "=cmd|'!A0",
    "[red]x[",
    "#eval(1)",
    "x\udcffy",
    "-x",
    "tab\tname",
)  # fmt: skip
"""What may be a file's name."""
ALL = "=1+1 <script>alert(1)</script> ]]> #eval(1) $x_2$ {{7*7}} [red]x[/] <img src=x onerror=a> ../../x %s '; -- \\"
CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff]")


class Tags(HTMLParser):
    """Tags, the words of handlers, and the text of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.handlers: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.handlers += [name for name, _ in attrs if name.startswith("on")]


def harmless_page(page: str, scripts: int = 0) -> None:
    """A page with no more scripts than its own, no handler, no picture from elsewhere, and no unseen sign."""
    tags = Tags(page)
    assert tags.tags.count("script") == scripts
    assert tags.handlers == []
    assert "img" not in tags.tags
    assert not CONTROL.search(page)


def renamed(kind: CaseKind, case: str, name: str, keys: str = "name|note") -> str:
    """A demo case's text with another name and note."""
    text = demo_cases(kind)[case].read_text(encoding="utf-8")
    return re.sub(rf'(?m)^({keys}) = ".*"$', lambda found: f"{found[1]} = {json.dumps(name)}", text)


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A die file and a press file whose names and notes are hostile, each as far as the reader lets it."""
    folder = tmp_path_factory.mktemp("files")
    (folder / "die.toml").write_text(renamed("die", "maple-restrike", ALL), "utf-8")
    (folder / "press.toml").write_text(renamed("press", "birch-12mn", ALL), "utf-8")
    return folder / "die.toml", folder / "press.toml"


@pytest.fixture(scope="module")
def advice(files: tuple[Path, Path]) -> Iterator[Advice]:
    """The case of those files, read as any other, on a coarse mesh and without remedies."""
    forget()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(footprint, "PATCH_SIZE", 3.0 * footprint.PATCH_SIZE)
        patch.setattr(footprint, "ELEMENT_SIZE", 3.0 * footprint.ELEMENT_SIZE)
        patch.setattr("deflect.advice.try_remedies", lambda *_: ())
        made = advise_on(assess(read_case(*files), 0, mesh_error=False))
        assert made.assessment.analysis.case.die.name == ALL
        yield made
    forget()


# ---- what is let in


@pytest.mark.parametrize("name", UNSEEN)
def test_signs_that_are_not_seen_are_refused_and_not_shown(tmp_path: Path, name: str) -> None:
    (tmp_path / "die.toml").write_text(renamed("die", "maple-restrike", name, "name"), "utf-8")
    with pytest.raises(CaseRefused) as refused:
        read_die(tmp_path / "die.toml")
    assert "control characters" in str(refused.value)
    assert not CONTROL.search(str(refused.value))


@pytest.mark.parametrize("name", NAMES)
def test_a_name_that_can_be_seen_is_read_as_it_stands(tmp_path: Path, name: str) -> None:
    (tmp_path / "die.toml").write_text(renamed("die", "maple-restrike", name, "name"), "utf-8")
    assert read_die(tmp_path / "die.toml").name == name.strip()


def test_a_press_of_bedding_in_leads_to_no_file_that_is_shown(tmp_path: Path) -> None:
    """A path may lead anywhere that its reader may go; of what is there, the name is told and no line of it."""
    (tmp_path / "secret").write_text("the secret words\n")
    text = demo_cases("die")["maple-restrike"].read_text(encoding="utf-8")
    (tmp_path / "die").mkdir()
    file = tmp_path / "die" / "die.toml"
    for named in ("../secret", "../../../../../../etc/passwd", "/dev/zero", "//x", "a\\u0000b", "~/x", "y" * 100):
        file.write_text(f'{text}\n[die.bedded]\npress = "{named}"\nforce = "1 MN"\n', "utf-8")
        with pytest.raises(CaseRefused) as refused:
            read_die(file)
        assert "secret words" not in str(refused.value)
        assert "root:" not in str(refused.value)


# ---- outputs of a check


def test_on_the_terminal(advice: Advice) -> None:
    target = io.StringIO()
    print_summary(advice, Console(file=target, width=200, force_terminal=True, color_system="standard"))
    plain = re.sub("\x1b\\[[0-9;]*m", "", target.getvalue())
    assert "<script>alert(1)</script>" in plain
    assert not CONTROL.search(plain)
    assert "\x1b]8" not in target.getvalue()  # no link out of a name


def test_in_the_page(advice: Advice) -> None:
    page = document.document(advice)
    harmless_page(page)
    assert "{{7*7}}" in page  # text, and no template


def test_in_the_papers(advice: Advice) -> None:
    pytest.importorskip("typst")
    assert printing.report(advice).startswith(b"%PDF-")


def test_in_the_fields(advice: Advice, tmp_path: Path) -> None:
    for write in (fields.write_die, fields.write_table):
        write(advice.assessment.analysis, tmp_path / "field.vtu")
        text = (tmp_path / "field.vtu").read_text(encoding="utf-8")
        assert Tree.fromstring(text).tag == "VTKFile"
        assert "script" not in text


def test_in_json_and_why(advice: Advice) -> None:
    told = json.dumps(as_json(advice), allow_nan=False, ensure_ascii=False)
    assert json.loads(told)["case"]["die"] == ALL or ALL in told.replace('\\"', '"').replace("\\\\", "\\")
    assert not CONTROL.search(told)
    for rule in ("gap", "creep", "no such rule"):
        assert not CONTROL.search(explain(advice, rule) or "")


def test_on_the_desk(advice: Advice) -> None:
    told = pytest.importorskip("deflect.desk.check.told")
    cautions = pytest.importorskip("deflect.desk.cautions")
    assessment = advice.assessment
    for fragment in (
        told.verdict(advice), told.numbers(assessment.analysis, assessment.findings), told.rules(assessment),
        told.waiting(ALL), cautions.in_short(advice.cautions, "all"), cautions.in_full(advice.cautions, "all"),
    ):  # fmt: skip
        harmless_page(str(fragment))


def test_in_sensitivity(advice: Advice) -> None:
    case = advice.assessment.analysis.case
    for name in (*NAMES, "x\\", "[/bold]\\[/bold]"):
        named = replace(case, die=replace(case.die, name=name), press=replace(case.press, name=name))
        moved = Moved("the verdict", (0.5,), (0.6,), 0.1, 0.9)
        told = Sensitivity(("friction",), (moved,), 0.5, 16)
        target = io.StringIO()
        print_sensitivity(told, named, Console(file=target, width=400, color_system=None))
        assert name[:30] in target.getvalue()
        assert json.dumps(sensitivity_json(told, named), allow_nan=False)


# ---- calibration


def test_in_a_calibration(tmp_path: Path) -> None:
    """Dials, source and press with hostile names: on the terminal, on the page, and in the press file written."""
    table = demo_cases("readings")["hornbeam-spring"].with_suffix(".csv").read_text(encoding="utf-8")
    names = ["[/]", "[red]A[/red]", "<script>x</script>", "=1+1", "{{7*7}}", "x\\"]
    for n, name in enumerate(names):
        dial = re.findall(r"(?m)^([A-Z][0-9]),", table)[n]
        table = re.sub(rf"(?m)^{dial},", lambda _, name=name: f'"{name}",', table)  # type: ignore[misc]
    (tmp_path / "hornbeam-spring.csv").write_text(table, "utf-8")
    (tmp_path / "r.toml").write_text(renamed("readings", "hornbeam-spring", ALL, "source|note"), "utf-8")
    press, measured = read_measured("hornbeam-10mn", tmp_path / "r.toml")
    fit = calibrate(press, measured)
    target = io.StringIO()
    calibration.print_calibration(fit, Console(file=target, width=250, color_system=None))
    assert all(name in target.getvalue() for name in names)
    harmless_page(calibration.page(fit))
    (tmp_path / "press.toml").write_text(calibrated_text("hornbeam-10mn", fit.calibration), "utf-8")
    assert read_case("rowan-trim", tmp_path / "press.toml").press.calibration is not None


# ---- a study


def hostile_rows() -> list[Row]:
    return [
        Row(n, n, "full", "fit", die_name=n, press_name=n, reasons=n, remedy=n, message=n, gap_mm=-1.0) for n in NAMES
    ]


def test_in_the_journal_and_its_exports(tmp_path: Path) -> None:
    journal = Journal(tmp_path / "j.sqlite")
    journal.commit([(row, "x") for row in hostile_rows()])
    rows = list(journal.rows())
    journal.close()
    assert sorted(row.die for row in rows) == sorted(NAMES)
    with closing(sqlite3.connect(tmp_path / "j.sqlite")) as base:
        assert base.execute("SELECT count(*) FROM rows").fetchone() == (len(NAMES),)
    write_csv(rows, tmp_path / "rows.csv")
    with (tmp_path / "rows.csv").open(encoding="utf-8", newline="") as file:
        read = list(csv.DictReader(file))
    cells = [cell for row in read for column, cell in row.items() if column not in ("gap_mm",)]
    assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in cells)
    assert {row["gap_mm"] for row in read} == {"-1.0"}  # a number stays a number
    assert {row["die"].removeprefix("'") for row in read} >= {name for name in NAMES if not name.startswith("'")}


def test_in_the_page_of_a_study() -> None:
    told = study_page(hostile_rows(), ())
    harmless_page(told, scripts=2)
    data = re.search(r'id="data">(.*?)</script>', told, re.DOTALL)
    assert data is not None
    assert json.loads(data[1])["rows"][0][0] in NAMES


# ---- names of files


def run(*words: str) -> Result:
    told = CliRunner().invoke(main, list(words), color=True)
    assert told.exception is None or isinstance(told.exception, SystemExit), told.exception
    return told


def hostile_files(folder: Path, original: Path | None) -> list[Path]:
    """Files with hostile names: of a sound case, or of nothing that can be read."""
    folder.mkdir()
    made = []
    for name in FILES:
        path = folder / f"{name}.toml"
        try:
            if original is None:
                path.write_text("[die]\n")
            else:
                shutil.copy(original, path)
        except (OSError, UnicodeError):  # this disk knows no such name
            continue
        made.append(path)
    assert len(made) > 3
    return made


def test_file_names_in_a_refusal(tmp_path: Path) -> None:
    for path in hostile_files(tmp_path / "dies", None):
        told = run("check", os.fspath(path), "alder-10mn")
        assert told.exit_code == 2
        assert not CONTROL.search(told.stderr)
        assert told.stdout == ""


def test_file_names_in_a_study(tmp_path: Path) -> None:
    hostile_files(tmp_path / "dies", None)
    hostile_files(tmp_path / "presses", demo_cases("press")["birch-12mn"])
    to = tmp_path / "\x1b[31mto"
    told = run("study", str(tmp_path / "dies"), str(tmp_path / "presses"), "--to", str(to), "--screening-only")
    assert told.exit_code == 0, told.stderr
    assert not CONTROL.search(told.stdout)
    with (to / "rows.csv").open(encoding="utf-8", newline="") as file:
        cells = [cell for row in csv.reader(file) for cell in row]
    assert not any(CONTROL.search(cell) or cell.startswith(("=", "-", "@", "+")) for cell in cells)
    harmless_page((to / "study.html").read_text(encoding="utf-8"), scripts=2)
    entries = read_shop(tmp_path / "dies", tmp_path / "presses")
    assert len({die.name for die in entries.dies}) == len(entries.dies)


def test_file_names_among_the_other_presses(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    hostile_files(tmp_path / "presses", None)
    monkeypatch.setattr("deflect.advice.advise", lambda *_, **__: (_ for _ in ()).throw(RuntimeError("\x1b[31mstop")))
    told = run("check", "maple-restrike", "birch-12mn", "--presses", str(tmp_path / "presses"))
    assert told.exit_code == 2
    assert told.stderr.count("is left out of the other presses") > 3
    assert "the solver gave up" in told.stderr
    assert not CONTROL.search(told.stderr)


def test_names_that_are_typed(tmp_path: Path) -> None:
    for words in (
        ("check", "\x1b[31mx", "alder-10mn"),
        ("check", "maple-restrike", "birch-12mn", "--presses", str(tmp_path / "\x1b[31mx")),
        ("compare", "hazel-draw", "birch-12mn", "\x1b[31mx"),
        ("compare", "hazel-draw", "birch-12mn", "alder-10mn", "--force", "\x1b[31mx=1"),
        ("compare", "hazel-draw", "birch-12mn", "alder-10mn", "--shim-step", "\x1b[31mx"),
        ("calibrate", "\x1b[31mx", "\x1b[31my.csv"),
        ("calibrate", "hornbeam-10mn", "hornbeam-spring", "--without", "\x1b[31mx"),
        ("study", "\x1b[31mx", "demo"),
        ("study", "demo", "demo", "--to", str(tmp_path), "--where", "\x1b[31mx"),
        ("new", "die", "--to", str(tmp_path / "no\x1b[31m" / ("x" * 300))),
        ("shop", str(tmp_path / ("\x1b[31m" + "x" * 300))),
    ):
        told = run(*words)
        assert told.exit_code == 2, words
        assert told.stderr.strip(), words
        assert not CONTROL.search(told.stderr), words
