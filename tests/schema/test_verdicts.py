"""A schema says of a file what `check` says of its structure, in both readings; an independent validator decides."""

from __future__ import annotations

import copy
import functools
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from jsonschema import Draft7Validator, Draft202012Validator

from generator.cli import main
from generator.read.document import Document, parse
from generator.read.marks import NOWHERE
from generator.schema import MODELS, NOT_SAID, editor_line, schema_of, schema_text
from generator.validate.grammar import record_of
from tests.logbook_files import BASE, logbook

from .readings import by_core_schema, composed, head_of

ROOT = Path(__file__).parents[2]
GALLERY = BASE.parent
CONTEXT = {"gallon": "US", "currency": ""}  # a schema does not know the settings of the logbook
WORDS = ("", "x", "7", "1.5", "-3", "true", "2026-02-29", "2024-02-29", "1,5 L", "12 L", "12 L at 20 °C", "3 kg", "yes", "KOH", "12.00 EUR")  # fmt: skip


@functools.cache
def validator(kind: str) -> Draft202012Validator:
    return Draft202012Validator(schema_of(kind))


def kind_of(path: Path) -> str | None:
    """The kind of file that a path below a logbook is."""
    parts = path.parts
    return next(
        (name for name in parts if name in MODELS), "logbook" if path.name == "logbook.yaml" else None
    )


def files() -> Iterator[tuple[str, str, Document]]:
    """Kind, text and document of every file of the demo, the good logbook and the gallery that is YAML at all."""
    for folder in (ROOT / "logbook", GALLERY):
        for path in sorted(folder.rglob("*")):
            kind = kind_of(path.relative_to(folder)) if path.suffix in (".yaml", ".md") else None
            if kind is None or (kind == "pages") != (path.suffix == ".md") or not path.is_file():
                continue
            text = path.read_text(encoding="utf-8")
            if kind == "pages" and not text.startswith("---\n"):
                continue
            reading = parse(path.relative_to(ROOT).as_posix(), head_of(path))
            if reading.document is not None and reading.document.data is not None:
                yield kind, head_of(path), reading.document


FILES = list(files())


def structure_holds(kind: str, document: Document) -> bool:
    """What `check` says of the structure of one file."""
    _, problems = record_of(MODELS[kind], document, CONTEXT)
    return all(problem.code in NOT_SAID for problem in problems)


def test_there_are_good_and_bad_files_enough() -> None:
    verdicts = [structure_holds(kind, document) for kind, _, document in FILES]
    assert len(FILES) >= 200
    assert verdicts.count(True) >= 100 and verdicts.count(False) >= 40


@pytest.mark.parametrize("kind", MODELS)
def test_it_is_a_schema_and_the_same_each_time(kind: str) -> None:
    Draft202012Validator.check_schema(schema_of(kind))
    assert json.loads(schema_text(kind)) == schema_of(kind)
    assert schema_text(kind).isprintable() or "\t" not in schema_text(kind)


@pytest.mark.parametrize(("kind", "text", "document"), FILES, ids=[item[2].file for item in FILES])
def test_the_verdict_is_that_of_the_check(kind: str, text: str, document: Document) -> None:
    wanted = structure_holds(kind, document)
    for data in (document.data, by_core_schema(composed(text))):
        found = [error.message[:200] for error in validator(kind).iter_errors(data)]
        assert (not found) == wanted, found


@pytest.mark.parametrize("kind", MODELS)
def test_a_reader_of_an_older_draft_refuses_no_good_file(kind: str) -> None:
    """Many editors know draft 7 alone: they may say less, and must not cry wolf."""
    older = Draft7Validator(schema_of(kind))
    good = [item for item in FILES if item[0] == kind and structure_holds(kind, item[2])]
    assert good
    for _, text, document in good:
        for data in (document.data, by_core_schema(composed(text))):
            assert [error.message[:200] for error in older.iter_errors(data)] == [], document.file


def places(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    yield path
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in inner:
        yield from places(value, (*path, key))


def changed(data: Any) -> Iterator[Any]:
    """The data with one thing wrong, or different: a key dropped or misspelt, a value replaced by a word, a list, a group."""
    for path in places(data):
        for change in ("drop", "misspell", [], ["x"], {}, {"x": "y"}, *WORDS):
            out = copy.deepcopy(data)
            if not path:
                continue
            inner = functools.reduce(lambda at, key: at[key], path[:-1], out)
            if change == "drop":
                del inner[path[-1]]
            elif change == "misspell":
                if isinstance(inner, list):
                    continue
                inner[f"{path[-1]}x"] = inner.pop(path[-1])
            else:
                inner[path[-1]] = change
            yield out


SAMPLES = {
    "logbook": "logbook/logbook.yaml",
    "materials": "logbook/materials",
    "lots": "logbook/lots",
    "batches": "tests/gallery/_base/batches",
    "columns": "tests/gallery/_base/columns",
    "tanks": "tests/gallery/_base/tanks",
    "offers": "tests/gallery/_base/offers",
    "prices": "tests/gallery/_base/prices",
}


@pytest.mark.parametrize("kind", SAMPLES)
def test_the_verdict_stays_the_same_whatever_is_changed(kind: str) -> None:
    document = next(item[2] for item in FILES if item[2].file.startswith(SAMPLES[kind]))
    count = 0
    for data in changed(document.data):
        count += 1
        wanted = structure_holds(kind, Document(document.file, data, NOWHERE))
        found = [error.message[:200] for error in validator(kind).iter_errors(data)]
        assert (not found) == wanted, (data, found)
    assert count > 40


def test_every_key_says_what_it_is_for() -> None:
    for kind in MODELS:
        schema = schema_of(kind)
        for definition in (schema, *schema.get("$defs", {}).values()):
            for key, each in definition.get("properties", {}).items():
                assert each["description"].endswith("."), (kind, key)


def test_no_sentence_is_left_over() -> None:
    from generator.data import rows

    titles: dict[str, set[str]] = {}
    for kind in MODELS:
        schema = schema_of(kind)
        for definition in (schema, *schema.get("$defs", {}).values()):
            titles.setdefault(definition["title"], set()).update(definition.get("properties", {}))
    meanings = rows("keys")
    assert set(meanings["keys"]) <= set().union(*titles.values())
    for name in meanings["own"]:
        record, _, key = name.partition(".")
        assert key in titles[record], name


def test_patterns_are_plain_enough_for_editors() -> None:
    """Nothing that ECMA 262 reads differently from Python: no named groups, no inline flags, no \\A, \\Z or look-behind."""
    patterns = re.findall(r'"pattern": "(.*)"', "".join(schema_text(kind) for kind in MODELS))
    assert len(patterns) > 100
    assert not [each for each in patterns if re.search(r"\(\?(?![:!])|\\\\[AZz]", each)]


def test_a_new_file_begins_with_the_line_by_which_an_editor_finds_its_schema(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    new = ["new", "lot", str(root), "--set", "material=beads", "--set", "quantity=20 kg", "--dry-run"]
    assert "yaml-language-server" not in CliRunner().invoke(main, new).stdout
    assert CliRunner().invoke(main, ["schema", "--out", str(root / ".schemas")]).exit_code == 0
    done = CliRunner().invoke(main, new)
    assert done.exit_code == 0, done.stderr
    assert done.stdout.startswith("# yaml-language-server: $schema=../.schemas/lots.schema.json\n")
    assert json.loads((root / ".schemas" / "lots.schema.json").read_text(encoding="utf-8")) == schema_of(
        "lots"
    )
    assert editor_line(root, "batches/2026/x.yaml").endswith("$schema=../../.schemas/batches.schema.json\n")
    assert CliRunner().invoke(main, ["check", str(root)]).stderr == "2 batches read: 0 errors, 0 warnings.\n"


def test_a_schema_is_printed_or_written_and_nothing_between() -> None:
    assert CliRunner().invoke(main, ["schema", "tanks"]).stdout == schema_text("tanks")
    assert CliRunner().invoke(main, ["schema"]).exit_code == 2
    assert CliRunner().invoke(main, ["schema", "tanks", "--out", "x"]).exit_code == 2
    done = CliRunner().invoke(main, ["schema", "--out", "/proc/none"])
    assert (done.exit_code, "hint" in done.stderr) == (3, True)
