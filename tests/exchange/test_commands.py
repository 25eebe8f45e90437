"""`esterday import` as it is typed: what it prints, what it writes into a real logbook, how it exits."""

from __future__ import annotations

import csv
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.logbook_files import logbook

from .sheets import HEADINGS, MAP, csv_bytes, row

ROOT = Path(__file__).resolve().parents[2]
ROWS = [
    row(batch="c1", date="2026-01-20", oil="20", oil_c="12", titration="2.4 / 2.5", koh="200", methanol="4", fuel="19"),
    row(batch="c2", date="2026-01-21", oil="30", notes="two\nlines"),
]  # fmt: skip


def run(where: Path, *arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "generator", *arguments],
        cwd=where,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


@pytest.fixture
def shed(tmp_path: Path) -> Path:
    logbook(tmp_path)
    (tmp_path / "map.yaml").write_text(MAP, encoding="utf-8")
    lay(tmp_path, *ROWS)
    return tmp_path


def lay(where: Path, *rows: list[str]) -> None:
    (where / "t.csv").write_bytes(csv_bytes([HEADINGS, *rows], delimiter=","))


def files(where: Path) -> set[str]:
    return {path.relative_to(where).as_posix() for path in where.rglob("*") if path.is_file()}


def test_nothing_is_written_until_told(shed: Path) -> None:
    before = files(shed)
    done = run(shed, "import", "t.csv", "--map", "map.yaml")
    assert done.returncode == 0, done.stderr
    assert "row 2 -> logbook/batches/2026/c1.yaml\n    batch: c1\n" in done.stdout
    assert "row 3 -> logbook/batches/2026/c2.yaml" in done.stdout
    assert "2 files to write, and nothing was written yet" in done.stderr
    assert files(shed) == before


def test_it_writes_and_run_again_it_writes_nothing(shed: Path) -> None:
    assert run(shed, "import", "t.csv", "--map", "map.yaml", "--write").returncode == 0
    text = (shed / "logbook" / "batches" / "2026" / "c1.yaml").read_bytes()
    again = run(shed, "import", "t.csv", "--map", "map.yaml", "--write")
    assert (again.returncode, again.stdout) == (0, "")
    assert "0 files written; 2 rows there already and the same; 0 rows not used." in again.stderr
    assert (shed / "logbook" / "batches" / "2026" / "c1.yaml").read_bytes() == text
    assert "4 batches read: 0 errors" in run(shed, "check").stderr


def test_a_row_that_cannot_be_used_keeps_no_other_back(shed: Path) -> None:
    lay(shed, ROWS[0], row(batch="c3", date="soon", oil="x"))
    done = run(shed, "import", "t.csv", "--map", "map.yaml", "--write")
    assert done.returncode == 1
    assert "t.csv: row 3, column B 'Date': error: 'soon' is no day" in done.stderr
    assert "t.csv: row 3, column C 'Oil (L)': error: 'x' is not a number with a unit" in done.stderr
    assert "1 file written; 0 rows there already and the same; 1 row not used." in done.stderr


def test_quiet_writes_without_a_word(shed: Path) -> None:
    done = run(shed, "import", "t.csv", "--map", "map.yaml", "--write", "--quiet")
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert {"logbook/batches/2026/c1.yaml", "logbook/batches/2026/c2.yaml"} <= files(shed)


def test_quiet_still_tells_what_was_not_used_and_is_refused_where_nothing_is_written(shed: Path) -> None:
    assert run(shed, "import", "t.csv", "--map", "map.yaml", "--quiet").returncode == 2
    lay(shed, ROWS[0], row(batch="c3", date="soon", oil="20"))
    done = run(shed, "import", "t.csv", "--map", "map.yaml", "--write", "-q")
    assert (done.returncode, done.stdout) == (1, "")
    assert "t.csv: row 3, column B 'Date': error: 'soon' is no day" in done.stderr
    assert "written" not in done.stderr


def test_what_check_says_is_told_after(shed: Path) -> None:
    lay(shed, row(batch="c1", date="2026-01-20", oil="2000"))
    done = run(shed, "import", "t.csv", "--map", "map.yaml")
    assert "lot 'oil-1' is overdrawn by c1" in done.stderr and "volume: 2000 L" in done.stderr
    assert (done.returncode, "1 error of the check stands above" in done.stderr) == (1, True)


def test_a_map_is_proposed_on_stdout(shed: Path) -> None:
    done = run(shed, "import", "t.csv", "--suggest")
    assert done.returncode == 0 and 'oil.0.lot: "?"' in done.stdout and "here are oil-1" in done.stdout
    (shed / "map.yaml").write_text(done.stdout, encoding="utf-8")
    open_map = run(shed, "import", "t.csv", "--map", "map.yaml", "--write")
    assert open_map.returncode == 1
    assert (
        "'oil.0.lot' is still to be filled in" in open_map.stderr and "Nothing was written" in open_map.stderr
    )


def test_a_problem_of_the_map_is_told_where_it_stands(shed: Path) -> None:
    (shed / "maps").mkdir()
    (shed / "maps" / "a.yaml").write_text(MAP.replace("import: batches", "import: batchs"), encoding="utf-8")
    done = run(shed, "import", "t.csv", "--map", "maps/a.yaml")
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith(
        "maps/a.yaml:2:9: error: 'batchs' is not one of the words known here (not-a-choice)\n    import: batchs\n"
    )


def test_a_map_can_be_proposed_before_there_is_a_logbook(tmp_path: Path) -> None:
    lay(tmp_path, *ROWS)
    done = run(tmp_path, "import", "t.csv", "--suggest")
    assert done.returncode == 0 and "key: oil.0.volume" in done.stdout


DEMO = """
import: batches
id: "{Batch}"
delimiter: semicolon
decimal: comma
columns:
  - {column: Batch, key: batch}
  - {column: Date, key: date}
  - {column: Lot, key: oil.0.lot}
  - {column: Oil (L), key: oil.0.volume, unit: L}
  - {column: Oil °C, key: oil.0.volume.at, unit: °C}
  - {column: Titration, key: titration.readings, unit: mL, parts: /}
  - {column: KOH (g), key: reaction.0.catalyst.0.mass, unit: g}
  - {column: Methanol (L), key: reaction.0.methanol.0.volume, unit: L}
  - {column: Acid value, key: tests.0.value, unit: mg KOH/g}
  - {column: Fuel, key: fuel.volume, unit: US gal}
  - {column: Start, key: polish.0.start}
  - {column: Soap, key: polish.0.soap.0.acid, unit: mL}
  - {column: Labour, key: labour, unit: min}
  - {column: Notes, key: note}
always: {tests.0.property: acid value, polish.0.soap.0.point: product}
"""


def test_the_demo_goes_out_and_says_the_same_when_it_comes_back(tmp_path: Path) -> None:
    (tmp_path / "demo.yaml").write_text(DEMO, encoding="utf-8")
    book = str(ROOT / "logbook")
    batches = len([*(ROOT / "logbook" / "batches").rglob("*.yaml")])
    out = run(tmp_path, "export", book, "--map", "demo.yaml", "--out", "demo.csv")
    assert (out.returncode, out.stderr) == (0, f"{batches} rows in demo.csv.\n")
    text = (tmp_path / "demo.csv").read_text(encoding="utf-8-sig")
    assert "2026-014;2026-06-22;oil-019; oil-020;" in text.replace('"', "")
    back = run(tmp_path, "import", "demo.csv", book, "--map", "demo.yaml")
    assert back.returncode == 0, back.stderr
    assert "0 files to write" in back.stderr and f"{batches} rows there already and the same" in back.stderr
    again = run(tmp_path, "export", book, "--map", "demo.yaml", "--out", "demo.csv")
    assert again.returncode == 2 and "nothing is written over" in again.stderr


LOTS = """
import: lots
id: "{Lot}"
columns:
  - {column: Lot, key: lot}
  - {column: Material, key: material}
  - {column: Received, key: received}
  - {column: Source, key: source}
  - {column: Quantity, key: quantity}
  - {column: at, key: quantity.at, unit: °C}
  - {column: Price, key: paid, unit: EUR/L}
  - {column: Freight, key: freight, unit: EUR}
  - {column: Water, key: tests.0.value, unit: ppm}
  - {column: Titration, key: tests.1.titration.readings, unit: mL, parts: /}
  - {column: Note, key: note}
always: {tests.0.property: water}
"""


def test_the_lots_of_the_demo_go_through_a_workbook(tmp_path: Path) -> None:
    (tmp_path / "lots.yaml").write_text(LOTS, encoding="utf-8")
    book = str(ROOT / "logbook")
    lots = len([*(ROOT / "logbook" / "lots").glob("*.yaml")])
    recovered = sum(
        "recovered: true" in path.read_text() for path in (ROOT / "logbook" / "lots").glob("*.yaml")
    )
    assert (
        run(tmp_path, "export", book, "--map", "lots.yaml", "--out", "lots.xlsx").stderr
        == f"{lots} rows in lots.xlsx.\n"
    )
    back = run(tmp_path, "import", "lots.xlsx", book, "--map", "lots.yaml")
    assert back.returncode == 0, back.stderr
    assert (
        recovered
        and f"0 files to write, and nothing was written yet (--write does it); {lots} rows there"
        in back.stderr
    )


def test_of_many_troubles_in_a_column_the_rows_are_named(shed: Path) -> None:
    lay(shed, *(row(batch=f"n{number}", date="2026-01-20", oil="x") for number in range(23)))
    done = run(shed, "import", "t.csv", "--map", "map.yaml")
    assert done.stderr.count("is not a number with a unit") == 20
    assert "t.csv: column C 'Oil (L)': these rows are not used either: 22, 23, 24" in done.stderr


def test_for_a_forge_no_value_is_printed(shed: Path) -> None:
    lay(
        shed,
        row(batch="c3", date="soon", oil="secret", notes="private"),
        row(batch="c4", date="2026-01-20", oil="7"),
    )
    for arguments in (["--suggest"], ["--map", "map.yaml"]):
        done = run(shed, "import", "t.csv", *arguments, CI="true")
        assert not any(word in done.stdout + done.stderr for word in ("secret", "private", "soon"))
    assert "t.csv: row 2, column B: error" in done.stderr


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["t.csv"], "give one of --suggest and --map"),
        (["t.csv", "--map", "map.yaml", "--suggest"], "give one of --suggest and --map"),
        (["t.csv", "--suggest", "--write"], "--write goes with --map"),
        (["no.csv", "--suggest"], "no.csv is no file"),
        (["map.yaml", "--suggest"], "is no .csv or .xlsx"),
        (
            ["t.csv", "--map", "no.yaml"],
            "no.yaml is no file\n    hint: print one with --suggest, and fill it in",
        ),
    ],
    ids=str,
)
def test_wrong_use(shed: Path, arguments: list[str], told: str) -> None:
    done = run(shed, "import", *arguments)
    assert (done.returncode, told in done.stderr) == (2, True), done.stderr


def test_an_export_has_the_columns_of_the_sheet_in_their_order_those_left_out_too(shed: Path) -> None:
    headings = ["Colour", "Fuel (L)", "Batch", "Weather", "Date", "Oil (L)"]
    rows = [headings, ["amber", "19", "c7", "rain", "2026-01-20", "20"]]
    (shed / "own.csv").write_bytes(csv_bytes(rows, delimiter=","))
    made = run(shed, "import", "own.csv", "--suggest")
    assert made.returncode == 0, made.stderr
    (shed / "own.yaml").write_text(
        made.stdout.replace('oil.0.lot: "?"', "oil.0.lot: oil-1"), encoding="utf-8"
    )
    done = run(shed, "import", "own.csv", "--map", "own.yaml", "--write")
    assert done.returncode == 0, done.stderr
    out = run(shed, "export", "--map", "own.yaml", "--out", "back.csv")
    assert out.returncode == 0, out.stderr
    table = [*csv.reader((shed / "back.csv").read_text(encoding="utf-8-sig").splitlines())]
    assert table[0] == headings
    assert ["", "19", "c7", "", "2026-01-20", "20"] in table


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("t.ods", b"PK\x03\x04" + b"\0" * 26 + b"mimetypeapplication/vnd.oasis.opendocument.spreadsheet", "it is an OpenDocument file (.ods), which is not read"),
        ("t.xlsx", b"PK\x03\x04" + b"\0" * 26 + b"mimetypeapplication/vnd.oasis.opendocument.spreadsheet", "save it as .xlsx or .csv"),
        ("t.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 500, "it is an old workbook (.xls), or one with a password"),
        ("t.csv", b"PK\x03\x04" + b"\0" * 500, "give it a name that ends in .xlsx"),
        ("t.xlsx", b"Batch,Date\n", "if it is text, give it a name that ends in .csv"),
        ("t.numbers", b"Batch", "is no .csv or .xlsx"),
    ],
    ids=["ods", "ods by another name", "xls", "a workbook named text", "a text named workbook", "none"],
)  # fmt: skip
def test_what_a_file_is_counts_more_than_its_name(shed: Path, name: str, content: bytes, told: str) -> None:
    (shed / name).write_bytes(content)
    done = run(shed, "import", name, "--suggest")
    assert (done.returncode, told in done.stderr) == (2, True), done.stderr


def test_an_export_to_another_kind_of_file_is_told_before_it_is_made(shed: Path) -> None:
    done = run(shed, "export", "--map", "map.yaml", "--out", "t.ods")
    assert (done.returncode, "give --out NAME.csv or NAME.xlsx" in done.stderr) == (2, True), done.stderr


def test_a_gallon_is_the_one_of_the_logbook_and_a_question_where_it_has_none(shed: Path) -> None:
    (shed / "own.csv").write_bytes(csv_bytes([["Batch", "Date", "Oil (gal)"], ["c7", "2026-01-20", "20"]]))
    assert 'key: oil.0.volume, unit: "?"' in run(shed, "import", "own.csv", "--suggest").stdout
    path = shed / "logbook/logbook.yaml"
    path.write_text(path.read_text(encoding="utf-8") + "gallon: imperial\n", encoding="utf-8")
    done = run(shed, "import", "own.csv", "--suggest")
    assert "key: oil.0.volume, unit: imp gal}" in done.stdout, done.stdout + done.stderr
    assert "a gallon is imp gal by logbook.yaml" in done.stdout
