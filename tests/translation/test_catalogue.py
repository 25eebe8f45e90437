"""Every catalogue holds every text of the site that is said, each with the same places, and nothing else."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path
from string import Formatter

import pytest
from babel.numbers import format_decimal

from generator.language import ENGLISH, LANGUAGES, count, numbering, say, speaking, spoken
from generator.pages.words import number, plus_minus
from tests.logbook_files import BASE
from tests.translation.catalogue import CATALOGUES, ROOT, catalogue, renewed, template

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


INVENTED = """\
msgid ""
msgstr "Content-Type: text/plain; charset=utf-8\\nPlural-Forms: nplurals=2; plural=(n > 1);\\n"

msgid "Batches"
msgstr "Brassins inventés"
"""


def test_a_translation_is_one_file(tmp_path: Path) -> None:
    """A catalogue of one text, laid beside the others: the site speaks it, and English where it has nothing."""
    for name in ("generator", "site_templates"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    book = tmp_path / "logbook"
    shutil.copytree(BASE, book)
    with (book / "logbook.yaml").open("a", encoding="utf-8") as settings:
        settings.write("locale: fr\n")

    def french() -> str:
        command = [
            sys.executable,
            "-m",
            "generator",
            "build",
            str(book),
            "--no-cache",
            "--out",
            str(tmp_path / "site"),
        ]
        done = subprocess.run(
            command, cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(tmp_path)}, capture_output=True, text=True, check=False
        )  # fmt: skip
        page = tmp_path / "site" / "batches.html"
        return page.read_text(encoding="utf-8") if page.exists() else done.stderr

    assert "Brassins inventés" not in french()
    path = tmp_path / "generator" / "data" / "translations" / "fr.po"
    path.write_text(INVENTED, encoding="utf-8")
    said = french()
    assert '<html lang="fr">' in said and "<h1>Brassins inventés</h1>" in said, said[:500]
    assert "Columns" in said


def test_a_number_of_things_stands_in_the_case_of_its_sentence() -> None:
    def told(runs: int) -> str:
        return say("in {run}{once_more}", run=count(runs, "run", "runs"), once_more="")

    with speaking("de"):
        assert [told(1), told(7)] == ["in 1 Durchlauf", "in 7 Durchläufen"]
        assert f"{count(2, 'bed', 'beds'):dative}" == "2 Betten", (
            "a form that is not given is the noun itself"
        )
    assert [told(1), told(7)] == ["in 1 run", "in 7 runs"]


def _is_count(node: ast.expr) -> bool:
    """Whether a value is a number of things, and nothing else at any time."""
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "count"


def _filled() -> dict[tuple[str, str], set[tuple[str, str] | None]]:
    """For each text and place what it is filled with: the nouns of a number of things, or None."""
    out: dict[tuple[str, str], set[tuple[str, str] | None]] = {}
    for path in (ROOT / "generator").rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if not (isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant)):
                continue
            if not (isinstance(node.func, ast.Name) and node.func.id in ("say", "tell")):
                continue
            for each in node.keywords:
                counts = _is_count(each.value)
                nouns = [arg.value for arg in each.value.args[1:]] if counts else []  # type: ignore[attr-defined]
                place = (str(node.args[0].value), each.arg or "")
                out.setdefault(place, set()).add((nouns[0], nouns[-1]) if nouns else None)
    return out


@pytest.mark.parametrize("code", OTHERS)
def test_a_form_is_asked_only_of_a_number_of_things_and_is_in_the_catalogue(code: str) -> None:
    given = {(message.id, message.context) for message in catalogue(code) if message.context}
    filled, asked = _filled(), 0
    for message in catalogue(code):
        for text in [message.string] if isinstance(message.string, str) else message.string or ():
            for _, place, form, _ in Formatter().parse(text):
                if form:
                    asked += 1
                    nouns = filled[str(message.id), str(place)]
                    assert nouns and None not in nouns, (
                        f"{message.id}: {place} is not always a number of things"
                    )
                    assert {(each, form) for each in nouns} <= given
    assert asked or code != "de"


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
