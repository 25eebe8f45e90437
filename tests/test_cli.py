"""The command as a user meets it: exit codes, streams, JSON, what is given as the logbook."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from tests.logbook_files import logbook


def run(*arguments: str | Path) -> Result:
    """Run the command."""
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


@pytest.fixture
def good(tmp_path: Path) -> Path:
    return logbook(tmp_path)


@pytest.fixture
def bad(tmp_path: Path) -> Path:
    return logbook(tmp_path / "bad", {"lots/oil-1.yaml": ("300 L at 15 °C", "300"), "notes.txt": "\n"})


def test_a_good_logbook_exits_with_zero(good: Path) -> None:
    done = run("check", good)
    assert (done.exit_code, done.stdout, done.stderr) == (0, "", "2 batches read: 0 errors, 0 warnings.\n")


def test_warnings_alone_exit_with_zero(good: Path) -> None:
    (good / "notes.txt").write_text("", encoding="utf-8")
    done = run("check", good)
    assert done.exit_code == 0
    assert done.stderr.endswith("2 batches read: 0 errors, 1 warning.\n")


def test_errors_exit_with_one(bad: Path) -> None:
    done = run("check", bad)
    assert done.exit_code == 1
    assert done.stdout == ""
    assert "2 batches read: 1 error, 1 warning.\n" in done.stderr


@pytest.mark.parametrize(
    "arguments",
    [
        ["chek"],
        ["check", "--jsn"],
        ["check", "a", "b"],
        ["check", "--as-of", "yesterday"],
        ["build", "--audience", "all"],
    ],
)
def test_wrong_usage_exits_with_two(arguments: list[str]) -> None:
    done = run(*arguments)
    assert done.exit_code == 2
    assert "Usage:" in done.stderr


def test_places_are_written_as_the_logbook_was_given(bad: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """So that a terminal or an editor can open them."""
    assert f"{bad}/lots/oil-1.yaml:4:11: error: " in run("check", bad).stderr
    monkeypatch.chdir(bad.parent)
    assert "\nlogbook/lots/oil-1.yaml:4:11: error: " in "\n" + run("check").stderr


def test_json_goes_to_stdout_and_nothing_else(bad: Path) -> None:
    done = run("check", bad, "--json")
    assert done.exit_code == 1
    assert done.stderr == ""
    assert json.loads(done.stdout) == [
        {
            "code": "quantity-unit",
            "level": "error",
            "file": "lots/oil-1.yaml",
            "line": 4,
            "column": 11,
            "message": "'300' has no unit",
            "hint": "write 300 L or 300 US gal",
            "mend": None,
            "related": [],
        },
        {
            "code": "stray-file",
            "level": "warning",
            "file": "notes.txt",
            "line": 0,
            "column": 0,
            "message": "'notes.txt' is not part of a logbook and was not read",
            "hint": "folders read: materials, lots, batches, columns, tanks, offers, prices, pages; a name that begins with a dot is left alone",
            "mend": None,
            "related": [],
        },
    ]


def test_json_names_the_related_places(good: Path) -> None:
    path = good / "lots" / "oil-1.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("300 L", "150 L"), encoding="utf-8")
    (problem,) = json.loads(run("check", good, "--json").stdout)
    assert problem["related"] == [{"file": "lots/oil-1.yaml", "line": 4, "column": 11}]


def test_json_of_a_good_logbook_is_an_empty_list(good: Path) -> None:
    done = run("check", good, "--json")
    assert (done.exit_code, done.stderr) == (0, "")
    assert json.loads(done.stdout) == []


def test_as_of_is_a_day_of_the_calendar(good: Path) -> None:
    assert run("check", good, "--as-of", "2026-02-01").exit_code == 0
    assert run("check", good, "--as-of", "2026-02-30").exit_code == 2


def test_only_what_touches_a_file_is_told_and_all_is_checked(
    good: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(good.parent)
    for name in ("batches/b1.yaml", "lots/koh-1.yaml"):
        path = good / name
        path.write_text(path.read_text(encoding="utf-8") + "colour: amber\n", encoding="utf-8")
    told = run("check", "--of", "logbook/lots/koh-1.yaml")
    assert told.exit_code == 1
    assert "logbook/lots/koh-1.yaml" in told.stderr and "b1.yaml" not in told.stderr
    assert "1 problem told, and 1 of other files are not." in told.stderr and ": 2 errors" in told.stderr
    found = json.loads(run("check", "--json", "--of", "logbook/batches/b1.yaml").stdout)
    assert [problem["file"] for problem in found] == ["batches/b1.yaml"]
    sound = run("check", "--of", "logbook/lots/oil-1.yaml")
    assert sound.exit_code == 1 and "0 problems told, and 2 of other files are not." in sound.stderr
    elsewhere = run("check", "--of", "b1.yaml")
    assert elsewhere.exit_code == 2 and "lies in no folder of logbook" in elsewhere.stderr


@pytest.mark.parametrize(("line", "code"), [("colour: amber", "unknown-key"), ("oil: [x]", "key-twice")])
def test_a_batch_with_a_mistake_is_a_batch_all_the_same(
    good: Path, monkeypatch: pytest.MonkeyPatch, line: str, code: str
) -> None:
    monkeypatch.chdir(good.parent)
    (good / "batches/b2.yaml").unlink()
    first = good / "batches/b1.yaml"
    first.write_text(f"{first.read_text(encoding='utf-8')}{line}\n", encoding="utf-8")
    told = run("check").stderr
    assert f"({code})" in told and "no-batches" not in told


@pytest.mark.parametrize(
    ("given", "message", "hint"),
    [
        (
            "nowhere",
            "there is no such folder",
            "give the folder that holds logbook.yaml, or begin one: esterday begin nowhere",
        ),
        (
            "logbook/logbook",
            "there is no such folder",
            "logbook.yaml lies in logbook: give logbook as the folder",
        ),
        (
            "logbook/batches/b1.yaml",
            "this is one file, not a logbook",
            "it belongs to the logbook at logbook: give that folder",
        ),
        ("stray.yaml", "this is one file, not a logbook", "give the folder that holds logbook.yaml"),
        (".", "this folder holds no logbook.yaml", "did you mean logbook?"),
        ("empty", "this folder holds no logbook.yaml", "begin a logbook in a folder of its own"),
    ],
)
def test_what_is_no_logbook(
    good: Path, monkeypatch: pytest.MonkeyPatch, given: str, message: str, hint: str
) -> None:
    monkeypatch.chdir(good.parent)
    Path("stray.yaml").write_text("batch: b1\n", encoding="utf-8")
    Path("empty").mkdir()
    done = run("check", given)
    assert done.exit_code == 1
    assert f"error: {message} (no-logbook)" in done.stderr
    assert f"    hint: {hint}" in done.stderr
    assert "//" not in done.stderr
    assert f"{given}/{given}" not in done.stderr


def test_a_device_is_no_logbook() -> None:
    assert "error: this is not a folder (no-logbook)" in run("check", os.devnull).stderr


def test_control_bytes_of_the_user_do_not_reach_the_terminal(good: Path) -> None:
    (good / "lots" / "a\x1b[31mb.yaml").write_text("lot: [\n", encoding="utf-8")
    (good / "lots" / "c.yaml").write_text("lot: \x1b[2J\n", encoding="utf-8")
    both: tuple[list[str | Path], ...] = (["check", good], ["check", good, "--json"])
    for arguments in both:
        done = run(*arguments)
        assert done.exit_code == 1
        assert "\x1b" not in done.stdout + done.stderr


def test_errors_leave_the_last_site_as_it_is(bad: Path, tmp_path: Path) -> None:
    out = tmp_path / "site"
    done = run("build", bad, "--out", out)
    assert done.exit_code == 1
    assert f"Nothing was written; what is in {out} stays as it was." in done.stderr
    assert not out.exists()


def test_a_build_tells_errors_and_leaves_warnings_to_its_page(bad: Path, tmp_path: Path) -> None:
    done = run("build", bad, "--out", tmp_path / "site")
    assert "quantity-unit" in done.stderr
    assert "stray-file" not in done.stderr


PLANNED = """batch: b3
date: 2026-01-24
oil: [{lot: oil-1, volume: 50 L at 15 °C}]
titration:
  titrant: {strength: 1.00 g/L, of: KOH, pure: true}
  sample: 1.0 mL
  blank: 0 mL
  readings: [2.5 mL]
plan: {catalyst: koh-1, methanol: [{lot: meoh-1, volume: 11 L at 15 °C}]}
"""


@pytest.fixture
def planned(tmp_path: Path) -> Path:
    return logbook(tmp_path, {"batches/b3.yaml": PLANNED})


@pytest.mark.parametrize("batch", ["b1", "b3"])
def test_a_weigh_sheet_goes_to_stdout(planned: Path, batch: str) -> None:
    done = run("dose", batch, planned)
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout.startswith(f"Batch {batch}, {'planned for' if batch == 'b3' else 'made on'} 2026-01-")
    assert max(len(line) for line in done.stdout.splitlines()) <= 80
    assert "Arithmetic on the workshop's own rule" in done.stdout
    assert "! Methanol is toxic by skin and breath" in done.stdout


def test_a_weigh_sheet_tells_both_terms_and_what_they_come_to(planned: Path) -> None:
    """Case A30 (derived) on half the oil: 125 g and 350 g of pure KOH, at 90 % purity."""
    lines = [" ".join(line.split()) for line in run("dose", "b3", planned).stdout.splitlines()]
    assert "to neutralise the oil's acid 139 g" in lines
    assert "base rate 389 g 7 g/L of KOH" in lines
    assert any(line.startswith("to weigh, all stages 528 g") for line in lines)
    assert "[ ] catalyst, koh-1 528 g" in lines


def test_a_warning_about_the_plan_goes_to_stderr_and_the_sheet_is_written(planned: Path) -> None:
    path = planned / "batches" / "b3.yaml"
    path.write_text(PLANNED.replace("11 L", "75 L"), encoding="utf-8")
    done = run("dose", "b3", planned)
    assert done.exit_code == 0
    assert "(plan-short)" in done.stderr
    assert "CAUTIONS" in done.stdout


def test_long_names_and_numbers_stay_on_the_sheet(planned: Path) -> None:
    text = PLANNED.replace("50 L at 15 °C", "13.00000000001 US gal at 59.0000000001 °F").replace(
        "b3", "b" * 60
    )
    (planned / "batches" / "b3.yaml").write_text(text, encoding="utf-8")
    path = planned / "materials" / "all.yaml"
    words = "of an oil that has a long name " * 4 + "x" * 120
    path.write_text(
        path.read_text(encoding="utf-8").replace("kind: oil,", f"kind: oil, name: {words},"), encoding="utf-8"
    )
    done = run("dose", "b" * 60, planned)
    assert done.exit_code == 0
    assert max(len(line) for line in done.stdout.splitlines()) <= 80
    assert "13.00000000001 US gal" in done.stdout
    assert "x" * 30 in done.stdout


def test_a_weigh_sheet_of_no_batch_names_the_nearest(planned: Path) -> None:
    done = run("dose", "b33", planned)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr == f"error: there is no batch 'b33' in {planned}\n    hint: did you mean 'b3'?\n"


def test_an_error_in_a_file_of_the_batch_keeps_its_sheet_back(planned: Path) -> None:
    path = planned / "lots" / "oil-1.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("300 L at 15 °C", "300"), encoding="utf-8")
    done = run("dose", "b3", planned)
    assert (done.exit_code, done.stdout) == (1, "")
    assert "(quantity-unit)" in done.stderr
    assert "No sheet was written" in done.stderr


@pytest.mark.parametrize("text", ["batch: b3\noil: [\n", PLANNED.replace("catalyst:", "catalist:")])
def test_a_batch_that_cannot_be_read_is_told_and_not_unknown(planned: Path, text: str) -> None:
    (planned / "batches" / "b3.yaml").write_text(text, encoding="utf-8")
    done = run("dose", "b3", planned)
    assert (done.exit_code, done.stdout) == (1, "")
    assert "b3.yaml:" in done.stderr
    assert "there is no batch" not in done.stderr


def test_an_error_elsewhere_does_not(planned: Path) -> None:
    (planned / "lots" / "beads-1.yaml").write_text("lot: [\n", encoding="utf-8")
    done = run("dose", "b3", planned)
    assert done.exit_code == 0
    assert done.stderr == ""


def test_no_logbook_gives_no_sheet(tmp_path: Path) -> None:
    done = run("dose", "b3", tmp_path / "nowhere")
    assert done.exit_code == 1
    assert "(no-logbook)" in done.stderr


def test_the_id_of_a_batch_cannot_steer_the_terminal(planned: Path) -> None:
    done = run("dose", "b\x1b[31m3", planned)
    assert done.exit_code == 2
    assert "\x1b" not in done.stderr


def test_help_says_what_there_is() -> None:
    done = run("--help")
    assert done.exit_code == 0
    assert all(word in done.stdout for word in ("check", "build", "dose", "Examples"))
