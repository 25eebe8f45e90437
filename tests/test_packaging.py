"""The wheel: holds the templates, works away from the clone, and is the same whenever and wherever it is built."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import generator

ROOT = Path(__file__).resolve().parents[1]
LOGBOOK = ROOT / "tests" / "logbooks" / "gallons"
PARTS = ("generator", "site_templates", "pyproject.toml", "README.md", "LICENSE", ".gitignore")


def run(command: list[str], cwd: Path, **environment: str) -> str:
    """Run a command to its end; what it says is shown when it fails."""
    done = subprocess.run(
        command,
        cwd=cwd,
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def built_wheel(folder: Path) -> Path:
    """Copy the sources to a new folder and build a wheel there."""
    source = folder / "source"
    source.mkdir(parents=True)
    for name in PARTS:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(ROOT / name, source / name)
    run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(source)],
        folder,
    )
    (wheel,) = folder.glob("*.whl")
    return wheel


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built_wheel(tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel alone in a folder; what it depends on comes from this interpreter."""
    folder = tmp_path_factory.mktemp("installed")
    run(
        [
            sys.executable,
            "-m",
            "pip",
            "--isolated",
            "install",
            "--quiet",
            "--no-deps",
            "--no-index",
            "--target",
            str(folder),
            str(wheel),
        ],
        folder,
    )
    return folder


def test_the_wheel_holds_every_template_and_table(wheel: Path) -> None:
    held = set(zipfile.ZipFile(wheel).namelist())
    templates = [path for path in (ROOT / "site_templates").rglob("*") if path.is_file()]
    tables = (ROOT / "generator" / "data").rglob("*.yaml")
    assert templates
    wanted = {f"generator/{path.relative_to(ROOT).as_posix()}" for path in templates}
    assert wanted | {path.relative_to(ROOT).as_posix() for path in tables} | {"generator/py.typed"} <= held


def test_the_wheel_holds_nothing_else(wheel: Path) -> None:
    tops = {name.split("/")[0] for name in zipfile.ZipFile(wheel).namelist()}
    assert tops == {"generator", f"esterday-{generator.__version__}.dist-info"}


def test_two_wheels_are_the_same_bytes(wheel: Path, tmp_path: Path) -> None:
    other = built_wheel(tmp_path / "another place")
    assert other.name == wheel.name
    assert other.read_bytes() == wheel.read_bytes()


def test_the_installed_command_says_its_version(installed: Path, tmp_path: Path) -> None:
    where = run(
        [sys.executable, "-c", "import generator; print(generator.__file__)"],
        tmp_path,
        PYTHONPATH=str(installed),
    )
    assert Path(where.strip()).is_relative_to(installed), "the clone was run instead of the wheel"
    said = run([sys.executable, "-m", "generator", "--version"], tmp_path, PYTHONPATH=str(installed))
    assert generator.__version__ in said


def test_the_installed_command_builds_a_site(installed: Path, tmp_path: Path) -> None:
    """From another folder, and the same site as from the clone."""
    for name, path in (("installed", installed), ("clone", ROOT)):
        command = [sys.executable, "-m", "generator", "build", str(LOGBOOK), "--out", name, "--no-cache"]
        run(command, tmp_path, PYTHONPATH=str(path))
    sites = [
        {
            path.relative_to(folder).as_posix(): path.read_bytes()
            for path in folder.rglob("*")
            if path.is_file()
        }
        for folder in (tmp_path / "installed", tmp_path / "clone")
    ]
    assert "index.html" in sites[0]
    assert sites[0] == sites[1]
