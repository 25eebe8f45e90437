"""How long a person waits for a command: the least and the middle of several runs, by the clock on the wall, and the least
of what the processors did for it, which hangs less on what else the machine does.

python -m benchmarks.commands LOGBOOK [RUNS]; the logbook is copied, and what is kept of it lies in a folder of its own, as do the
modules as they are installed, compiled: without them each run would compile them anew.
"""

from __future__ import annotations

import os
import resource
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

SOAP = ("soap", "point=product", "acid=0.2 mL", "after=150 L")


class Changed(NamedTuple):
    """A batch of the demo and the two amounts between which it is changed."""

    file: str
    page: str
    first: str
    second: str


EARLY = Changed(
    "batches/2026/001.yaml", "batches/2026-001.html", "162 L", "163 L"
)  # offers were settled after it
LATE = Changed("batches/2026/023.yaml", "batches/2026-023.html", "180 L", "181 L")


class Taken(NamedTuple):
    """Seconds of one run: by the clock, and of processors."""

    clock: float
    worked: float


def ran(*command: str, env: dict[str, str]) -> Taken:
    """One run; CalledProcessError where it was refused, for that is quick and no measure."""
    begun, before = time.perf_counter(), worked()
    subprocess.run([sys.executable, "-m", "generator", *command], env=env, capture_output=True, check=True)
    return Taken(time.perf_counter() - begun, worked() - before)


def worked() -> float:
    """Seconds that processors gave to what was run so far."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def change(logbook: Path, what: Changed) -> str:
    """Change one amount of a batch, forth and back; the amount that stands there now."""
    file = logbook / what.file
    text = file.read_text(encoding="utf-8")
    old, new = (what.first, what.second) if what.first in text else (what.second, what.first)
    file.write_text(text.replace(old, new), encoding="utf-8")
    return new


def commands(logbook: Path, env: dict[str, str]) -> Iterator[tuple[str, Callable[[], Taken]]]:
    """Each command with one run of it."""
    book = str(logbook)

    def of_one_changed() -> Taken:
        change(logbook, EARLY)
        return ran("check", book, env=env)

    yield "help", lambda: ran("--help", env=env)
    yield "check, nothing kept", lambda: ran("check", "--no-cache", book, env=env)
    yield "check, nothing changed", lambda: ran("check", book, env=env)
    yield "check, one file changed", of_one_changed
    yield "new batch", lambda: ran("new", "batch", "2099-001", book, "--dry-run", env=env)
    yield (
        "add soap",
        lambda: ran("add", "2026-001", *SOAP, "--logbook", book, "--dry-run", env=env),
    )


def previewed(logbook: Path, what: Changed, env: dict[str, str], runs: int) -> list[float]:
    """Seconds from saving a file to a page that holds what was saved."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "generator", "preview", str(logbook), "--port", str(port)]
    server = subprocess.Popen(command, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def page() -> bytes:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/{what.page}", timeout=60) as answer:
            return bytes(answer.read())

    try:
        while True:
            try:
                page()
                break
            except OSError:
                time.sleep(0.1)
        taken = []
        for _ in range(runs):
            begun = time.perf_counter()
            wanted = change(logbook, what).encode()
            while wanted not in page():
                time.sleep(0.01)
            taken.append(time.perf_counter() - begun)
        return taken
    finally:
        server.terminate()
        server.wait()


def main(logbook: Path, runs: int = 7) -> None:
    """Print a line a command."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder, "logbook")
        shutil.copytree(logbook, copy)
        env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        env |= {
            "XDG_CACHE_HOME": str(Path(folder, "cache")),
            "PYTHONPYCACHEPREFIX": str(Path(folder, "compiled")),
        }
        for name, run in commands(copy, env):
            run()
            taken = [run() for _ in range(runs)]
            tell(
                name,
                [each.clock for each in taken],
                f"{min(each.worked for each in taken) * 1000:7.0f} ms of processors",
            )
        for name, what in (("preview, late batch saved", LATE), ("preview, early batch saved", EARLY)):
            tell(name, previewed(copy, what, env, runs))


def tell(name: str, taken: list[float], worked: str = "") -> None:
    """One line: least and middle by the clock, ms."""
    print(f"{name:28} {min(taken) * 1000:7.0f} {statistics.median(taken) * 1000:7.0f} ms{worked}")


if __name__ == "__main__":
    main(Path(sys.argv[1]), *map(int, sys.argv[2:]))
