"""A page for every template, with a text of one's choice in every place that a logbook's text can reach."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generator.charts.flow import Flow, flow
from generator.explaining import Explained
from generator.methods import Check, Described, Method, Symbol
from generator.pages.batch_working import Working
from generator.pages.glossary import Word
from generator.pages.offer_moved import Mover, Slide, Typed
from generator.pages.view import Cell, Chart, Entry, Figure, Head, Page, TableView
from generator.pages.weigh_words import Row, Section
from generator.problems import Rule

VALUES = (
    {"date": "2026-01-05", "batch": "b1", "closure_pct": 98.0},
    {"date": "2026-02-05", "batch": "b2", "closure_pct": 99.0},
)


def common(text: str = "plain", audience: str = "workshop") -> dict[str, Any]:
    return {
        "title": text,
        "notice": text,
        "as_of": "2026-03-01",
        "as_of_basis": "the latest date",
        "audience": audience,
        "currency": "EUR",
        "units": text,
        "caution": text,
        "no_statement": text,
        "nav": [(text, "index.html", "home"), ("Batches", "batches.html", "batches")],
        "problems_count": 2,
        "live": None,
        "names": {"b1-x": "batches/b1-x.html"},
    }


def table(text: str, id_: str = "t1") -> TableView:
    heads = (Head(text, text, text), Head("Yield", "%", "by volume", numeric=True, method="yield"))
    rows = (
        (Cell(text, text, "batches/b1.html", f"row-{id_}"), Cell("99.1", "99.123")),
        (Cell("b2", "b2"), Cell(text, "")),
    )
    return TableView(id_, text, heads, rows, filterable=True)


def chart(text: str, id_: str = "closure") -> Chart:
    values = tuple({**value, "batch": f"{text}{place}"} for place, value in enumerate(VALUES))
    return Chart(id_, text, text, "closure", values, table(text, f"{id_}-table"))


def figures(text: str) -> list[Figure]:
    return [Figure(text, text, text, "yield"), Figure("Fuel", "unknown", "", "", text)]


def described(text: str) -> Described:
    symbols = (Symbol("y", text, text), Symbol("x_i", text, text, "x"))
    return Described(
        "m.f", text, text, ("y = sum(x_i) / 2",), symbols, "", text, text, text, (Check(text, text, text, 2),)
    )


def _section(text: str) -> Section:
    return Section(
        text, (Row(text, text, text, tick=True), Row(text, text, text, "dose", strong=True)), (text,)
    )


def _flow(text: str) -> Flow:
    return flow([{"a": text}, {"b": text}], {("a", "b"): 2.0}, text)


def _mover(text: str) -> Mover:
    slides = (Slide("acid", text, (text, text), 1), Slide("water", text, (text,), 0))
    typed = (Typed("asked", text, text, "0.44"), Typed("diesel", text, text, ""))
    data = {"waters": 1, "at": [0, 0], "steps": [{"texts": {"dose": text}, "planes": {"cost": None}}]}
    places = ("cost", "cost_low", "cost_high", "cost_range", "saving", "highest", "highest_at_pump", "room")
    first = dict.fromkeys((*places, "dose", "fuel", "basis", "advice"), text)
    ranges = {"both": text, "least": text, "none": text}
    return Mover(slides, typed, text, text, text, 3, 2, text, text, (3, 3), ranges, first, data)


def content(text: str) -> Mapping[str, Mapping[str, Any]]:
    sheet = {
        "figures": {text: figures(text)},
        "charts": [chart(text)],
        "tables": [table(text)],
        "cautions": [text],
        "intro": text,
        "history": text,
        "moved": True,
    }
    bed = {
        "vessel": text,
        "medium": text,
        "state": text,
        "share_text": text,
        "detail": text,
        "href": "columns.html",
    }
    bar = {"label": text, "text": text, "share": 40.0, "censored": False}
    problem = dict.fromkeys(("place", "level", "message", "hint", "code", "excerpt"), text)
    reason = Explained(Rule(text, text, text, text), text, text, text, (text,), True)
    return {
        "home": {
            "actions": [(text, "oil.html"), (text, "")],
            "beds": [{**bed, "share": 40.0}, {**bed, "share": None}],
            "last": figures(text),
            "last_link": (text, "batches/b1.html"),
            "figures": figures(text),
            "charts": [chart(text)],
            "recent": table(text),
            "cautions": [text],
            "late": (text, "quality.html#late"),
        },
        "batches": {
            "planned": [(text, "batches/b3.html", text)],
            "table": table(text),
            "charts": [chart(text)],
        },
        "batch": {
            "standing": text,
            "late": text,
            "moved": True,
            "figures": {text: figures(text)},
            "entries": [Entry(text, text, text, "../oil.html"), Entry("Fuel", text, text)],
            "soap_bars": [bar, {**bar, "censored": True}],
            "cost_title": text,
            "cost_bars": [{**bar, "share": None}],
            "tables": [table(text)],
            "note": "plain",
            "public_note": "plain",
            "previous": (text, "b0.html"),
            "next": None,
            "beside": (text, "../compare.html#compare=b0,b1"),
            "problems": [(text, "bad-date")],
            "assumed": text,
            "workings": [Working(text, ((Cell(text), Cell(text), Cell(text, href="../methods.html")),))],
            "sure": table(text, "how-sure"),
            "explained": (text,),
            "paper": [(text, "../sheets/b1.html")],
            "record": {"file": "b1.json", "digest": text},
        },
        "sheet": {
            "figures": {text: figures(text)},
            "results": table(text, "results"),
            "coverage": text,
            "late": text,
            "public_note": "plain",
            "back": "../batches/b1.html",
            "digest": text,
            "scanned": "",
            "unscanned": text,
            "caveat": text,
        },
        "label": {
            "told": figures(text),
            "filled": (text,),
            "of": text,
            "late": text,
            "cautions": (text,),
            "caveat": text,
            "back": "../batches/b1.html",
            "scanned": "https://example.org/batches/b1.html",
            "unscanned": text,
        },
        "plan": {
            "rule": text,
            "sections": [_section(text)],
            "tables": [table(text)],
            "missing": [text],
            "cautions": [text],
            "command": text,
            "note": "plain",
            "problems": [(text, "bad-date")],
            "previous": (text, "b0.html"),
            "next": None,
        },
        "compare": {"choices": [("b1", "batches/b1.html", text)]},
        "find": {"register": {text: [(text, "batches/b1.html")]}},
        "charge": {**sheet, "action": text, "previous": (text, "a-1.html"), "next": None},
        "offer": {**sheet, "command": text, "like": text, "mover": _mover(text)},
        **dict.fromkeys(("quality", "drift", "costs", "oil", "columns", "tanks"), sheet),
        "tracing": {**sheet, "flows": {text: _flow(text)}},
        "methods": {
            "methods": [Method("yield", text, text, (described(text),))],
            "held": {"m.f": text},
            "plainly": {"yield": [Word("soap", text, text, text)]},
            "tables": [table(text)],
            "cautions": [text],
            "intro": text,
        },
        "problems": {
            "explained": "explained.html",
            "groups": [{"file": text, "problems": [{**problem, "explained": "explained.html#bad-date"}]}],
        },
        "glossary": {
            "topics": [(text, [Word("soap", text, text, text, (text,), (text,), text, text, "yield", text)])],
            "sorted": [Word("soap", text, text, text)],
        },
        "explain": {"fix": text, "areas": [{"name": text, "problems": [reason]}]},
        "downloads": {
            "files": [{"name": text, "href": "data/batches.csv", "text": text}],
            "dictionary": [table(text)],
            "sums": [(text, text)],
        },
        "page": {"body": "plain"},
    }


def page(name: str, text: str = "plain") -> Page:
    path = {
        "batch": "batches/b1.html",
        "plan": "batches/b3.html",
        "sheet": "sheets/b1.html",
        "label": "labels/b1.html",
        "charge": "charges/a-2.html",
        "offer": "offers/o-1.html",
    }.get(name, f"{name}.html")
    section = {
        "batch": "batches",
        "plan": "batches",
        "sheet": "batches",
        "label": "batches",
        "charge": "columns",
        "offer": "oil",
    }.get(name, name)
    return Page(path, text, f"{name}.html", text, section, content(text)[name])
