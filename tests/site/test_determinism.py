"""The same logbook gives the same bytes, whatever the machine's clock, zone, locale, hash seed and path."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from tests.site.building import ROOT, build


def _bytes(site: Path) -> dict[str, bytes]:
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


def test_same_bytes_elsewhere(tmp_path: Path, gallons: Path) -> None:
    copy = tmp_path / "somewhere else" / "copy"
    shutil.copytree(ROOT / "tests" / "logbooks" / "gallons", copy)
    env = {**os.environ, "TZ": "Pacific/Auckland", "PYTHONHASHSEED": "77", "LC_ALL": "C", "LANG": "C"}
    umask = os.umask(0o077)
    try:
        other = build(copy, tmp_path / "out", "--no-cache", env=env)
    finally:
        os.umask(umask)
    assert _bytes(gallons) == _bytes(other)


def test_an_error_leaves_the_last_site(tmp_path: Path) -> None:
    import subprocess
    import sys

    copy = tmp_path / "log"
    shutil.copytree(ROOT / "tests" / "logbooks" / "gallons", copy)
    site = build(copy, tmp_path / "site")
    before = _bytes(site)
    (copy / "lots" / "broken.yaml").write_text(
        "lot: broken\nmaterial: nothing\nreceived: 2025-01-01\nquantity: 5\n", encoding="utf-8"
    )
    done = subprocess.run(
        [sys.executable, "-m", "generator", "build", str(copy), "--out", str(site)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1
    assert "quantity-unit" in done.stderr and "Nothing was written" in done.stderr
    assert _bytes(site) == before
