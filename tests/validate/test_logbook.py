"""A whole logbook: everything is told in one run, by place, and nothing that only follows from something else."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from generator.problems import Place
from generator.validate.logbook import checked_folder
from tests.logbook_files import Changes, checked, codes, lay, log_of, logbook, told

B1, B2, OIL, KOH = "batches/b1.yaml", "batches/b2.yaml", "lots/oil-1.yaml", "lots/koh-1.yaml"
SHED, ALL, TANK = "columns/shed.yaml", "materials/all.yaml", "tanks/tank-1.yaml"


def test_all_mistakes_come_at_once_and_sorted_by_place(tmp_path: Path) -> None:
    problems = told(
        tmp_path,
        {
            TANK: ("height: 120 cm", "height: 120"),
            B1: ("sample: 1.0 mL", "sample: 1,0 mL"),
            OIL: ("paid: 0.40 EUR/L", "paid: 0.40 USD/L"),
            B2: ("tank: tank-1", "tank: tank-9"),
            "lots/broken.yaml": "lot: [\n",
            "notes.txt": "\n",
        },
    )
    assert [(problem.place.file, problem.code) for problem in problems] == [
        (B1, "decimal-comma"),
        (B2, "unknown-id"),
        ("lots/broken.yaml", "yaml-syntax"),
        (OIL, "price-currency"),
        ("notes.txt", "stray-file"),
        (TANK, "quantity-unit"),
    ]
    assert [problem.place for problem in problems] == sorted(problem.place for problem in problems)


def test_several_in_one_file_come_at_once(tmp_path: Path) -> None:
    problems = told(
        tmp_path, {OIL: "lot: oil 1\nmaterial: frying-oil\nreceived: soon\nquantity: 300\npaid: free\n"}
    )
    assert codes([problem for problem in problems if problem.place.file == OIL]) == [
        "bad-id", "bad-date", "quantity-unit", "quantity-number",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "lot: oil-1\nmaterial: frying-oil\nreceived: soon\nquantity: 300 L\npaid: 0 EUR\n",  # grammar
        "lot: oil-1\nlot: oil-1\n",  # a key twice
        "lot: 'oil-1\n",  # a quote left open
        "material: frying-oil\n",  # no id at all
        "- lot: oil-1\n",  # a list
        "oil-1\n",  # a word
        "",
    ],
)
def test_a_lot_that_could_not_be_read_is_not_told_as_missing(tmp_path: Path, text: str) -> None:
    found = checked(tmp_path, {OIL: text})
    assert {problem.place.file for problem in found.problems} == {OIL}
    assert not found.fit


@pytest.mark.parametrize("file", [ALL, SHED, TANK])
@pytest.mark.parametrize("text", ["a: [\n", "a: &b c\n", "word\n", ""])
def test_nor_is_what_stood_in_any_other_file(tmp_path: Path, file: str, text: str) -> None:
    assert {problem.place.file for problem in told(tmp_path, {file: text})} == {file}


def test_nor_is_what_a_broken_file_of_materials_holds(tmp_path: Path) -> None:
    problems = told(tmp_path, {ALL: ("purity: 90 %", "purity: 90")})
    assert [(problem.code, problem.place.file) for problem in problems] == [("quantity-unit", ALL)]


def test_another_id_that_is_missing_is_still_told(tmp_path: Path) -> None:
    """One broken file hides what follows from it, and nothing else."""
    problems = told(
        tmp_path, {OIL: "lot: oil-1\nlot: oil-1\n", B1: ("{lot: koh-1, mass", "{lot: koh-9, mass")}
    )
    assert sorted((problem.code, problem.place.file) for problem in problems) == [
        ("key-twice", OIL),
        ("unknown-id", B1),
    ]


def test_a_link_in_place_of_a_lot_hides_what_follows_from_it(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    (root / OIL).rename(tmp_path / "moved.yaml")
    (root / OIL).symlink_to(tmp_path / "moved.yaml")
    assert codes(checked_folder(root)[1].problems) == ["not-a-plain-file"]


def test_balances_wait_until_every_file_can_be_read(tmp_path: Path) -> None:
    overdrawn: Changes = {OIL: ("300 L", "150 L")}
    assert codes(told(tmp_path / "a", overdrawn)) == ["stock-overdrawn"]
    found = checked(tmp_path / "b", {**overdrawn, TANK: ("height: 120 cm", "height: 120")})
    assert codes(found.problems) == ["quantity-unit"]
    assert not found.balanced


def test_only_errors_keep_a_logbook_from_being_fit(tmp_path: Path) -> None:
    found = checked(tmp_path, {"notes.txt": "\n"})
    assert codes(found.problems) == ["stray-file"]
    assert found.fit
    assert found.balanced


def test_wrong_settings_do_not_hide_the_mistakes_in_other_files(tmp_path: Path) -> None:
    problems = told(
        tmp_path, {"logbook.yaml": ("currency: EUR", "currency: Euro"), OIL: ("300 L at 15 °C", "300")}
    )
    assert [(problem.code, problem.place.file) for problem in problems] == [
        ("price-currency", "logbook.yaml"),
        ("quantity-unit", OIL),
    ]


def test_the_gallon_of_the_settings_counts_even_where_another_setting_is_wrong(tmp_path: Path) -> None:
    changes: Changes = {
        "logbook.yaml": ("title: Garden shed", "titel: Garden shed\ngallon: US"),
        OIL: ("300 L at 15 °C", "80 gal at 15 °C"),
    }
    assert codes(told(tmp_path, changes)) == ["unknown-key"]


@pytest.mark.parametrize("text", ["", "# nothing\n", "a: [\n", "- a\n", "word\n"])
def test_settings_that_are_none(tmp_path: Path, text: str) -> None:
    found = checked(tmp_path, {"logbook.yaml": text})
    assert len(found.problems) >= 1
    assert {problem.place.file for problem in found.problems} == {"logbook.yaml"}
    assert not found.fit


def test_ids_differ_by_more_than_capitals_and_across_files(tmp_path: Path) -> None:
    text = "lot: OIL-1\nmaterial: frying-oil\nreceived: 2026-01-02\nquantity: 1 L\npaid: 0 EUR\n"
    found = told(tmp_path, {"lots/z.yaml": text})
    assert [(problem.code, problem.place, problem.related) for problem in found] == [
        ("id-twice", Place("lots/z.yaml", 1, 6), (Place(OIL, 1, 6),))
    ]


def test_materials_in_two_files_share_one_list_of_ids(tmp_path: Path) -> None:
    found = told(tmp_path, {"materials/more.yaml": "materials:\n  chips: {kind: other}\n"})
    assert [(problem.code, problem.place, problem.related) for problem in found] == [
        ("id-twice", Place("materials/more.yaml", 2, 3), (Place(ALL, 5, 3),))
    ]


def test_one_id_may_stand_for_a_lot_and_a_tank(tmp_path: Path) -> None:
    assert (
        told(
            tmp_path,
            {
                TANK: ("tank: tank-1", "tank: oil-1"),
                B1: ("tank: tank-1", "tank: oil-1"),
                B2: ("tank: tank-1", "tank: oil-1"),
            },
        )
        == []
    )


def test_now_is_the_latest_date_in_the_logbook(tmp_path: Path) -> None:
    assert log_of(tmp_path).now() == date(2026, 1, 20)


def test_now_counts_every_kind_of_date(tmp_path: Path) -> None:
    log = log_of(tmp_path, {OIL: ("paid:", "counts:\n  - {date: 2026-02-28, volume: 100 L at 15 °C}\npaid:")})
    assert log.now() == date(2026, 2, 28)


def test_as_of_takes_its_place(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    log = checked_folder(root, date(2026, 6, 1))[1].log
    assert log is not None
    assert log.now() == date(2026, 6, 1)


def test_a_logbook_of_settings_alone_is_fit_and_says_what_to_write(tmp_path: Path) -> None:
    root = tmp_path / "new"
    lay(root, "logbook.yaml", "format: 1\ntitle: New\ncurrency: EUR\ntimezone: UTC\n")
    found = checked_folder(root)[1]
    assert codes(found.problems) == ["no-batches"]
    assert found.fit


def test_a_batch_that_could_not_be_read_is_not_told_as_no_batch(tmp_path: Path) -> None:
    found = told(tmp_path, {B1: "batch: b1\n", B2: None, TANK: None})
    assert {problem.code for problem in found} == {"missing-key"}


@pytest.mark.parametrize(
    "name", ["materials", "lots", "batches", "columns", "tanks", "offers", "prices", "pages"]
)
def test_each_folder_may_be_empty(tmp_path: Path, name: str) -> None:
    root = logbook(tmp_path)
    for path in (root / name).iterdir():
        path.unlink()
    found = checked_folder(root)[1]
    assert found.log is not None
    assert {problem.code for problem in found.problems} <= {"unknown-id", "no-batches", "tank-overdrawn"}


def test_a_report_is_not_called_stray_while_a_batch_cannot_be_read(tmp_path: Path) -> None:
    """It may be that batch which names it."""
    report: Changes = {"attachments/water-b2.txt": "x\n"}
    assert codes(told(tmp_path / "a", report)) == ["stray-file"]
    assert codes(told(tmp_path / "b", {**report, B1: ("sample: 1.0 mL", "sample: 1,0 mL")})) == [
        "decimal-comma"
    ]
    assert codes(told(tmp_path / "c", {**report, B1: "batch: [\n"})) == ["yaml-syntax"]


@pytest.mark.parametrize(
    ("tank", "hint"),
    [
        ("tank-2", "did you mean 'tank-1'? otherwise write it first"),
        ("shed", "known here: tank-1; otherwise write it first"),
    ],
)
def test_what_is_not_known_may_not_be_written_yet(tank: str, hint: str, tmp_path: Path) -> None:
    (problem,) = told(tmp_path, {B2: ("tank: tank-1", f"tank: {tank}")})
    assert (problem.code, problem.hint) == ("unknown-id", hint)
