"""A picture of what flows into what: bars in columns, as high as the amount, and bands between them.

Geometry alone, in units of the picture; words stand beside the bars, so that a bar is never lower than a line of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

WIDTH, BAR, LINE, TALL = 760.0, 10.0, 17.0, 260.0
EDGE = 150.0  # for the words beside the first and the last column


@dataclass(frozen=True, slots=True)
class Bar:
    """One thing: the column and the place of its bar, its words and whether they stand before it."""

    name: str
    text: str
    x: float
    y: float
    height: float
    before: bool

    @property
    def words_x(self) -> float:
        """Where its words begin, or end where they stand before it."""
        return self.x - 5 if self.before else self.x + BAR + 5

    @property
    def words_y(self) -> float:
        """The middle of its words."""
        return self.y + self.height / 2


@dataclass(frozen=True, slots=True)
class Flow:
    """A whole picture: bars, the outlines of bands as SVG paths, its height, and what it says in a sentence."""

    bars: tuple[Bar, ...]
    bands: tuple[str, ...]
    height: float
    sentence: str
    width: float = WIDTH
    bar: float = BAR


def flow(
    columns: Sequence[Mapping[str, str]], amounts: Mapping[tuple[str, str], float], sentence: str
) -> Flow:
    """Lay out columns of things by name, each with its words, and the amounts that flow from one to another.

    A thing is as high as what flows into it or out of it, whichever is more; all columns share one scale. Names are
    unique over all columns.
    """
    sizes = {name: _size(name, amounts) for column in columns for name in column}
    most = max((sum(sizes[name] for name in column) for column in columns), default=0.0)
    scale = TALL / most if most else 0.0
    bars: dict[str, Bar] = {}
    height = 0.0
    for number, column in enumerate(columns):
        x = EDGE + number * (WIDTH - 2 * EDGE - BAR) / max(len(columns) - 1, 1)
        y = 0.0
        for name, text in column.items():
            tall = sizes[name] * scale
            top = y + max(LINE - tall, 0) / 2
            bars[name] = Bar(name, text, round(x, 1), round(top, 1), round(max(tall, 1.0), 1), number == 0)
            y += max(tall, LINE) + 3
        height = max(height, y)
    return Flow(tuple(bars.values()), tuple(_bands(bars, amounts, scale)), round(height, 1), sentence)


def _size(name: str, amounts: Mapping[tuple[str, str], float]) -> float:
    out = sum(amount for (source, _), amount in amounts.items() if source == name)
    into = sum(amount for (_, target), amount in amounts.items() if target == name)
    return max(out, into)


def _bands(bars: Mapping[str, Bar], amounts: Mapping[tuple[str, str], float], scale: float) -> Iterator[str]:
    """From the right edge of one bar to the left edge of another, in the order of the bars, none over another."""
    order = {name: place for place, name in enumerate(bars)}
    left, right = dict.fromkeys(bars, 0.0), dict.fromkeys(bars, 0.0)
    for source, target in sorted(amounts, key=lambda pair: (order[pair[0]], order[pair[1]])):
        tall = amounts[source, target] * scale
        if tall <= 0:
            continue
        x0, x1 = bars[source].x + BAR, bars[target].x
        y0, y1 = bars[source].y + right[source], bars[target].y + left[target]
        right[source] += tall
        left[target] += tall
        middle = (x0 + x1) / 2
        yield (
            f"M{x0:.1f},{y0:.1f}C{middle:.1f},{y0:.1f} {middle:.1f},{y1:.1f} {x1:.1f},{y1:.1f}"
            f"V{y1 + tall:.1f}C{middle:.1f},{y1 + tall:.1f} {middle:.1f},{y0 + tall:.1f} {x0:.1f},{y0 + tall:.1f}Z"
        )
