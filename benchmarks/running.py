"""One command run and measured: wall and CPU seconds, peak memory of the process with all that it starts."""

from __future__ import annotations

import os
import resource
import subprocess
import threading
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

EVERY_S = 0.02
LITTLE = 20  # a look takes no more than a twentieth of the time


@dataclass(frozen=True, slots=True)
class Used:
    """What a run took: seconds, seconds of processors, megabytes (10^6 bytes) at its peak."""

    wall_s: float
    cpu_s: float
    memory_mb: float


def run(arguments: Sequence[str], folder: Path, environment: Mapping[str, str] | None = None) -> Used:
    """Run a command in a folder; SystemExit with its last words where it fails.

    Memory is the sum over all its processes, where each page of memory that several share counts once, as the kernel divides
    it among them; it is looked at every 20 ms, or less often where a look takes long, and a peak between two looks is missed.
    """
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    begun = time.perf_counter()
    process = subprocess.Popen(
        arguments,
        cwd=folder,
        env={**os.environ, **(environment or {})},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
    )
    peak, over = [0.0], threading.Event()

    def look() -> None:
        pause = EVERY_S
        while not over.wait(pause):
            looked = time.perf_counter()
            peak[0] = max(peak[0], _resident(tuple(_family(process.pid))))
            pause = max(EVERY_S, LITTLE * (time.perf_counter() - looked))

    watcher = threading.Thread(target=look)
    watcher.start()
    told = process.communicate()[0]
    wall = time.perf_counter() - begun
    over.set()
    watcher.join()
    if process.returncode != 0:
        raise SystemExit(f"{' '.join(arguments)} ended with {process.returncode}\n{told[-2000:]}")
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = used.ru_utime + used.ru_stime - before.ru_utime - before.ru_stime
    return Used(wall, cpu, peak[0] / 1e6)


def _family(process: int) -> Iterator[int]:
    yield process
    with suppress(OSError):
        for thread in Path(f"/proc/{process}/task").iterdir():
            for child in (thread / "children").read_text().split():
                yield from _family(int(child))


def _resident(processes: Sequence[int]) -> float:
    if len(processes) == 1:
        with suppress(OSError, IndexError):
            return int(Path(f"/proc/{processes[0]}/statm").read_text().split()[1]) * resource.getpagesize()
    return sum(map(_share, processes))


def _share(process: int) -> float:
    """The memory of a process, of what it shares with others its part."""
    with suppress(OSError):
        told = Path(f"/proc/{process}/smaps_rollup").read_text()
        return sum(1024.0 * int(line.split()[1]) for line in told.splitlines() if line.startswith("Pss:"))
    return 0.0
