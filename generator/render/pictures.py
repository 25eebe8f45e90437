"""Charts as pictures: SVG that a page holds in itself, drawn at the build, so that no script is needed to see it."""

from __future__ import annotations

import errno
import json
import os
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import astuple
from functools import cache, lru_cache
from html import escape
from importlib.metadata import version
from pathlib import Path
from typing import Any

from markupsafe import Markup

from generator.kept import Kept, digest
from generator.language import Language, spoken
from generator.pages.view import Chart, Page
from generator.render.slimmed import slimmed

DRAWN_BY = ("altair", "vl-convert-python")
REFUSED = re.compile(r"\bOs \{ code: (\d+)")  # an error of the system, as the engine writes it
UNANSWERED = re.compile("oneshot canceled|receiver is gone")  # as the engine says that its thread has ended
TAG = re.compile(r"<[a-z][^>]*>")
# A style attribute is refused by the pages' policy; roles inside a picture would be read beside its own name.
DROPPED = re.compile(r' (?:style|role|aria-roledescription|aria-label|aria-hidden)="[^"]*"')
NUMBERED = re.compile(r'(?<=id=")(?:clip|gradient)_?\d+|(?<=url\(#)(?:clip|gradient)_?\d+')


def svg(specification: Mapping[str, Any], values: Sequence[Mapping[str, Any]], id_: str = "chart") -> Markup:
    """One SVG element: ids made from `id_`, no style attributes, its description as its name."""
    filled = _filled(_compiled(json.dumps(specification)), values)
    with _engine() as engine:
        text: str = engine.vega_to_svg(filled)
    text = TAG.sub(lambda tag: DROPPED.sub("", tag[0]), text[text.index("<svg") :])
    name = escape(str(specification.get("description", "")), quote=True)
    text = _renumbered(text, id_).replace("<svg", f'<svg role="img" aria-label="{name}"', 1)
    return Markup(text)  # Vega escapes the text it was given


@lru_cache(maxsize=64)
def _compiled(specification: str) -> dict[str, Any]:
    """What is drawn by a specification, whatever rows it is given: the same for many pictures, and a quarter of the work on one."""
    rough = {**json.loads(specification), "data": {"name": "table", "values": []}}
    with _engine() as engine:
        made: dict[str, Any] = engine.vegalite_to_vega(rough)
    return made


@contextmanager
def _engine() -> Iterator[Any]:
    """What draws. OSError where the machine refuses it a thread, a file or a socket.

    It makes a panic of that, or where its own thread met it, a ValueError that nobody answers any more.
    """
    import vl_convert  # noqa: PLC0415 - slow, and not needed where nothing is new

    try:
        yield vl_convert
    except BaseException as error:
        refused = REFUSED.search(str(error)) if type(error).__name__ == "PanicException" else None
        if refused is not None:
            number = int(refused[1])
            raise OSError(number, os.strerror(number)) from None
        if UNANSWERED.search(str(error)):
            why = "what draws the charts has ended; files, threads or memory may have run out"
            raise OSError(errno.EAGAIN, why) from None
        raise


def _filled(made: Mapping[str, Any], values: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    rows = {"values": list(values)}
    return {**made, "data": [{**data, **rows} if data["name"] == "table" else data for data in made["data"]]}


def _renumbered(text: str, id_: str) -> str:
    """Ids of clip paths count up through a process: number them within the picture instead."""
    seen: dict[str, str] = {}
    return NUMBERED.sub(lambda match: seen.setdefault(match[0], f"{id_}-clip-{len(seen) + 1}"), text)


class Pictures:
    """Charts drawn, and the specifications they are drawn from; each kept from one build to the next."""

    def __init__(self, kept: Kept | None = None) -> None:
        """Keep nothing where no place for it is given."""
        self.kept = kept or Kept()
        self._drawn = lru_cache(maxsize=64)(self._draw)  # a chart that stands on two pages is drawn once
        self._made = cache(self._make)

    def picture(self, chart: Chart) -> Markup:
        """The picture of a chart."""
        return Markup(
            self._drawn(chart.kind, _text(chart.params), json.dumps(chart.values), chart.id, spoken())
        )

    def specifications(self, pages: Iterable[Page]) -> dict[str, dict[str, Any]]:
        """The specification of every chart on these pages by its id; ValueError where one id stands for two."""
        found: dict[str, dict[str, Any]] = {}
        for page in pages:
            for chart in page.content.get("charts", ()):
                together(page.path, {chart.id: self._made(chart.kind, _text(chart.params), spoken())}, found)
        return dict(sorted(found.items()))

    def _draw(self, kind: str, params: str, values: str, id_: str, said: Language) -> str:
        def drawn() -> str:
            return slimmed(svg(self._made(kind, params, said), json.loads(values), f"chart-{id_}"))

        return self.kept.text(digest("picture", _maker(), *_signs(said), kind, params, values, id_), drawn)

    def _make(self, kind: str, params: str, said: Language) -> dict[str, Any]:
        def made() -> str:
            from generator.charts.kinds import spec  # noqa: PLC0415 - slow, and not needed where nothing is new

            return json.dumps(spec(kind, json.loads(params)))

        found: dict[str, Any] = json.loads(
            self.kept.text(digest("specification", _maker(), *_signs(said), kind, params), made)
        )
        return found


def together(path: str, made: Mapping[str, dict[str, Any]], found: dict[str, dict[str, Any]]) -> None:
    """Lay the specifications of a page among those that were found; ValueError where one id stands for two."""
    for id_, one in made.items():
        if found.setdefault(id_, one) != one:
            raise ValueError(f"{path}: the chart id {id_!r} already stands for another specification")


def _signs(said: Language) -> tuple[str, str]:
    """What a picture has of the language it is drawn in."""
    return said.code, json.dumps(astuple(said.signs))


def _text(params: Mapping[str, Any]) -> str:
    return json.dumps(params, sort_keys=True, allow_nan=False)


@cache
def _maker() -> str:
    """What all pictures come from, beside their rows: this program's code for them, and the libraries that draw."""
    package = Path(__file__).resolve().parents[1]
    code = [
        path.read_bytes()
        for path in (
            *sorted((package / "charts").glob("*.py")),
            Path(__file__),
            Path(slimmed.__code__.co_filename),
        )
    ]
    return digest(*(f"{name} {version(name)}" for name in DRAWN_BY), *code)
