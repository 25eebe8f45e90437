"""What the grammar of quantities takes, what it refuses, and under which code."""

from __future__ import annotations

from decimal import Decimal

import pytest

from generator.units import NotAQuantity, base_symbol, convert, price, quantity, symbols, to_exact

BAD_VOLUMES = [
    ("2,4 mL", "decimal-comma"),
    ("1,234.5 L", "decimal-comma"),
    ("-2,4 mL", "decimal-comma"),
    ("010 L", "quantity-number"),
    ("007.5 L", "quantity-number"),
    ("00 L", "quantity-number"),
    ("1e400 L", "quantity-number"),
    ("1e3 L", "quantity-number"),
    ("1E3 L", "quantity-number"),
    ("1_000 L", "quantity-number"),
    ("1'000 L", "quantity-number"),
    ("1.2.3 L", "quantity-number"),
    (".5 L", "quantity-number"),
    ("--5 L", "quantity-number"),
    ("1-2 L", "quantity-number"),
    ("1234567890123456 L", "quantity-number"),
    ("0." + "1" * 16 + " L", "quantity-number"),
    ("no", "quantity-number"),
    ("yes", "quantity-number"),
    ("null", "quantity-number"),
    ("~", "quantity-number"),
    (".nan", "quantity-number"),
    (".inf L", "quantity-number"),
    ("nan L", "quantity-number"),
    ("infinity L", "quantity-number"),
    ("L", "quantity-number"),
    ("L 5", "quantity-number"),
    ("about 5 L", "quantity-number"),
    ("= 5 L", "quantity-number"),
    (">= 5 L", "quantity-number"),
    ("\u22125 L", "quantity-number"),  # a minus sign that is no hyphen
    ("\uff15 L", "quantity-number"),  # a full-width digit
    ("\u0665 L", "quantity-number"),  # an Arabic-Indic digit
    ("", "quantity-number"),
    ("190", "quantity-unit"),
    ("-5", "quantity-unit"),
    ("1:30", "quantity-unit"),
    ("0x10 L", "quantity-unit"),
    ("0o17 L", "quantity-unit"),
    ("1/2 L", "quantity-unit"),
    ("1 000 L", "quantity-unit"),
    ("1. L", "quantity-unit"),
    ("5 L.", "quantity-unit"),
    ("5 liitre", "quantity-unit"),
    ("5 MEGAL", "quantity-unit"),
    ("5 ML", "quantity-unit"),
    ("5 L at", "quantity-unit"),
    ("5 L @ 20 °C", "quantity-unit"),
    ("5 L at 20", "quantity-unit"),
    ("2025-02-30", "quantity-number"),
    ("190 gal", "quantity-gallon"),
    ("190 GAL", "quantity-gallon"),
    ("190 gallons at 60 °F", "quantity-gallon"),
    ("5 kg", "quantity-kind"),
    ("5 °C", "quantity-kind"),
    ("5 %", "quantity-kind"),
    ("5 L at 20 L", "quantity-kind"),
    ("5 L at 20 °C at 30 °C", "quantity-number"),
    ("5 L at -300 °C", "out-of-range"),
    ("1 L" + " at 1 °C" * 400, "quantity-number"),
    ("5 L at warm", "quantity-number"),
    ("5 L at 20,5 °C", "decimal-comma"),
]


@pytest.mark.parametrize(("text", "code"), BAD_VOLUMES, ids=[repr(text) for text, _ in BAD_VOLUMES])
def test_bad_volume_is_refused_under_its_code(text: str, code: str) -> None:
    with pytest.raises(NotAQuantity) as refusal:
        quantity(text, ("volume",))
    assert refusal.value.code == code
    assert refusal.value.message
    assert refusal.value.hint


@pytest.mark.parametrize("kind", ["mass", "temperature", "pressure", "duration", "length", "acid value"])
def test_every_kind_refuses_a_bare_number_and_says_what_to_write(kind: str) -> None:
    with pytest.raises(NotAQuantity) as refusal:
        quantity("12.5", (kind,))
    assert refusal.value.code == "quantity-unit"
    assert f"12.5 {symbols(kind)[0]}" in refusal.value.hint


def test_only_a_volume_or_a_density_has_a_temperature() -> None:
    with pytest.raises(NotAQuantity) as refusal:
        quantity("5 kg at 20 °C", ("mass",))
    assert refusal.value.code == "quantity-kind"
    assert quantity("880 kg/m³ at 20 °C", ("density",)).at_c == 20


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("190 L", "volume", 190),
        ("190L", "volume", 190),
        ("  190   L ", "volume", 190),
        ("190 litres", "volume", 190),
        ("2.40 mL", "volume", 0.0024),
        ("0 mL", "volume", 0),
        ("+5 L", "volume", 5),
        ("50 US gal", "volume", 189.2705892),
        ("50 US  gal", "volume", 189.2705892),
        ("10 imp gal", "volume", 45.4609),
        ("-5 °C", "temperature", -5),
        ("32 °F", "temperature", 0),
        ("212 °F", "temperature", 100),
        ("288.15 K", "temperature", 15),
        ("10 psi", "pressure", 68.94757293168361),
        ("90 min", "duration", 1.5),
        ("360 s", "duration", 0.1),
        ("0.21 mg KOH/g", "acid value", 0.21),
        ("0.05 %", "content", 500),
        ("310 ppm", "content", 310),
        ("0.01 N", "amount concentration", 0.01),
        ("123456789012345 L", "volume", 123456789012345),
    ],
)
def test_good_quantity(text: str, kind: str, value: float) -> None:
    found = quantity(text, (kind,))
    assert found.value == pytest.approx(value, rel=1e-14, abs=1e-12)
    assert found.kind == kind
    assert found.text == text.strip()


@pytest.mark.parametrize(("gallon", "litres"), [("US", "3.785411784"), ("imperial", "4.54609")])
def test_bare_gallon_is_what_the_logbook_says(gallon: str, litres: str) -> None:
    assert quantity("1 gal", ("volume",), gallon).exact == Decimal(litres)


@pytest.mark.parametrize(("text", "sign"), [("< 50 mg/kg", "<"), ("<50 mg/kg", "<"), ("> 8 mg/kg", ">")])
def test_a_censored_result_keeps_its_sign(text: str, sign: str) -> None:
    found = quantity(text, ("content",))
    assert found.sign == sign
    assert found.value in (50, 8)


def test_the_temperature_of_a_volume_is_kept() -> None:
    found = quantity("190 L at 72 °F", ("volume",))
    assert found.value == 190
    assert found.at_c == pytest.approx(22.2222, abs=1e-4)
    assert quantity("190 L", ("volume",)).at_c is None


def test_the_first_kind_that_has_the_unit_wins() -> None:
    assert quantity("5 kg", ("volume", "mass")).kind == "mass"
    assert quantity("5 %", ("content", "share")).kind == "content"
    assert quantity("5 %", ("share", "content")).kind == "share"


def test_a_near_miss_is_named() -> None:
    with pytest.raises(NotAQuantity) as refusal:
        quantity("5 liitre", ("volume",))
    assert "litre" in refusal.value.hint


BAD_PRICES = [
    ("0,38 EUR/L", "decimal-comma"),
    ("0.38", "price-currency"),
    ("0.38 /L", "price-currency"),
    ("0.38 €/L", "price-currency"),
    ("0.38 eur/L", "price-currency"),
    ("0.38 EURO", "price-currency"),
    ("0.38 EUR/gal", "quantity-gallon"),
    ("0.38 EUR/K", "quantity-kind"),
    ("0.38 EUR/litter box", "quantity-unit"),
    ("0.38 EUR/", "quantity-number"),
    ("EUR 0.38", "quantity-number"),
    ("1e3 EUR", "quantity-number"),
    ("012 EUR", "quantity-number"),
    ("free", "quantity-number"),
    ("", "quantity-number"),
]


@pytest.mark.parametrize(("text", "code"), BAD_PRICES, ids=[repr(text) for text, _ in BAD_PRICES])
def test_bad_price_is_refused_under_its_code(text: str, code: str) -> None:
    with pytest.raises(NotAQuantity) as refusal:
        price(text)
    assert refusal.value.code == code


@pytest.mark.parametrize(
    ("text", "amount", "currency", "per"),
    [
        ("0.38 EUR/L", "0.38", "EUR", "L"),
        ("0.38EUR / L", "0.38", "EUR", "L"),
        ("12.00 EUR", "12.00", "EUR", None),
        ("3.10 USD/US gal", "3.10", "USD", "US gal"),
        ("0.21 EUR/kWh", "0.21", "EUR", "kWh"),
        ("0 EUR", "0", "EUR", None),
    ],
)
def test_good_price(text: str, amount: str, currency: str, per: str | None) -> None:
    found = price(text)
    assert (found.amount, found.currency) == (Decimal(amount), currency)
    assert (found.per.symbol if found.per else None) == per
    assert found.is_total == (per is None)


def test_display_and_exact() -> None:
    assert convert(100, "temperature", "°F") == pytest.approx(212, rel=1e-12)
    assert convert(3.785411784, "volume", "US gal") == pytest.approx(1, rel=1e-15)
    assert base_symbol("volume") == "L"
    assert to_exact(0.1 + 0.2) == Decimal("0.3")


@pytest.mark.parametrize(
    ("text", "own", "hint"),
    [
        ("$165", "USD", "write 165 USD for the whole, or 165 USD/L"),
        ("£0.30/L", "GBP", "write 0.30 GBP/L"),
        ("£30", "EUR", "write it like 0.38 EUR/L, or 12.00 EUR for the whole"),
        ("30 $", "CAD", "write 30 CAD for the whole, or 30 CAD/L"),
        ("€ 30", "USD", "write 30 EUR for the whole, or 30 EUR/L"),
    ],
)
def test_a_price_with_a_sign_leads_to_the_currency_it_can_mean(text: str, own: str, hint: str) -> None:
    with pytest.raises(NotAQuantity) as refused:
        price(text, "none", own)
    assert (refused.value.code, refused.value.hint) == ("price-currency", hint)
    assert text in refused.value.message
