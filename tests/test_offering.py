"""`esterday offer`: what it prints, what it refuses, and that a titration stands for an acid value."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from generator.compute.tally import tally
from generator.offering import offering
from generator.validate.logbook import checked_folder
from tests.compute.test_offers import LOG
from tests.logbook_files import logbook

DEMO = Path(__file__).resolve().parents[1] / "logbook"

TESTED = (
    "asked:",
    "tests: [{titration: {titrant: {strength: 1.00 g/L, of: KOH, pure: true}, sample: 1.0 mL, blank: 0.1 mL, readings: [2.1 mL]}}]\nasked:",
)
DIESEL = "price: diesel\nseries: [{date: 2026-01-01, value: 1.60 EUR/L}]\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return logbook(tmp_path, {**LOG, "offers/school.yaml": TESTED, "prices/diesel.yaml": DIESEL})


def run(folder: Path, *options: str, offer: str = "school") -> Result:
    return CliRunner().invoke(main, ["offer", offer, str(folder), *options])


def values(folder: Path, *options: str) -> dict[str, Any]:
    done = run(folder, *options, "--json")
    assert (done.exit_code, done.stderr) == (0, "")
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def test_the_text_tells_terms_and_worth(folder: Path) -> None:
    done = run(folder, "--price", "0.30 EUR/L")
    assert (done.exit_code, done.stderr) == (0, "")
    assert "Price asked           0.300 EUR/L               written: 0.500 EUR/L\n" in done.stdout
    assert "Cost of the fuel" in done.stdout and "Highest, as asked" in done.stdout
    assert "Hot wet oil erupts" in done.stdout and "methoxide burns skin" in done.stdout
    assert max(len(line) for line in done.stdout.splitlines()) <= 80


def test_no_file_is_changed(folder: Path) -> None:
    before = {path: path.read_bytes() for path in folder.rglob("*.yaml")}
    run(folder, "--price", "0.30 EUR/L", "--water", "900 mg/kg")
    assert {path: path.read_bytes() for path in folder.rglob("*.yaml")} == before


def test_a_reading_stands_for_its_acid_value(folder: Path) -> None:
    """The offer's own reading gives its own acid value; half of what was used beyond the blank gives half of it."""
    own, same, half = (
        values(folder, *said) for said in ((), ("--titration=2.1 mL",), ("--titration=1.1 mL",))
    )
    assert same == own
    assert half["acid_value_mg_koh_per_g"] == pytest.approx(own["acid_value_mg_koh_per_g"] / 2, rel=1e-12)
    assert half["dose_g_per_l"] == pytest.approx(8.0, rel=1e-3)


def test_a_price_in_another_unit_is_the_same_price(folder: Path) -> None:
    """0.30 EUR/L on 200 L are 60 EUR."""
    by_litre, by_whole, by_gallon = (
        values(folder, f"--price={price}") for price in ("0.30 EUR/L", "60 EUR", "1.135623535 EUR/US gal")
    )
    assert by_whole["cost_per_l"] == pytest.approx(by_litre["cost_per_l"], rel=1e-12)
    assert by_gallon["cost_per_l"] == pytest.approx(
        by_litre["cost_per_l"], rel=1e-9
    )  # 3.785411784 L, rounded


def test_the_highest_price_put_back_gives_the_target(folder: Path) -> None:
    highest = values(folder)["highest_price_as_asked"]
    assert values(folder, f"--price={highest:.12f} EUR/L")["cost_per_l"] == pytest.approx(1.20, abs=1e-9)


def test_the_highest_price_at_the_pump_put_back_saves_nothing(folder: Path) -> None:
    highest = values(folder, "--diesel=1.85 EUR/L")["highest_at_pump_as_asked"]
    told = values(folder, f"--price={highest:.12f} EUR/L", "--diesel=1.85 EUR/L")
    assert told["saving_per_l"] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("--water=900", "--water: '900' has no unit"),
        ("--water=900 mL", "--water: '900 mL' is a volume, and a content is wanted here"),
        ("--water=< 50 mg/kg", "--water: '< 50 mg/kg' cannot be reckoned with"),
        ("--acid-value=-1 mg KOH/g", "--acid-value: '-1 mg KOH/g' cannot be reckoned with"),
        ("--acid-value=900 mg KOH/g", "--acid-value: '900 mg KOH/g' gives an acid value of 900.0 mg KOH/g"),
        ("--titration=0.0 mL", "--titration: '0.0 mL' gives an acid value of -0.1 mg KOH/g"),
        ("--price=0.30", "--price: '0.30' names no currency by its three letters"),
        ("--price=0.30 USD/L", "--price: '0.30 USD/L' is in USD, the logbook is kept in EUR"),
        ("--price=0.30 EUR/gal", "--price: '0.30 EUR/gal' does not say which gallon"),
        ("--price=0.30 EUR/kWh", "--price: '0.30 EUR/kWh' is no price of oil"),
        ("--price=-1 EUR/L", "--price: '-1 EUR/L' is below zero"),
        ("--diesel=1.60 EUR", "--diesel: '1.60 EUR' is no price of diesel"),
    ],
)
def test_what_cannot_be_read_is_refused_with_a_remedy(folder: Path, said: str, told: str) -> None:
    done = run(folder, said)
    assert (done.exit_code, done.stdout) == (2, "")
    assert f"error: {told}\n" in done.stderr and "    hint: " in done.stderr


def test_all_that_is_wrong_is_told_at_once(folder: Path) -> None:
    done = run(folder, "--water=900", "--price=3", "--diesel=2")
    assert done.stderr.count("error: ") == 3


def test_an_unknown_offer_is_refused(folder: Path) -> None:
    done = run(folder, offer="shcool")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "there is no offer 'shcool'" in done.stderr and "did you mean 'school'?" in done.stderr


def test_acid_value_and_titration_are_not_both_given(folder: Path) -> None:
    done = run(folder, "--acid-value=2 mg KOH/g", "--titration=2 mL")
    assert done.exit_code == 2 and "not both" in done.stderr


def test_a_mistake_in_the_logbook_keeps_it_back(folder: Path) -> None:
    path = folder / "lots" / "oil-1.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("300 L", "300"), encoding="utf-8")
    done = run(folder)
    assert (done.exit_code, done.stdout) == (1, "")
    assert "'300 at 15 °C' has no unit" in done.stderr and "mend these first" in done.stderr


def test_a_price_for_all_that_is_meant_by_the_litre_is_asked_back(folder: Path) -> None:
    told = offering(folder, "school", {"price": "0.5 EUR"})
    ((message, hint),) = told.refused
    assert message == "--price: '0.5 EUR' is for all 200 L at 15 °C, less than a fifth of what is asked"
    assert hint == "write 0.5 EUR/L, or what all of it would cost"
    assert offering(folder, "school", {"price": "90 EUR"}).refused == ()


def test_a_price_for_all_of_it_has_the_decimals_of_its_currency(folder: Path) -> None:
    """By the litre a third decimal decides; of a whole can nobody pays a tenth of a cent."""
    path = folder / "offers" / "school.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("0.50 EUR/L", "90 EUR"), encoding="utf-8")
    told = run(folder).stdout
    asked = [line for line in told.splitlines() if "for all of it" in line]
    assert [line.split()[:2] for line in asked] == [["Price", "asked"], ["Highest,", "as"], ["Pump,", "as"]]
    assert all(re.search(r"\d\.\d\d EUR for all of it", line) for line in asked)
    assert re.search(r"Cost of the fuel +\d\.\d{3} EUR/L", told)
    assert (
        CliRunner().invoke(main, ["build", str(folder), "--out", str(folder.parent / "site")]).exit_code == 0
    )
    page = (folder.parent / "site" / "offers" / "school.html").read_text(encoding="utf-8")
    first = re.findall(r'data-plane="(\w+)" data-unit="[^"]+"( data-digits="2")?>([^<]+)<', page)
    assert {name: bool(digits) for name, digits, _ in first} == {
        "cost": False, "highest": True, "highest_at_pump": True, "room": True, "saving": False,
    }  # fmt: skip
    assert all(
        len(text.split("\u202f")[0].split(".")[1]) == (2 if digits else 3) for _, digits, text in first
    )


def test_a_currency_without_a_rate_names_the_line_to_write(folder: Path) -> None:
    ((message, hint),) = offering(folder, "school", {"price": "0.5 USD/L"}).refused
    assert message == "--price: '0.5 USD/L' is in USD, the logbook is kept in EUR"
    assert "rates: [{currency: USD, from: " in hint


@pytest.mark.parametrize(("price", "side"), [("0.30 EUR/L", "below"), ("0.90 EUR/L", "above")])
def test_the_first_line_says_on_which_side_of_the_highest_price_it_is_asked(price: str, side: str) -> None:
    found = offering(DEMO, "2026-10-hospital", {"price": price})
    assert found.text is not None
    first = " ".join(found.text.partition("\n\n")[0].split())
    gap = abs(found.values["highest_price_per_l"] - found.values["asked_per_l"])
    assert (
        first == f"Offer 2026-10-hospital, open: asked {gap:.3f} EUR/L {side} the highest price at the target"
    )


def test_an_offer_is_not_judged_on_a_day_before_it_was_made(folder: Path) -> None:
    """It was made on 20 January: the day before there was none, and the remedy is the first day that takes."""
    done = run(folder, "--as-of", "2026-01-19")
    assert (done.exit_code, done.stdout) == (2, "")
    assert (
        "offer 'school' was made on 2026-01-20, after the day that was asked for (2026-01-19)" in done.stderr
    )
    assert "give --as-of 2026-01-20 or a later day" in done.stderr
    assert run(folder, "--as-of", "2026-01-20").exit_code == 0


def test_an_offer_of_a_later_day_is_not_open(folder: Path) -> None:
    checked = checked_folder(folder, date(2026, 1, 19))[1]
    assert checked.ledgers is not None
    (row,) = tally(checked.ledgers).rows("offers")
    assert row["state"] == "to come"


def test_a_price_from_a_later_day_moves_no_day_from_which_pages_count(folder: Path) -> None:
    """A tariff that is known ahead has not happened."""
    before = checked_folder(folder)[1].log
    ahead = DIESEL.replace("}]", "}, {date: 2031-01-01, value: 1.90 EUR/L}]")
    (folder / "prices" / "diesel.yaml").write_text(ahead, encoding="utf-8")
    after = checked_folder(folder)[1].log
    assert before is not None and after is not None
    assert before.now() == after.now()
