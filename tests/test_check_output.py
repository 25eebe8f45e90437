"""What `check` prints beside the text of each problem: groups, repetitions, colour, quiet, JSON; and how help begins."""

from __future__ import annotations

import json
import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli import COMMANDS, main
from tests.logbook_files import BASE, logbook

ROOT = Path(__file__).parents[1]
WRONG = {"lots/oil-1.yaml": ("paid: 0.40 EUR/L", "pait: 0.40 EUR/L"), "tanks/tank-1.yaml": ("80 cm", "80")}
MANY = "price: diesel\nseries:\n" + "".join(
    f"  - {{date: 2026-01-{n:02}, value: 1.6}}\n" for n in range(1, 21)
)


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_a_file_in_two_bytes_a_letter_is_told_once_and_not_quoted(encoding: str, tmp_path: Path) -> None:
    """Editors of Windows call it Unicode; read as UTF-8 it is a zero behind or before every letter."""
    root = logbook(tmp_path)
    lot = root / "lots" / "oil-1.yaml"
    lot.write_bytes(lot.read_text(encoding="utf-8").encode(encoding))
    told = run("check", root)
    assert told.exit_code == 1
    assert told.stderr.count("oil-1.yaml") == 1
    assert (
        "oil-1.yaml:1:1: error: this file is UTF-16 text, two bytes a letter (not-utf8)\n    hint: save it as UTF-8"
        in told.stderr
    )
    assert not any(sign in told.stderr for sign in ("<U+0000>", "\ufffd"))


def on_a_terminal(root: Path, **more: str) -> str:
    """What `check` prints where stderr is a terminal."""
    ours, theirs = pty.openpty()
    env = {key: value for key, value in os.environ.items() if key != "NO_COLOR"}
    env |= {"PYTHONPATH": str(ROOT), "TERM": "xterm", **more}
    with subprocess.Popen(
        [sys.executable, "-m", "generator", "check", str(root)],
        stderr=theirs,
        stdout=subprocess.DEVNULL,
        env=env,
    ) as process:
        os.close(theirs)
        out = b""
        while True:
            try:
                part = os.read(ours, 65536)
            except OSError:
                break
            if not part:
                break
            out += part
        process.wait(timeout=60)
    os.close(ours)
    return out.decode("utf-8").replace("\r\n", "\n")


def test_files_are_groups_in_order(tmp_path: Path) -> None:
    root = logbook(tmp_path, WRONG)
    blocks = run("check", root).stderr.split("\n\n")
    assert len(blocks) == 2
    assert blocks[0].startswith(f"{root}/lots/oil-1.yaml:5:1: error: ")
    assert blocks[1].startswith(f"{root}/tanks/tank-1.yaml:")


def test_what_repeats_is_told_five_times_and_then_counted_with_its_lines(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"prices/diesel.yaml": MANY})
    done = run("check", root)
    assert done.stderr.count(": error: ") == 5
    assert (
        f"{root}/prices/diesel.yaml: 15 more of these (price-currency), in lines 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19 ...\n"
        in done.stderr
    )
    assert "2 batches read: 20 errors, 0 warnings." in done.stderr
    assert len(json.loads(run("check", "--json", root).stdout)) == 20


def test_quiet_tells_errors_alone(tmp_path: Path) -> None:
    root = logbook(tmp_path, {**WRONG, "lots/notes.txt": "x"})
    done = run("check", "--quiet", root)
    assert done.exit_code == 1
    assert "stray-file" not in done.stderr and "read:" not in done.stderr
    assert done.stderr.count(": error: ") == 2


def test_quiet_says_nothing_of_a_good_logbook() -> None:
    done = run("check", "-q", BASE)
    assert (done.exit_code, done.stdout, done.stderr) == (0, "", "")


def test_quiet_build_says_nothing_unless_it_fails(tmp_path: Path) -> None:
    out = tmp_path / "site"
    done = run("build", "--quiet", "--no-cache", BASE, "--out", out)
    assert (done.exit_code, done.stdout, done.stderr) == (0, "", "")
    assert (out / "index.html").is_file()
    failed = run("build", "-q", "--no-cache", logbook(tmp_path, WRONG), "--out", out)
    assert failed.exit_code == 1
    assert failed.stderr.count(": error: ") == 2 and "Nothing was written" in failed.stderr


def test_json_holds_places_hint_related_and_mend(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"batches/b1.yaml": ("sample: 1.0 mL", "sample: 1,0 mL")})
    (found,) = json.loads(run("check", "--json", root).stdout)
    assert found == {
        "code": "decimal-comma",
        "level": "error",
        "file": "batches/b1.yaml",
        "line": 7,
        "column": 11,
        "message": "'1,0 mL' has a comma in its number",
        "hint": "write a decimal point: 1.0 mL",
        "mend": {"line": 7, "column": 11, "end_line": 7, "end_column": 17, "text": "1.0 mL"},
        "related": [],
    }


def test_no_colour_where_there_is_no_terminal(tmp_path: Path) -> None:
    assert "\x1b" not in run("check", logbook(tmp_path, WRONG)).stderr


def test_colour_on_a_terminal_stands_beside_the_same_words(tmp_path: Path) -> None:
    root = logbook(tmp_path, WRONG)
    coloured = on_a_terminal(root)
    assert "\x1b[31m\x1b[1merror\x1b[0m" in coloured
    plain = on_a_terminal(root, NO_COLOR="1")
    assert "\x1b" not in plain
    assert "\x1b" not in on_a_terminal(root, TERM="dumb")
    import re

    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain == run("check", root).stderr


@pytest.mark.parametrize("name", ["", *COMMANDS])
def test_every_help_begins_with_examples(name: str) -> None:
    done = run(*([name] if name else []), "--help")
    lines = done.stdout.splitlines()
    assert done.exit_code == 0
    assert lines[0] == "Examples:"
    assert lines[1].startswith(f"  esterday {name or 'check'}")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_shell_can_ask_for_its_completion(shell: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", "from generator.cli import main; main(prog_name='esterday')"],
        env={**os.environ, "PYTHONPATH": str(ROOT), "_ESTERDAY_COMPLETE": f"{shell}_source"},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    # click asks bash for its version and says so where it is too old or missing
    assert done.returncode == 0 and "esterday" in done.stdout


@pytest.mark.parametrize("arguments", [["check"], ["check", "--json"], ["check", "--quiet"], ["build"]])
def test_in_ci_no_value_of_a_file_is_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str]
) -> None:
    """A canary in place of a price, an id, a date and a note; the place and the code stay."""
    canary = "zq7canary"
    root = logbook(
        tmp_path,
        {
            "lots/oil-1.yaml": ("paid: 0.40 EUR/L", f"paid: {canary}\nsource: {canary}"),
            "batches/b1.yaml": ("date: 2026-01-10", f"date: {canary}"),
            "batches/b2.yaml": ("lot: oil-1", f"lot: {canary}"),
        },
    )
    monkeypatch.chdir(tmp_path)
    out = ["--out", "site"] if arguments == ["build"] else []
    open_ = CliRunner().invoke(main, [*arguments, str(root), *out])
    monkeypatch.setenv("CI", "true")
    done = CliRunner().invoke(main, [*arguments, str(root), *out])
    assert canary in open_.output
    assert done.exit_code == open_.exit_code == 1
    assert canary not in done.output and "0.40" not in done.output
    for code in ("bad-date", "oil-1.yaml", "b1.yaml"):
        assert code in done.output
