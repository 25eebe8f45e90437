"""A page and what all pages share, through its template, to the bytes of an HTML file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from generator.language import said, spoken
from generator.language import say as plainly_said
from generator.pages.glossary import marks
from generator.pages.view import Chart, Page
from generator.render.code import code_svg
from generator.render.linking import linked
from generator.render.markdown import note_html
from generator.render.mathml import mathml, symbol
from generator.render.rows import table_rows
from generator.render.scripts import in_columns, script_json


def template_dir() -> Path:
    """Find the templates: in the installed package, or beside it in a checkout; FileNotFoundError elsewhere."""
    package = Path(__file__).resolve().parents[1]
    for folder in (package / "site_templates", package.parent / "site_templates"):
        if (folder / "base.html").is_file():
            return folder
    raise FileNotFoundError("the page templates are missing; install the program again")


def say(text: str, **values: object) -> Markup:
    """A text of a template in the language in use; what fills its places is escaped, the text itself is the program's own."""
    if not values:
        return _marked(plainly_said(text))
    return Markup(plainly_said(text, **{name: escape(value) for name, value in values.items()}))


@lru_cache(maxsize=1000)
def _marked(text: str) -> Markup:
    return Markup(text)  # it comes with the program


def _none(_: Chart) -> str:
    return ""


def _days(page: Page) -> tuple[str, str] | None:
    """The first and the last day in the charts by date of a page; None where none has two."""
    charts = [
        [str(row["date"]) for row in chart.values if row.get("date")]
        for chart in page.content.get("charts", ())
    ]
    dated = [days for days in charts if len(set(days)) > 1]
    return (min(map(min, dated)), max(map(max, dated))) if dated else None


class Renderer:
    """Pages to bytes: every value escaped, a name that is not defined is an error and never an empty place."""

    def __init__(self, picture: Callable[[Chart], str] = _none, templates: Path | None = None) -> None:
        """Load templates from `templates`, or from where `template_dir` finds them; `picture` draws a chart.

        Without it, what is drawn is drawn by scripts.
        """
        self.environment = Environment(
            loader=FileSystemLoader(templates or template_dir()),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
            keep_trailing_newline=True,
        )
        self.environment.globals.update(say=say, said=said, spoken=spoken)
        self.environment.filters.update(
            code=code_svg,
            linked=linked,
            mathml=mathml,
            note=note_html,
            picture=picture,
            rows=table_rows,
            in_columns=in_columns,
            script_json=script_json,
            symbol=symbol,
        )

    def alone(self, template: str, **content: object) -> bytes:
        """A file that is no page of a site, as UTF-8."""
        return self.environment.get_template(template).render(content).encode("utf-8")

    def render(self, page: Page, common: Mapping[str, Any]) -> bytes:
        """One page as UTF-8; `common` is what templates see as `site`."""
        template = self.environment.get_template(f"pages/{page.template}")
        told = {
            "period": _days(page),
            "page": page,
            "site": common,
            "root": page.root,
            "word_of": marks(),
        }
        text = template.render({**page.content, **told})
        return text.encode("utf-8")
