"""What is typed wrongly is answered with what is meant by it: a synonym, a day, a sheet without amounts, a dash, another reading."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.writing.test_commands import DAY, run


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["add", "oil-1", "test", "property=water content", "value=800 mg/kg", DAY], "did you mean 'water'?"),
        (["new", "batch", "--date", "2026-02-30"], "there is no day '2026-02-30'; write it like 2026-03-01"),
        (
            ["new", "batch", "--date", "1.3.2026"],
            "'1.3.2026' is not written as a day; write it like 2026-03-01",
        ),
        (["check", "--as-of", "2026-02-30"], "there is no day '2026-02-30'; write it like 2026-03-01"),
        (["add", "tank-1", "20"], "'20' is not a key known here"),
        (["add", "tank-1", "20"], "known here: dip, draw, fill"),
        (["record", "b1", "-3"], "'-3' is taken for an option, for it begins with a minus."),
        (["record", "b1", "-3"], "esterday record ... -- WORD '-3 °C'"),
        (["add", "b1", "note", "--clear"], "put -- before the words where one begins with two: esterday add --"),
        (
            ["add", "b1", "reading", "2.4 mL"],
            "a reading of the titration: esterday add b1 titration.readings '2.4 mL'",
        ),
        (
            ["add", "n1", "reading", "2.4 mL"],
            "a reading of the titration: esterday add n1 titration readings='2.4 mL'",
        ),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_what_is_typed_wrongly_leads_to_what_is_meant(shed: Path, words: list[str], told: str) -> None:
    if "n1" in words:
        assert run(shed, "new", "batch", "n1", DAY).returncode == 0
    done = run(shed, *words)
    assert (done.returncode in (1, 2), told in done.stderr) == (True, True), done.stderr


@pytest.mark.parametrize(
    ("rule", "words", "told"),
    [
        ("", [], "logbook.yaml has no 'dose'"),
        ("dose: {base: 7 g/L, of: KOH}\n", ["koh-1=1.9 kg"], "'dose' in logbook.yaml has no 'methanol'"),
        (
            "dose: {base: 7 g/L, of: KOH, methanol: 22 %}\n",
            [],
            "'esterday dose' prints it, and says what it lacks",
        ),
    ],
)
def test_a_sheet_without_amounts_is_told_as_such(shed: Path, rule: str, words: list[str], told: str) -> None:
    path = shed / "logbook/logbook.yaml"
    text = path.read_text(encoding="utf-8").replace("dose: {base: 7 g/L, of: KOH}\n", rule)
    path.write_text(text, encoding="utf-8")
    assert run(shed, "new", "batch", "n1", DAY).returncode == 0
    done = run(shed, "record", "n1", *words, "--as-planned")
    assert (done.returncode, "the sheet has no amount of it" in done.stderr) == (2, True), done.stderr
    assert (told in done.stderr, "--as-planned takes" in done.stderr) == (True, False), done.stderr


def test_an_excerpt_shows_no_end_of_a_line(shed: Path) -> None:
    path = shed / "logbook/batches/b1.yaml"
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    odd = run(shed, "add", "b1", "soap", "point=product", "sample=100 g", "acid=9 mL", "retest=true")
    assert (odd.stderr.count(": warning: ") > 0, "<U+000D>" in odd.stderr) == (True, False), odd.stderr
