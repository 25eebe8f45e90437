"""Time and peak memory of the command on a made logbook, each run in a process of its own; prints one table.

python -m benchmarks.measure 1000 [more sizes]
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from benchmarks.logbooks import write

ROOT = Path(__file__).resolve().parents[1]


def run(*arguments: str) -> tuple[float, float, float]:
    """Run the command; return wall seconds, CPU seconds, peak memory in MB of that process."""
    begun = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "generator", *arguments],
        cwd=ROOT,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    _, status, used = os.wait4(process.pid, 0)
    if status != 0:
        raise SystemExit(f"{' '.join(arguments)} ended with {status}")
    return time.perf_counter() - begun, used.ru_utime + used.ru_stime, _mb(used)


def _mb(used: resource.struct_rusage) -> float:
    return used.ru_maxrss / 1024


def measure(count: int, folder: Path) -> None:
    """Check, full build, rebuild after one changed file, rebuild with no change."""
    logbook, site = folder / f"logbook-{count}", folder / f"site-{count}"
    write(count, logbook)
    rows = [
        ("check", run("check", str(logbook))),
        ("full build", run("build", str(logbook), "--out", str(site))),
    ]
    changed = sorted((logbook / "batches").rglob("*.yaml"))[count // 2]
    changed.write_text(
        changed.read_text(encoding="utf-8").replace("energy: 14 kWh", "energy: 15 kWh"), encoding="utf-8"
    )
    rows.append(("one file changed", run("build", str(logbook), "--out", str(site))))
    rows.append(("no change", run("build", str(logbook), "--out", str(site))))
    pages = len(list(site.rglob("*.html")))
    size = sum(path.stat().st_size for path in site.rglob("*") if path.is_file()) / 1e6
    for name, (wall, cpu, memory) in rows:
        print(
            f"{count:>7} {name:<18} {wall:8.2f} s {cpu:8.2f} s CPU {memory:7.0f} MB {pages:>7} pages {size:7.1f} MB"
        )


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as made:
        for size in sys.argv[1:] or ["1000"]:
            measure(int(size), Path(made))
