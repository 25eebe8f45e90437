"""The scalar types of the grammar: what each takes, what each refuses and with which words."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from generator import fields, pricing
from generator.problems import rules


def read(kind: Any, text: Any, **context: str) -> Any:
    """Read a text as a type."""
    return TypeAdapter(kind).validate_python(text, context=context)


def refused(kind: Any, text: Any, **context: str) -> tuple[str, str, str]:
    """Code, message and hint of the refusal."""
    with pytest.raises(ValidationError) as caught:
        read(kind, text, **context)
    (error,) = caught.value.errors()
    told = error["ctx"]
    assert told["code"] in rules()
    return told["code"], told["message"], told["hint"]


@pytest.mark.parametrize(
    "kind",
    [
        "Text",
        "Id",
        "Date",
        "Moment",
        "Yes",
        "Number",
        "Currency",
        "Zone",
        "Locale",
        "AnyPrice",
        "Volume",
        "Mass",
        "Temperature",
    ],
)
@pytest.mark.parametrize(
    ("value", "code"),
    [
        (["a"], "not-text"),
        ({"a": "b"}, "not-text"),
        (None, "not-text"),
        ("", "empty-value"),
        (" \t", "empty-value"),
    ],
)
def test_no_type_takes_a_list_a_group_or_nothing(kind: str, value: Any, code: str) -> None:
    assert refused(getattr(fields if hasattr(fields, kind) else pricing, kind), value)[0] == code


def test_text_is_kept_without_the_blanks_around_it() -> None:
    assert read(fields.Text, "  two  words \n") == "two  words"


def test_ten_thousand_characters_fit() -> None:
    assert len(read(fields.Text, "n" * 10_000)) == 10_000
    assert refused(fields.Text, "n" * 10_001)[0] == "text-too-long"


@pytest.mark.parametrize("text", ["a", "A", "7", "oil-031", "2026-014", "a--b", "a" * 64])
def test_ids(text: str) -> None:
    assert read(fields.Id, text) == text


@pytest.mark.parametrize(
    "text",
    [
        "-a",
        "a-",
        "a b",
        " a",
        "a\n",
        "a_b",
        "a.b",
        "a/b",
        "..",
        "ä",
        "\u0430",
        "a" * 65,
        "CON",
        "nul",
        "Com1",
        "lpt9",
        "index",
        "Index",
        "\u212a",
        "\ufb01",
    ],
)
def test_what_is_no_id(text: str) -> None:
    assert refused(fields.Id, text)[0] == "bad-id"


def test_a_long_id_is_shown_short() -> None:
    assert len(refused(fields.Id, "x" * 5000)[1]) < 100


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-03-14", date(2026, 3, 14)),
        ("2024-02-29", date(2024, 2, 29)),
        ("1980-01-01", date(1980, 1, 1)),
        ("2199-12-31", date(2199, 12, 31)),
    ],
)
def test_dates(text: str, day: date) -> None:
    assert read(fields.Date, text) == day


@pytest.mark.parametrize(
    "text",
    [
        "2025-02-29",
        "2026-04-31",
        "2026-00-10",
        "2026-10-00",
        "1979-12-31",
        "2200-01-01",
        "14.03.2026",
        "2026-W11-6",
        "2026-03-14 ",
        "2026-3-14",
        "٢٠٢٦-03-14",
    ],
)
def test_what_is_no_date(text: str) -> None:
    assert refused(fields.Date, text)[0] == "bad-date"


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2026-03-14T09:10", datetime(2026, 3, 14, 9, 10)),
        ("2026-03-14 09:10", datetime(2026, 3, 14, 9, 10)),
        ("2026-03-14", datetime(2026, 3, 14)),
        ("2026-03-14T23:59", datetime(2026, 3, 14, 23, 59)),
    ],
)
def test_moments(text: str, moment: datetime) -> None:
    assert read(fields.Moment, text) == moment


@pytest.mark.parametrize(
    "text",
    [
        "2026-03-14T24:00",
        "2026-03-14T09:60",
        "2026-03-14T9:10",
        "2026-03-14T09:10:00",
        "2026-03-14T09:10Z",
        "2026-02-30T09:10",
        "09:10",
    ],
)
def test_what_is_no_moment(text: str) -> None:
    assert refused(fields.Moment, text)[0] == "bad-date"


@pytest.mark.parametrize(("text", "number"), [("0", "0"), ("0.38", "0.38"), ("-1.5", "-1.5"), ("12", "12")])
def test_numbers_are_exact(text: str, number: str) -> None:
    assert read(fields.Number, text) == Decimal(number)


@pytest.mark.parametrize("text", ["1e3", "01", ".5", "5.", "1_0", "nan", "inf", "0x1", "1 0", "½", "٣"])
def test_what_is_no_plain_number(text: str) -> None:
    assert refused(fields.Number, text)[0] == "quantity-number"


def test_zones_come_from_the_table_of_zones() -> None:
    assert read(fields.Zone, "Europe/Lisbon") == "Europe/Lisbon"
    assert refused(fields.Zone, "Europe/Lisabon")[2] == "did you mean 'Europe/Lisbon'?"
    assert refused(fields.Zone, "../../etc/passwd")[0] == "unknown-zone"


@pytest.mark.parametrize(
    ("kind", "low", "high"),
    [
        ("Temperature", "-60 °C", "250 °C"),
        ("Share", "0 %", "100 %"),
        ("Content", "0 mg/kg", "1000000 mg/kg"),
        ("AcidValue", "0 mg KOH/g", "250 mg KOH/g"),
        ("Density", "500 kg/m³", "2500 kg/m³"),
        ("Saponification", "100 mg KOH/g", "350 mg KOH/g"),
    ],
)
def test_both_ends_of_a_range_are_taken_and_beyond_them_nothing(kind: str, low: str, high: str) -> None:
    unit = low.split(" ", 1)[1]
    for text in (low, high):
        assert read(getattr(fields, kind), text).text == text
    lowest, highest = Decimal(low.split(" ", maxsplit=1)[0]), Decimal(high.split(" ", maxsplit=1)[0])
    for beyond in (lowest - Decimal("0.1"), highest + Decimal("0.1")):
        code, message, hint = refused(getattr(fields, kind), f"{beyond} {unit}")
        assert code == "out-of-range"
        assert str(beyond) in message
        assert str(highest) in hint
        assert "e+" not in hint


def test_an_open_range_names_its_one_end() -> None:
    assert refused(fields.Mass, "-1 kg")[2] == "write a mass of 0 kg or more"


@pytest.mark.parametrize(
    ("kind", "zero"),
    [
        ("SomeVolume", "0 L"), ("SomeMass", "0.0 kg"), ("SomeAmount", "0 mL"), ("SomeLength", "0 cm"), ("SomeShare", "0 %"),
        ("Strength", "0 g/L"), ("Normality", "0 N"), ("BaseRate", "0 g/L"), ("Capacity", "0 g/kg"),
    ],
)  # fmt: skip
def test_what_is_divided_by_or_was_used_is_above_zero(kind: str, zero: str) -> None:
    code, _, hint = refused(getattr(fields, kind), zero)
    assert code == "out-of-range"
    assert "above 0" in hint


@pytest.mark.parametrize(
    ("kind", "zero"),
    [("Volume", "0 L"), ("Reading", "0.0 mL"), ("Mass", "0 kg"), ("Energy", "0 kWh"), ("Duration", "0 h")],
)
def test_what_was_read_may_be_nothing(kind: str, zero: str) -> None:
    assert read(getattr(fields, kind), zero).value == 0


def test_only_a_reading_or_a_result_takes_a_sign() -> None:
    assert read(fields.Reading, "< 0.05 mL").sign == "<"
    assert read(fields.Content, ">2000 mg/kg").sign == ">"
    for kind, text in ((fields.Volume, "< 5 L"), (fields.Mass, "> 5 kg"), (fields.Share, "<5 %")):
        assert refused(kind, text)[0] == "sign-unfit"


def test_a_bare_gallon_is_read_by_the_setting() -> None:
    assert refused(fields.Volume, "5 gal")[0] == "quantity-gallon"
    assert read(fields.Volume, "5 gal", gallon="US").exact == Decimal("18.92705892")
    assert read(fields.Volume, "5 gal", gallon="imperial").exact == Decimal("22.73045")


def test_prices_are_in_the_currency_of_the_logbook() -> None:
    assert read(pricing.AnyPrice, "0.38 EUR/L", currency="EUR").amount == Decimal("0.38")
    code, message, hint = refused(pricing.AnyPrice, "0.38 USD/L", currency="EUR")
    remedy = (
        "convert it and write EUR, or write in logbook.yaml what 1 USD was worth: "
        "rates: [{currency: USD, from: YYYY-MM-DD, value: ... EUR}]"
    )
    assert (code, hint) == ("price-currency", remedy)
    assert "USD" in message
    assert read(pricing.AnyPrice, "0.38 USD/L", currency="EUR", rates="GBP USD").currency == "USD"
    assert read(pricing.AnyPrice, "0 EUR", currency="EUR").amount == 0


def test_the_symbol_of_a_unit_is_one_of_its_kind() -> None:
    from typing import Annotated

    volume = Annotated[str, fields.symbol_of("volume")]
    assert read(volume, "US gal") == "US gal"
    assert refused(volume, "kg")[0] == "not-a-choice"


@pytest.mark.parametrize(
    ("number", "text"),
    [(1e6, "1000000"), (0.0, "0"), (-60, "-60"), (2.5, "2.5"), (100, "100"), (250.0, "250")],
)
def test_limits_are_written_as_they_would_be_typed(number: float, text: str) -> None:
    assert fields.plainly(number) == text


@pytest.mark.parametrize(
    ("number", "figures", "text"),
    [(1894.0, 3, "1890"), (136.2, 2, "140"), (99.6, 2, "100"), (0.0312, 2, "0.031"), (7.0, 2, "7")],
)
def test_so_many_figures_take_no_exponent(number: float, figures: int, text: str) -> None:
    assert fields.plainly(number, figures) == text
