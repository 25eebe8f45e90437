"""Numbers, money and days as CLDR has them, against what Babel itself writes (library)."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from datetime import date
from decimal import Decimal
from pathlib import Path

import altair as alt
import pytest
from babel import Locale, UnknownLocaleError, localedata
from babel.dates import format_skeleton
from babel.numbers import format_currency, format_decimal, get_currency_precision, list_currencies

from generator.charts import theme
from generator.language import LANGUAGES, has_texts, language, numbering, say, speaking, spoken
from generator.locales import _OF_TWO_DECIMALS, is_locale, locales, money_decimals, signs
from generator.pages.words import MINUS, NARROW, Shown, number
from generator.render.pictures import svg

ROOT = Path(__file__).resolve().parents[1]
CHOSEN = (
    "en",
    "en-US",
    "en-GB",
    "en-IN",
    "en-ZA",
    "de",
    "de-DE",
    "de-CH",
    "de-AT",
    "fr-CH",
    "pl",
    "sv-SE",
    "ja-JP",
)
VALUES = (0.0, 1.25, 999.5, 1234.5, 1056000.25, 1234567890.5)
DISPLAY = {"volume": "L", "mass": "kg", "temperature": "°C", "pressure": "bar"}


def view(currency: str) -> Shown:
    return Shown(DISPLAY, currency, 15.0)


def unspaced(text: str) -> str:
    return re.sub(r"\s", "", text)


def test_the_locales_are_those_that_babel_has() -> None:
    known = {name.replace("_", "-") for name in localedata.locale_identifiers()}
    assert locales() == known
    assert len(known) > 500
    assert all(is_locale(name) for name in known)
    assert not any(is_locale(name) for name in ("de_CH", "DE-CH", "tlh", "", "root", "../en", "de-CH\n"))
    assert all(is_locale(code) and has_texts(code) for code in LANGUAGES)


def written_by_babel(value: float, name: str) -> str:
    """A number with two decimals."""
    locale = Locale.parse(name, sep="-")
    form = locale.decimal_formats[None].pattern.partition(";")[0].replace(".###", ".00")
    if locale.number_symbols["latn"]["group"] != "'":
        return format_decimal(value, form, locale=locale)
    # of two quotes Babel takes what is between for a text
    plain = format_decimal(value, form, locale="en")
    return plain.translate({ord(","): "'", ord("."): locale.number_symbols["latn"]["decimal"]})


def test_numbers_are_those_of_every_locale() -> None:
    for name in sorted(locales()):
        with numbering(name):
            assert [number(value, 2) for value in VALUES] == [
                written_by_babel(value, name) for value in VALUES
            ], name


@pytest.mark.parametrize("name", CHOSEN)
@pytest.mark.parametrize("currency", ["CHF", "INR", "JPY", "TND"])
def test_money_is_written_as_there(name: str, currency: str) -> None:
    """The code always stands apart from the number, as CLDR's rule for letters beside digits wants and Babel does not."""
    locale = Locale.parse(name, sep="-")
    with numbering(name):
        for value in (0.5, 310.0, 1234567.89 if signs(name).group != "'" else 123456.78):
            written = view(currency).money(value)
            assert unspaced(written) == unspaced(
                format_currency(Decimal(str(value)), currency, locale=locale, format=code_of(locale))
            )
            assert NARROW in (written[3], written[-4])
        assert view(currency).money(-1).count(MINUS) == 1
        assert view(currency).money(None) == "unknown"


def code_of(locale: Locale) -> str:
    """The pattern of a locale with the code in the place of the symbol."""
    return str(locale.currency_formats["standard"].pattern).replace("¤", "¤¤")


def test_decimals_of_money_are_those_of_cldr() -> None:
    assert {money_decimals(code) for code in ("JPY", "CLP")} == {0}
    assert money_decimals("TND") == 3
    for code in (*_OF_TWO_DECIMALS, *list_currencies(locale="en")):
        assert money_decimals(code) == get_currency_precision(code)
    assert view("JPY").per_volume(152.34) == f"152.3{NARROW}JPY/L"
    assert view("EUR").per_volume(0.5234) == f"0.523{NARROW}EUR/L"


@pytest.mark.parametrize("name", CHOSEN)
def test_charts_write_numbers_as_the_pages_do(name: str) -> None:
    """Drawn: axes and what is told of a mark are written by the one locale of the specification."""
    values = [{"value": value} for value in VALUES]
    with speaking(name):
        text = alt.Text("value:Q", format=",.2f")
        made = theme.finished(theme.rows().mark_text().encode(text=text, y="value:O"), "numbers")
        drawn = re.findall(r"<text[^>]*>([^<]*)</text>", svg(made, values))
        expected = {number(value, 2) for value in VALUES}
    assert expected <= {text.replace("&#39;", "'").replace("&apos;", "'") for text in drawn}


@pytest.mark.parametrize("name", ["en-US", "en-GB", "en-IN", "de-DE", "de-CH"])
def test_a_day_of_a_month_is_written_as_there(name: str) -> None:
    day = date(2026, 3, 5)
    with speaking(name):
        month = spoken().months[day.month - 1]
        written = spoken().signs.day.replace("%-d", str(day.day)).replace("%B", month)
    assert written == format_skeleton("MMMMd", day, locale=Locale.parse(name, sep="-"))


def test_texts_are_in_the_nearest_language_that_there_is() -> None:
    with speaking("de-CH"):
        assert (spoken().code, say("unknown"), number(1234.5, 1)) == ("de", "unbekannt", "1'234.5")
    with speaking("fr-CH"):
        assert (spoken().code, say("unknown"), spoken().months[1]) == ("en", "unknown", "February")
        assert spoken().signs.day == "%-d %B"
    assert [has_texts(name) for name in ("de-CH", "en-IN", "fr-CH", "den")] == [True, True, False, False]
    with pytest.raises(UnknownLocaleError):
        language("tlh-KX")


@pytest.mark.parametrize("name", ["de-CH", "fr-CH", "de"])
def test_a_check_loads_no_babel_in_any_locale(name: str, tmp_path: Path) -> None:
    logbook = tmp_path / "logbook"
    shutil.copytree(ROOT / "tests" / "gallery" / "_base", logbook)
    settings = logbook / "logbook.yaml"
    settings.write_text(
        f"{settings.read_text(encoding='utf-8').rstrip()}\nlocale: {name}\n", encoding="utf-8"
    )
    code = (
        "import sys; from generator.cli import main\n"
        f"try: main(['check', {str(logbook)!r}])\nexcept SystemExit as done: assert not done.code, done.code\n"
        "assert 'babel' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
