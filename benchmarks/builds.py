"""Builds by number of batches, beside general generators of sites and the least that a build could do; prints one table.

python -m benchmarks.builds 100 1000 10000 [--tools FOLDER] [--full] [--beside hugo]

Every run is a process of its own with a cache folder of its own. A generator that keeps nothing from one run to the next makes
all anew each time; its rebuilds are measured all the same. Ratios are to Hugo's run of the same kind, that of peak
memory to Hugo's full build. Where other work takes the processors, wall time says little and CPU time more. FOLDER holds the other generators, and is filled where it is empty.
With --full that run alone is measured, with --beside one other generator: ten thousand batches take long.
"""

from __future__ import annotations

import argparse
import compileall
import math
import os
import re
import shutil
import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from benchmarks import others
from benchmarks.logbooks import write
from benchmarks.running import Used, run

ROOT = Path(__file__).resolve().parents[1]
FULL, CHANGED, NEW, TEMPLATE, SAME = (
    "full build",
    "one file changed",
    "one new file",
    "template changed",
    "no change",
)
OURS, HUGO = "esterday", "hugo"


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table."""

    batches: int
    what: str
    run: str
    used: Used
    pages: int
    size_mb: float


def main() -> None:
    """Measure every size, and print as it comes."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("sizes", nargs="*", type=int, default=[100, 1000])
    asked.add_argument("--tools", type=Path)
    asked.add_argument("--full", action="store_true")
    asked.add_argument("--beside", choices=[HUGO, "eleventy"], action="append")
    given = asked.parse_args()
    print(f"{os.cpu_count()} processors, Python {sys.version.split()[0]}")
    print(
        f"{'batches':>7} {'what':<9} {'run':<17} {'wall s':>8} {'CPU s':>8} {'peak MB':>8} {'pages':>6} {'MB':>7} {'wall/Hugo':>9} {'CPU/Hugo':>8} {'memory/Hugo':>11}"
    )
    rows: list[Row] = []
    with tempfile.TemporaryDirectory() as made:
        tools = given.tools or Path(made) / "tools"
        tools.mkdir(exist_ok=True)
        others.fetch(tools)
        for size in given.sizes:
            folder = Path(made) / str(size)
            measured = _of_size(size, folder, tools, given.full, given.beside or (HUGO, "eleventy"))
            rows += measured
            shutil.rmtree(folder)
            for row in measured:
                _print(row, rows)
    _growth(rows)


def _of_size(batches: int, folder: Path, tools: Path, full: bool, beside: Sequence[str]) -> list[Row]:
    logbook, site = folder / "logbook", folder / "site"
    write(batches, logbook)
    rows = _ours(batches, logbook, site, folder, full)
    pages, size = rows[0].pages, rows[0].size_mb
    html = sum(path.stat().st_size for path in site.rglob("*.html"))
    for name, lay, command in (
        (HUGO, others.lay_hugo, others.hugo),
        ("eleventy", others.lay_eleventy, others.eleventy),
    ):
        if name not in beside:
            continue
        sources = folder / name
        lay(logbook, sources, pages, html // pages)
        try:
            rows += _other(batches, name, sources, command(tools, sources), full)
        except SystemExit as end:
            print(f"{name} did not get through {batches} batches: {end}", flush=True)
    floor = [sys.executable, "-m", "benchmarks.floor", str(logbook), str(site), str(folder / "floor")]
    rows.append(Row(batches, "floor", FULL, run(floor, ROOT), pages, size))
    return rows


def _ours(batches: int, logbook: Path, site: Path, folder: Path, full: bool) -> list[Row]:
    kept = {"XDG_CACHE_HOME": str(folder / "cache")}
    code = folder / "code"  # a copy, as its templates are changed
    for part in ("generator", "site_templates"):
        shutil.copytree(ROOT / part, code / part)
    compileall.compile_dir(code, quiet=2)  # as an installer does
    command = [sys.executable, "-m", "generator"]
    build = [*command, "build", str(logbook), "--out", str(site)]
    rows: list[Row] = []

    def measure(name: str, arguments: list[str] = build) -> None:
        used = run(arguments, code, kept)
        rows.append(Row(batches, OURS, name, used, *(_weight(site) if arguments is build else (0, 0.0))))

    measure(FULL)
    if full:
        return rows
    measure(SAME)
    (changed, *_) = sorted((logbook / "batches").rglob("*.yaml"))[batches // 2 :]
    _replace(changed, "energy: 14 kWh", "energy: 15 kWh")
    measure(CHANGED)
    _add(logbook)
    measure(NEW)
    _replace(code / "site_templates/pages/batch.html", "</aside>", "</aside>\n<!-- changed -->")
    measure(TEMPLATE)
    measure("check", [*command, "check", "--json", str(logbook)])
    return rows


def _other(batches: int, name: str, sources: Path, build: list[str], full: bool) -> list[Row]:
    rows: list[Row] = []

    def measure(what: str) -> None:
        rows.append(Row(batches, name, what, run(build, sources), *_weight(sources / "public")))

    measure(FULL)
    if full:
        return rows
    measure(SAME)
    pages = sorted((sources / "content/pages").glob("*.md"))
    changed = pages[len(pages) // 2]
    _replace(changed, "14 kWh", "15 kWh")
    measure(CHANGED)
    shutil.copy(changed, changed.with_name("new.md"))
    measure(NEW)
    _replace(others.template(sources), "<main>", "<main><!-- changed -->")
    measure(TEMPLATE)
    return rows


def _add(logbook: Path) -> None:
    """A small batch more, from what is left of the lots of the last one; it has not settled, so that no tank overflows."""
    last = sorted((logbook / "batches").rglob("*.yaml"))[-1]
    text = last.read_text(encoding="utf-8").replace(f"batch: {last.stem}", "batch: new")
    text = text[: text.index("settled:")]
    for amount, less in (
        (r"(lot: oil-.*volume: )\d+", "20"),
        (r"(lot: methanol-.*volume: )[\d.]+", "4.4"),
        (r"(mass: )[\d.]+", "0.2"),
    ):
        text = re.sub(amount, rf"\g<1>{less}", text)
    last.with_name("new.yaml").write_text(text, encoding="utf-8")


def _replace(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text, path
    path.write_text(text.replace(old, new), encoding="utf-8")


def _weight(site: Path) -> tuple[int, float]:
    files = [path for path in site.rglob("*") if path.is_file()]
    return sum(path.suffix == ".html" for path in files), sum(path.stat().st_size for path in files) / 1e6


def _print(row: Row, rows: list[Row]) -> None:
    def beside(name: str, value: Callable[[Used], float]) -> str:
        found = [r for r in rows if (r.batches, r.what, r.run) == (row.batches, HUGO, name)]
        return f"{value(row.used) / value(found[0].used):.3f}" if found else ""

    used = row.used
    print(
        f"{row.batches:>7} {row.what:<9} {row.run:<17} {used.wall_s:8.2f} {used.cpu_s:8.2f} {used.memory_mb:8.0f}"
        f" {row.pages or '':>6} {f'{row.size_mb:.1f}' if row.pages else '':>7}"
        f" {beside(row.run, lambda one: one.wall_s):>9} {beside(row.run, lambda one: one.cpu_s):>8} {beside(FULL, lambda one: one.memory_mb):>11}",
        flush=True,
    )


def _growth(rows: list[Row]) -> None:
    """The exponent of the time of a full build between two sizes: 1 where ten times the batches take ten times as long."""
    full = [row for row in rows if row.what == OURS and row.run == FULL]
    for small, large in pairwise(full):
        ratio = math.log(large.batches / small.batches)
        for name, value in (
            ("wall", large.used.wall_s / small.used.wall_s),
            ("CPU", large.used.cpu_s / small.used.cpu_s),
        ):
            print(
                f"growth of the full build from {small.batches} to {large.batches}, {name}: exponent {math.log(value) / ratio:.2f}"
            )


if __name__ == "__main__":
    main()
