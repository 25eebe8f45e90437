"""JSON Schema of each kind of file, made from the grammar (`records.py`), for editors that complete and mark while one types.

A schema says what one file must look like: keys, lists, words, how a number with its unit is written. It is read twice:
by tools that keep every scalar as text, as `esterday` does, and by editors that follow the YAML core schema, where `1.61`
is a number and `true` is not a word. What it cannot say is in `NOT_SAID`.
"""

from __future__ import annotations

import functools
import json
import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, get_args

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from generator import fields, pricing, records
from generator.data import rows
from generator.properties import properties
from generator.units import LONGEST, MAX_DIGITS, symbols, units

SCHEMAS = ".schemas"  # in the logbook; hidden, and so not read as a record
DIALECT = "https://json-schema.org/draft/2020-12/schema"
MODELS: Mapping[str, type[records.Record]] = {
    "logbook": records.Workshop,
    "materials": records.Materials,
    **{folder: kind.model for folder, kind in records.KINDS.items()},
    "pages": records.PageHead,
}
# codes of the grammar that a schema leaves to `check`: they reckon with values, or with tables of the machine
NOT_SAID = frozenset(
    (
        "dip-table",
        "out-of-range",
        "profile-sum",
        "shape-impossible",
        "stages-sum",
        "unknown-locale",
        "unknown-zone",
    )
)

_NUMBER = r"[-+]?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?"
_FEW_DIGITS = rf"(?!\s*[<>]?\s*[-+]?(?:[0-9]\.?){{{MAX_DIGITS + 1}}})"
_YEAR = r"(?:19[89]|20[0-9]|21[0-9])[0-9]"
_LEAP = r"(?:19(?:8[048]|9[26])|20(?:0[048]|[2468][048]|[13579][26])|21(?:0[48]|[2468][048]|[13579][26]))"
_DAY = (
    rf"(?:{_YEAR}-(?:(?:0[13578]|1[02])-(?:0[1-9]|[12][0-9]|3[01])|(?:0[469]|11)-(?:0[1-9]|[12][0-9]|30)"
    rf"|02-(?:0[1-9]|1[0-9]|2[0-8]))|{_LEAP}-02-29)"
)
_SPECIAL = re.compile(r"[.*+?^$(){}|\[\]\\/]")
_PLAIN_TEXT = ["string", "number", "boolean"]  # what the core schema may make of a text without quotes


def schema_text(kind: str) -> str:
    """The schema of one kind of file, as JSON; the same grammar gives the same bytes."""
    return json.dumps(schema_of(kind), ensure_ascii=False, indent=1) + "\n"


@functools.cache
def schema_of(kind: str) -> dict[str, Any]:
    """The schema of one kind of file.

    Raises KeyError for a kind that does not exist: a mistake in the program.
    """
    schema = MODELS[kind].model_json_schema(schema_generator=_FromGrammar)
    meanings = rows("keys")
    for definition in (schema, *schema.get("$defs", {}).values()):
        rule = _PROPERTY_RULES.get(definition["title"])
        if rule is not None:
            definition["allOf"] = [_when(name, rule(name)) for name in properties()]
        for key, each in definition.get("properties", {}).items():
            own = meanings["own"].get(f"{definition['title']}.{key}") or meanings["keys"][key]
            each["description"] = f"{own} {each['description']}" if "description" in each else own
    return {"$schema": DIALECT, "$id": file_name(kind), **schema}


def file_name(kind: str) -> str:
    """The name that the schema of a kind is written under."""
    return f"{kind}.schema.json"


def editor_line(root: Path, file: str) -> str:
    """The first line of a new file, by which an editor finds its schema; nothing where the logbook keeps none in `.schemas`.

    `file` is the file's path below the logbook.
    """
    schema = f"{SCHEMAS}/{file_name(file.split('/', 1)[0])}"
    if not (root / schema).is_file():
        return ""
    return f"# yaml-language-server: $schema={'../' * file.count('/')}{schema}\n"


def _reader(annotation: Any) -> Any:
    """The function that reads a type of `fields.py` or `records.py`."""
    return get_args(annotation)[-1].func


def _written(pattern: str, description: str, types: Any = "string", **more: Any) -> dict[str, Any]:
    return {"type": types, "pattern": f"^{pattern}$", "description": description, **more}


def _text() -> dict[str, Any]:
    return {"type": _PLAIN_TEXT, "pattern": r"\S", "maxLength": fields.MAX_TEXT}


def _id() -> dict[str, Any]:
    reserved = "|".join(sorted(_any_case(name) for name in fields.RESERVED))
    told = "Letters A-Z, a-z, digits and hyphens, at most 64."
    return _written(
        rf"(?!(?:{reserved})$){fields.ID.pattern}", told, ["string", "integer", "boolean"], minimum=0
    )


def _words(words: tuple[str, ...]) -> dict[str, Any]:
    """One of a few words, and what the core schema makes of those that look like a number or a truth."""
    typed: list[Any] = [int(word) for word in words if word.isdigit()]
    typed += [word == "true" for word in words if word in ("true", "false")]
    return {"enum": [*words, *typed]}


def _any_case(word: str) -> str:
    return "".join(f"[{char.lower()}{char.upper()}]" if char.isalpha() else char for char in word)


def _units(kind: str) -> str:
    """Every way to write a unit of a kind, the longest first."""
    names = sorted(units(kind), key=lambda name: (-len(name), name))
    written = [r"\s+".join(_SPECIAL.sub(r"\\\g<0>", part) for part in name.split()) for name in names]
    if kind == "volume":
        written += [_any_case(word) for word in ("gallons", "gallon", "gal")]
    return "|".join(written)


def _quantity(kinds: tuple[str, ...], sign: bool) -> dict[str, Any]:
    """A number with its unit; a volume or a density may say at which temperature."""
    at = rf"(?:\s* at \s*{_FEW_DIGITS}{_NUMBER}\s*(?:{_units('temperature')}))?"
    branches = [
        rf"(?:{_units(kind)}){at if kind in ('volume', 'density') else ''}" for kind in dict.fromkeys(kinds)
    ]
    signed = r"[<>]?\s*" if sign else ""
    names = ", ".join(name for kind in dict.fromkeys(kinds) for name in symbols(kind))
    told = f"{' or '.join(dict.fromkeys(kinds)).capitalize()}, with its unit: {names}."
    pattern = rf"{_FEW_DIGITS}\s*{signed}{_NUMBER}\s*(?:{'|'.join(branches)})\s*"
    return _written(pattern, told, maxLength=LONGEST)


def _price(whole: bool) -> dict[str, Any]:
    per = "|".join(_units(kind) for kind in ("volume", "mass", "energy", "distance", "duration"))
    behind = "" if whole else rf"(?:\/\s*(?:{per}))?"
    told = (
        "The whole amount, such as 12.00 EUR."
        if whole
        else "A price, such as 0.38 EUR/L, or 12.00 EUR for all."
    )
    return _written(rf"{_FEW_DIGITS}\s*{_NUMBER}\s*[A-Z]{{3}}\s*{behind}\s*", told, maxLength=LONGEST)


def _property() -> dict[str, Any]:
    return {"enum": list(properties()), "description": "A property from the table of properties."}


@functools.cache
def _by_reader() -> Mapping[Any, Callable[[], dict[str, Any]]]:
    """What each type of the grammar looks like when it is written."""
    clock = r"(?:[T ](?:[01][0-9]|2[0-3]):[0-5][0-9])?"
    return {
        _reader(fields.Text): _text,
        _reader(fields.Id): _id,
        _reader(fields.Date): lambda: _written(_DAY, "Year-month-day, such as 2026-03-14."),
        _reader(fields.Moment): lambda: _written(
            _DAY + clock, "A day with or without time, such as 2026-03-14T09:10."
        ),
        _reader(fields.Yes): lambda: _words(("true", "false")),
        _reader(fields.Number): lambda: _written(
            rf"{_FEW_DIGITS}{_NUMBER}", "A number without unit.", ["string", "number"]
        ),
        _reader(pricing.Currency): lambda: _written("[A-Z]{3}", "Three letters, such as EUR."),
        _reader(records.Address): lambda: _written(records.ADDRESS, "Such as https://example.org/fuel/."),
        _reader(records.Colour): lambda: _written("#[0-9A-Fa-f]{6}", 'In quotes, such as "#005a91".'),
        _reader(fields.Locale): lambda: {
            **_text(),
            "description": "A locale of CLDR, such as en-GB or de-CH.",
        },
        _reader(fields.Zone): lambda: {**_text(), "description": "A time zone, such as Europe/Lisbon."},
        _reader(pricing.AnyPrice): lambda: _price(whole=False),
        _reader(records.WholePrice): lambda: _price(whole=True),
        _reader(records.PropertyName): _property,
        _reader(records.FattyAcid): lambda: {"enum": list(records.FATTY_ACIDS)},
    }


class _FromGrammar(GenerateJsonSchema):
    """The schema of what is written in a file: types by the functions that read them, nothing null, no invented titles."""

    def _known(self, schema: Any) -> dict[str, Any] | None:
        read = schema["function"]["function"]
        if read in _by_reader():
            return _by_reader()[read]()
        if hasattr(read, "words"):
            return _words(read.words)
        return _quantity(read.kinds, read.sign) if hasattr(read, "kinds") else None

    def function_plain_schema(self, schema: core_schema.PlainValidatorFunctionSchema) -> JsonSchemaValue:
        """One value, as its reader takes it."""
        return self._known(schema) or super().function_plain_schema(schema)

    def function_before_schema(self, schema: core_schema.BeforeValidatorFunctionSchema) -> JsonSchemaValue:
        """One value whose reader stands before a type of Python's own."""
        return self._known(schema) or super().function_before_schema(schema)

    def function_after_schema(self, schema: core_schema.AfterValidatorFunctionSchema) -> JsonSchemaValue:
        """One value that is narrowed after it was read."""
        return self._known(schema) or super().function_after_schema(schema)

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """What may be left out is never written as nothing."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """The default is shown as it would be written."""
        inner = self.generate_inner(schema["schema"])
        usual = schema.get("default")
        text = getattr(usual, "text", usual)
        return {**inner, "default": text} if isinstance(text, str | bool) and "$ref" not in inner else inner

    def dict_schema(self, schema: core_schema.DictSchema) -> JsonSchemaValue:
        """A group whose keys are names, each held to its rule."""
        keys, values = (self.generate_inner(schema[part]) for part in ("keys_schema", "values_schema"))
        return {"type": "object", "propertyNames": keys, "additionalProperties": values}

    def tagged_union_schema(self, schema: core_schema.TaggedUnionSchema) -> JsonSchemaValue:
        """One of several groups; which one, their own fixed word says."""
        return {"oneOf": [self.generate_inner(branch) for branch in schema["choices"].values()]}

    def field_title_should_be_set(self, schema: Any) -> bool:
        """Keys are their own titles."""
        return False


def _result_rule(name: str) -> dict[str, Any]:
    """What a test's value looks like, by its property, and how far off it can be."""
    row = properties()[name]
    value = _words(tuple(row.words)) if row.words else _quantity(tuple(row.kinds), sign=True)
    spread = False if row.words else _quantity(records.spread_kinds(name), sign=False)
    return {"value": value, "repeatability": spread, "uncertainty": spread}


def _limit_rule(name: str) -> dict[str, Any]:
    """What a limit looks like, by its property."""
    row = properties()[name]
    if row.words:
        return {"min": False, "max": False, "words": {"items": _words(tuple(row.words))}}
    line = _quantity(tuple(row.kinds), sign=False)
    return {"min": line, "max": line, "words": {"maxItems": 0}}


_PROPERTY_RULES: Mapping[str, Callable[[str], dict[str, Any]]] = {
    "Test": _result_rule,
    "OwnLimit": _limit_rule,
}


def _when(name: str, rule: dict[str, Any]) -> dict[str, Any]:
    return {
        "if": {"properties": {"property": {"const": name}}, "required": ["property"]},
        "then": {"properties": rule},
    }
