"""`python -m tests.fuzz TARGET RUNS [FOLDER]`: a coverage-guided fuzzer on one of the targets, by hand.

atheris (PyPI, Python 3.11 to 3.13 on Linux) is no part of the project: `pip install atheris` first. FOLDER keeps what
reached new code, so that a later run goes on from there; an input that fails is written beside it as `crash-...`.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["generator"]):
    from tests.fuzz.targets import TARGETS, seeds

ROOT = Path(__file__).resolve().parents[2]


def main() -> None:
    name, runs = sys.argv[1], int(sys.argv[2])
    folder = Path(sys.argv[3] if len(sys.argv) > 3 else tempfile.mkdtemp())
    folder.mkdir(parents=True, exist_ok=True)
    for number, seed in enumerate(seeds(ROOT)[name]):
        (folder / f"seed-{number}").write_bytes(seed)
    options = [
        f"-runs={runs}",
        "-max_len=4096",
        "-timeout=20",
        "-print_final_stats=1",
        f"-artifact_prefix={folder}-",
    ]
    atheris.Setup([sys.argv[0], *options, str(folder)], TARGETS[name])
    atheris.Fuzz()


main()
