"""How the time for reading one line grows with its length: a line of four times the signs should take about four times as long.

python -m benchmarks.growth; exits with 1 where one took more than eight times as long.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping

from generator.read.document import parse

SHORT, TIMES, MOST = 50_000, 4, 8
LEAST_S = 0.02  # what is quicker is noise
LINES: Mapping[str, Callable[[int], str]] = {
    "brackets that open, and one that closes": lambda n: f"a: x{'[' * n}]\n",
    "the same between quotes": lambda n: f'a: "{"[" * n}]"\n',
    "braces": lambda n: f"a: x{'{' * n}}}\n",
    "blanks": lambda n: f"a: x,{' ' * n}y\n",
    "arrows": lambda n: f"a: x{'>0' * n}\n",
    "apostrophes": lambda n: "a: x" + " '" * n + "\n",
    "three apostrophes": lambda n: "a: x" + " '''" * n + "\n",
    "quotes": lambda n: "a: x" + ' "' * n + "\n",
    "hashes": lambda n: f"a: x{'#' * n}\n",
    "lines with a tab": lambda n: "a:\n" + "\tb: c\n" * (n // 8),
}


def seconds(text: str) -> float:
    """The least of three readings."""
    taken = []
    for _ in range(3):
        begun = time.process_time()
        parse("line.yaml", text)
        taken.append(time.process_time() - begun)
    return min(taken)


def main() -> int:
    """Print each kind of line with both times, and say which grew too fast."""
    slow = 0
    for name, line in LINES.items():
        short, long = seconds(line(SHORT)), seconds(line(SHORT * TIMES))
        grew = long > LEAST_S and long > MOST * short
        slow += grew
        print(f"{name:42} {short * 1000:9.1f} ms {long * 1000:9.1f} ms{'  too fast' if grew else ''}")
    return 1 if slow else 0


if __name__ == "__main__":
    raise SystemExit(main())
