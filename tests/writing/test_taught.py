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
            "not written as a day; write 2026-03-01 if the day comes first, 2026-01-03 if the month does.",
        ),
        (
            ["new", "batch", "--date", "27/11/2026"],
            "not written as a day; write 2026-11-27 if the day comes first.",
        ),
        (["new", "batch", "--date", "yesterday"], "not written as a day; write it like 2026-03-01."),
        (["new", "batches"], "did you mean 'batch'?"),
        (["new", "tanks"], "it is written by hand, as a file in tanks/ like the one there"),
        (["new", "column"], "its keys: esterday schema columns"),
        (["offer", "school", "--price", "20 €"], "write 20 EUR for the whole, or 20 EUR/L"),
        (["offer", "school", "--price", "€20.50"], "write 20.50 EUR for the whole, or 20.50 EUR/L"),
        (["offer", "school", "--price", "20"], "write 20 EUR for the whole, or 20 EUR/L"),
        (["offer", "school", "--price", "0.3 €/L"], "hint: write 0.3 EUR/L"),
        (["check", "--as-of", "2026-02-30"], "there is no day '2026-02-30'; write it like 2026-03-01"),
        (["add", "tank-1", "20"], "'20' is not a key known here"),
        (["add", "tank-1", "20"], "known here: dip, draw, fill"),
        (["record", "b1", "-3"], "'-3' is taken for an option, for it begins with a minus."),
        (["record", "b1", "-3"], "esterday record ... -- WORD '-3 °C'"),
        (
            ["add", "b1", "note", "--clear"],
            "put -- before the words where one begins with two: esterday add --",
        ),
        (
            ["add", "b1", "reading", "2.4 mL"],
            "a reading of the titration: esterday add b1 titration.readings '2.4 mL'",
        ),
        (
            ["add", "n1", "reading", "2.4 mL"],
            "a reading of the titration: esterday add n1 titration readings='2.4 mL'",
        ),
        (["add", "settled", "time=16 h"], "put its id before: esterday add b2 settled ..."),
        (["add", "n1", "settled", "glycerol=31 kg"], "write {mass: 31 kg}; its keys are volume, mass"),
        (["new", "batch", "--set", "oil=15 L"], "write {volume: 15 L}; its keys are lot, volume, mass"),
        (
            ["new", "batch", "--set", "titration={readings: [2.4 mL], blank: 0 mL"],
            "close it with ] or }, or write the comma that is missing",
        ),
        (["new", "batch", "--set", "oil=[{lot: oil-1"], "close it with ] or }"),
        (["add", "b2", "settled", "16 h"], "write time='16 h'; or KEY=VALUE"),
        (["add", "b2", "settled", "31 kg"], "write glycerol.mass='31 kg'; or KEY=VALUE"),
        (["add", "oil-1", "return", "3 L"], "write volume='3 L'; or KEY=VALUE"),
        (["add", "shed", "rinse", "vessel=B"], "write esterday add shed event=rinse ..."),
        (
            ["add", "b2", "settled.time=16 h"],
            "key and value are two words: esterday add b2 settled.time '16 h'",
        ),
        (["add", "oil-1", "count=3 L"], "say what it is, then its keys: esterday add oil-1 count KEY=VALUE"),
        (["add", "oil-1", "count", "quantity=3 L"], "did you mean 'volume'?"),
        (["add", "b2", "fuel", "volume=9 L", "volume=8 L"], "volume is said twice: '9 L', and '8 L'"),
        (["record", "b1", "koh-1=1 kg"], "b1 is recorded already: logbook/batches/b1.yaml:"),
        (["record", "n1", "2 kg"], "write koh-1='... kg' meoh-1='... L at ... °C'"),
        (["record", "n1", "koh-1=2", "meoh-1=9 L at 15 °C"], "write 2 kg or 2 g"),
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


def test_a_file_that_is_none_is_not_called_free_of_problems(shed: Path) -> None:
    done = run(shed, "check", "--of", "logbook/b1")
    assert (done.returncode, "there is no file logbook/b1" in done.stderr) == (2, True), done.stderr
    assert "did you mean --of logbook/batches/b1.yaml?" in done.stderr


def test_readings_of_a_titration_need_no_key_and_are_shown_with_their_line(shed: Path) -> None:
    assert run(shed, "new", "batch", "n1", DAY).returncode == 0
    done = run(shed, "add", "n1", "titration", "2.4 mL", "2.5 mL", "blank=0.1 mL")
    assert (done.returncode, "  readings: [2.4 mL, 2.5 mL]\n" in done.stdout) == (0, True), done.stderr
    more = run(shed, "add", "n1", "titration.readings", "2.6 mL")
    assert more.stdout == "  readings: [2.4 mL, 2.5 mL, 2.6 mL]\n", more.stderr


def test_what_goes_to_the_last_of_two_runs_says_so_and_how_the_first_is_named(shed: Path) -> None:
    sample = ["soap", "point=product", "sample=100 g", "acid=0.1 mL", "normality=0.01 N", "blank=0 mL"]
    one = run(shed, "add", "b2", *sample, "after=9 L", "--dry-run")
    assert "run 1 of" not in one.stderr
    path = shed / "logbook/batches/b2.yaml"
    head, mark, rest = path.read_text(encoding="utf-8").partition("polish:\n")
    inner, end, tail = rest.partition("fuel:")
    listed = "  - " + inner.replace("\n  ", "\n    ")[2:]
    path.write_text(head + mark + listed + end + tail, encoding="utf-8")
    second = run(
        shed, "add", "b2", "run", "start=2026-01-26T09:00", "end=2026-01-26T11:00", "volume=50 L at 15 °C"
    )
    assert second.returncode == 0, second.stderr
    told = "for the first: esterday add b2 polish.0.soap KEY=VALUE."
    assert f"Added to logbook/batches/b2.yaml, run 2 of 2; {told}" in second.stderr
    after = run(shed, "add", "b2", *sample)
    assert (after.returncode, f"run 2 of 2; {told}" in after.stderr) == (0, True), after.stderr
    first = run(shed, "add", "b2", "polish.0.soap", *sample[1:], "retest=true")
    assert (first.returncode, "run 2" in first.stderr) == (0, False), first.stderr


def test_amounts_are_asked_for_and_taken_from_the_sheet_in_the_units_of_the_logbook(shed: Path) -> None:
    path = shed / "logbook/logbook.yaml"
    text = path.read_text(encoding="utf-8").replace(
        "dose: {base: 7 g/L, of: KOH}\n",
        "dose: {base: 7 g/L, of: KOH, methanol: 22 %}\n"
        "display: {volume: US gal, mass: lb, temperature: °F, pressure: psi}\n",
    )
    path.write_text(text, encoding="utf-8")
    assert run(shed, "new", "batch", "n1", DAY).returncode == 0
    told = run(shed, "record", "n1").stderr
    assert "koh-1='... lb' meoh-1='... US gal at ... °F'" in told and " kg" not in told, told
    assert "US gal at 59 °F), " in told or "US gal at 59 °F)" in told, told


def test_the_first_price_of_a_series_is_followed_by_no_command_for_a_batch(tmp_path: Path) -> None:
    assert run(tmp_path, "begin", "logbook").returncode == 0
    done = run(tmp_path, "new", "price", "diesel", "--set", "value=1.60 EUR/L", DAY)
    assert (done.returncode, "Next:" in done.stderr) == (0, False), done.stderr


@pytest.mark.parametrize(
    ("quantity", "told"),
    [
        ("2 bags", "write it in L, mL, dL, cL, kg, g, "),
        ("2 h", "write it in L, mL, kg, g\n"),
        ("-3 kg", "write a mass of 0 kg or more"),
    ],
)
def test_of_an_amount_by_volume_or_mass_units_of_both_are_named(shed: Path, quantity: str, told: str) -> None:
    done = run(shed, "new", "lot", "--set=material=flakes", f"--set=quantity={quantity}", DAY)
    assert (done.returncode, told in done.stderr) == (1, True), done.stderr


def test_where_all_oil_is_planned_the_batch_that_takes_it_is_named(shed: Path) -> None:
    assert run(shed, "new", "batch", "b3", DAY).returncode == 0
    done = run(shed, "new", "batch", DAY)
    assert (done.returncode, "no lot of oil has stock left beside what b3 will take" in done.stderr) == (
        1,
        True,
    )


def test_where_a_name_is_taken_it_is_said_how_the_next_id_is_had(shed: Path) -> None:
    done = run(shed, "new", "lot", "koh-1", "--set=material=flakes", "--set=quantity=2 kg", DAY)
    assert "give another id, or none: the next free one is taken then" in done.stderr, done.stderr


@pytest.mark.parametrize("folder", [".", "nowhere"])
def test_a_preview_of_no_logbook_ends_and_says_so(tmp_path: Path, folder: str) -> None:
    done = run(tmp_path, "preview", folder, "--port", "0")
    assert (done.returncode, "esterday begin" in done.stderr) == (1, True), done.stderr


def test_a_note_may_begin_with_a_bracket(shed: Path) -> None:
    done = run(shed, "new", "batch", "--set", "note=[sic] cloudy", "--dry-run", DAY)
    assert (done.returncode, 'note: "[sic] cloudy"' in done.stdout) == (0, True), done.stderr
