"""Every catalogue holds every text of the site that is said, each with the same places, and nothing else."""

from __future__ import annotations

import subprocess
import sys
from string import Formatter

import pytest
from babel.numbers import format_decimal

from generator.language import ENGLISH, LANGUAGES, count, numbering, say, speaking, spoken
from generator.pages.words import number, plus_minus
from tests.translation.catalogue import CATALOGUES, catalogue, renewed, template

OTHERS = [code for code in LANGUAGES if code != ENGLISH]


def places(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


@pytest.mark.parametrize("code", OTHERS)
def test_a_catalogue_is_current(code: str) -> None:
    assert (CATALOGUES / f"{code}.po").read_text(encoding="utf-8") == renewed(code), (
        "run python -m tests.translation.catalogue"
    )
    assert {message.id for message in catalogue(code)} == {message.id for message in template()}


@pytest.mark.parametrize("code", OTHERS)
def test_a_catalogue_is_complete_and_fills_the_same_places(code: str) -> None:
    for message in catalogue(code):
        if not message.id:
            continue
        assert not message.fuzzy, message.id
        forms = [message.string] if isinstance(message.string, str) else list(message.string or ())
        assert forms and all(forms), message.id
        if isinstance(message.id, str):
            assert places(forms[0]) == places(message.id), message.id
            assert forms[0][:1].isspace() == message.id[:1].isspace()
            assert forms[0][-1:].isspace() == message.id[-1:].isspace()
            assert set("<>&") & set(forms[0]) <= set(message.id), "markup comes with the template"
        else:
            assert len(forms) == catalogue(code).num_plurals


@pytest.mark.parametrize("code", OTHERS)
def test_there_is_a_catalogue_for_every_language_and_no_other(code: str) -> None:
    assert sorted(path.stem for path in CATALOGUES.glob("*.po")) == sorted(OTHERS)


def test_a_language_holds_for_its_block_alone() -> None:
    with speaking("de"):
        assert say("Batch {name}", name="7") == "Charge 7"
        assert [count(number, "run", "runs") for number in (0, 1, 2)] == [
            "0 Durchläufe",
            "1 Durchlauf",
            "2 Durchläufe",
        ]
        assert say("a text that no catalogue has") == "a text that no catalogue has"
        with speaking("en"):
            assert say("Batch {name}", name="7") == "Batch 7"
        assert spoken().code == "de"
    assert say("Batch {name}", name="7") == "Batch 7"
    assert count(1, "run", "runs") == "1 run"


def test_commands_have_english_texts_and_the_numbers_of_the_language() -> None:
    with numbering("de"):
        assert number(1234.5, 1) == "1.234,5"
        assert say("Batch {name}", name="7") == "Batch 7"
        assert count(2, "run", "runs") == "2 runs"
    assert number(1234.5, 1) == "1,234.5"


@pytest.mark.parametrize("code", LANGUAGES)
def test_the_signs_are_those_of_cldr(code: str) -> None:
    """CLDR through Babel (library), as its own formatting writes them."""
    with speaking(code):
        for value in (0.0, 1.25, 999.5, 1234.5, 1056000.0):
            assert number(value, 2) == format_decimal(value, "#,##0.00", locale=code)


def test_numbers_have_the_sign_of_the_language() -> None:
    with speaking("de"):
        assert number(-1234.5, 1) == "\u22121.234,5"
        assert number(-0.01, 1) == "0,0"
        assert plus_minus(12.34, 0.1, "L") == "12,34\u202f±\u202f0,20\u202fL"
    assert number(-1234.5, 1) == "\u22121,234.5"


def test_help_and_check_of_a_logbook_load_no_catalogue() -> None:
    code = (
        "import sys; from generator.cli import main\n"
        "try: main(['check', 'logbook'])\nexcept SystemExit: pass\n"
        "assert 'babel' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
