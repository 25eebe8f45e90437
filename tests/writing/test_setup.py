"""The files for forges are judged by what judges such files elsewhere; the hook keeps a bad commit back in real git."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from generator.doctor import findings_of
from generator.doctor.workflows import workflows_of
from generator.writing.setup import FILES
from tests.doctor.places import book, commit, git, write
from tests.logbook_files import logbook

WHEEL = "tools/esterday-0.1.0-py3-none-any.whl"
LOCK = "tools/requirements.lock"
ROOT = Path(__file__).resolve().parents[2]
YAMLLINT = "{extends: default, rules: {line-length: {max: 160}, document-start: disable, truthy: {check-keys: false}}}"


def run(top: Path, *arguments: str) -> Result:
    """Run the command on the logbook of a repository."""
    return CliRunner().invoke(main, ["setup", *arguments, "--logbook", str(top / "logbook")])


def made(tmp_path: Path, forge: str, *more: str) -> tuple[Path, Path]:
    """A repository with a forge's file; its top, and the file."""
    top = book(tmp_path)
    write(top, WHEEL, "")
    write(top, LOCK, "")
    done = run(top, forge, "--install", WHEEL, *more)
    assert done.exit_code == 0, done.output
    return top, top / FILES[forge]


def judged(*command: str) -> subprocess.CompletedProcess[str]:
    """Let a tool of the tests judge."""
    here = Path(sys.executable).parent
    return subprocess.run([str(here / command[0]), *command[1:]], capture_output=True, text=True, check=False)


BOTH = pytest.mark.parametrize("more", [[], ["--lock", LOCK, "--branch", "trunk"]], ids=["plain", "all"])
FORGES = pytest.mark.parametrize("forge", list(FILES))


@FORGES
@BOTH
def test_the_schema_of_the_forge_takes_it(forge: str, more: list[str], tmp_path: Path) -> None:
    """library: check-jsonschema brings the schemas of both forges along."""
    schema = {"github": "vendor.github-workflows", "gitlab": "vendor.gitlab-ci"}[forge]
    transform = ["--data-transform", "gitlab-ci"] if forge == "gitlab" else []
    _, path = made(tmp_path, forge, *more)
    done = judged("check-jsonschema", "--builtin-schema", schema, *transform, str(path))
    assert done.returncode == 0, done.stdout + done.stderr
    path.write_text(
        path.read_text(encoding="utf-8") + "\nanother: {stage: 7, runs-on: [{}], script: 7}\n",
        encoding="utf-8",
    )
    assert judged("check-jsonschema", "--builtin-schema", schema, *transform, str(path)).returncode != 0


@FORGES
@BOTH
def test_it_is_tidy(forge: str, more: list[str], tmp_path: Path) -> None:
    """library: yamllint."""
    _, path = made(tmp_path, forge, *more)
    done = judged("yamllint", "--strict", "-d", YAMLLINT, str(path))
    assert done.returncode == 0, done.stdout


@BOTH
def test_a_judge_of_workflows_finds_no_hole(more: list[str], tmp_path: Path) -> None:
    """library: zizmor, without asking the network; a workflow that is not pinned shows that it looks."""
    _, path = made(tmp_path, "github", *more)
    done = judged("zizmor", "--offline", "--no-progress", "--persona", "pedantic", str(path))
    assert done.returncode == 0, done.stdout + done.stderr
    loose = re.sub(r"checkout@[0-9a-f]{40}  # v[\d.]+", "checkout@v6", path.read_text(encoding="utf-8"))
    path.write_text(loose, encoding="utf-8")
    assert judged("zizmor", "--offline", "--no-progress", str(path)).returncode != 0


@FORGES
@BOTH
def test_the_doctor_finds_nothing_in_it(forge: str, more: list[str], tmp_path: Path) -> None:
    top, _ = made(tmp_path, forge, *more)
    assert findings_of(top / "logbook") == []
    (workflow,) = workflows_of(top)
    assert [(build.audience, build.out) for build in workflow.builds] == [("shared", "public")]
    assert workflow.uploads == ["public"]


def test_only_what_deploys_may_write(tmp_path: Path) -> None:
    from ruamel.yaml import YAML

    _, path = made(tmp_path, "github")
    data = YAML(typ="safe").load(path.read_text(encoding="utf-8"))
    assert data["permissions"] == {}
    rights = {name: job["permissions"] for name, job in data["jobs"].items()}
    assert rights == {
        "check": {"contents": "read"},
        "build": {"contents": "read"},
        "deploy": {"pages": "write", "id-token": "write"},
    }
    on_main = "github.event_name == 'push' && github.ref == 'refs/heads/main'"
    assert [job.get("if") for job in data["jobs"].values()] == [None, on_main, on_main]
    assert all(
        step.get("with", {}).get("fetch-depth", 0) == 0
        for job in data["jobs"].values()
        for step in job["steps"]
    )


@FORGES
def test_its_own_commands_run(forge: str, tmp_path: Path) -> None:
    """The lines that call the tool, taken from the file, in a shell, in the order they stand."""
    top, path = made(tmp_path, forge)
    lines = re.findall(r"^\s*(?:- |run: )(esterday .*)$", path.read_text(encoding="utf-8"), re.MULTILINE)
    assert [line.split()[1] for line in lines] == ["check", "doctor", "build"]
    script = f'esterday() {{ "{sys.executable}" -m generator "$@"; }}\nset -e\n' + "\n".join(lines)
    env = {**os.environ, "PYTHONPATH": str(ROOT), "CI": "true"}
    done = subprocess.run(
        ["bash", "-c", script], cwd=top, env=env, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    page = (top / "public" / "index.html").read_text(encoding="utf-8")
    assert "noindex" not in page


@pytest.mark.parametrize(
    "more",
    [
        ["--install", "esterday"],
        ["--install", "esterday>=0.1"],
        ["--install", "../x.whl"],
        ["--install", "tools/a b.whl"],
        ["--install", "$(id).whl"],
        ["--install", WHEEL, "--branch", "a'b"],
        ["--install", WHEEL, "--branch", "-x"],
        ["--install", WHEEL, "--branch", "a..b"],
        ["--install", WHEEL, "--lock", "a;b"],
        ["--install", "tools/missing.whl"],
        [],
    ],
)
@FORGES
def test_what_is_no_plain_word_is_refused(forge: str, more: list[str], tmp_path: Path) -> None:
    top = book(tmp_path)
    write(top, WHEEL, "")
    done = run(top, forge, *more)
    assert done.exit_code == 2
    assert not (top / FILES[forge]).exists()


def test_an_odd_folder_is_refused(tmp_path: Path) -> None:
    top = book(tmp_path)
    (top / "logbook").rename(top / "a'; b")
    arguments = ["setup", "hook", "--logbook", str(top / "a'; b")]
    assert CliRunner().invoke(main, arguments).exit_code == 2


@pytest.mark.parametrize("what", ["github", "gitlab", "hook"])
def test_without_a_logbook_there_is_nothing_to_check(
    what: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A hook for a folder that is no logbook would refuse every commit."""
    top = book(tmp_path)
    write(top, "logbook/" + WHEEL, "")
    monkeypatch.chdir(top / "logbook")
    done = CliRunner().invoke(main, ["setup", what, "--install", WHEEL, "--logbook", "logbook"])
    assert done.exit_code == 2
    assert "logbook.yaml lies in .: give . as the folder" in done.output
    assert not (top / ".git" / "hooks" / "pre-commit").exists()


@pytest.mark.parametrize("what", ["github", "gitlab", "hook"])
def test_nothing_is_written_over(what: str, tmp_path: Path) -> None:
    top = book(tmp_path)
    write(top, WHEEL, "")
    path = top / FILES.get(what, ".git/hooks/pre-commit")
    write(top, str(path.relative_to(top)), "mine\n")
    assert run(top, what, "--install", WHEEL).exit_code == 1
    assert path.read_text(encoding="utf-8") == "mine\n"


@pytest.mark.parametrize("what", ["github", "gitlab"])
def test_the_example_is_of_the_forge_that_was_named(what: str, tmp_path: Path) -> None:
    done = run(book(tmp_path), what)
    assert done.exit_code == 2 and f"try: esterday setup {what} --install" in done.output


def test_a_dry_run_writes_nothing(tmp_path: Path) -> None:
    top = book(tmp_path)
    done = run(top, "github", "--install", "esterday==0.1.0", "--dry-run")
    assert done.exit_code == 0
    assert done.stdout.startswith("# Checks the logbook")
    assert "install --disable-pip-version-check esterday==0.1.0\n" in done.stdout
    assert not (top / ".github").exists()


@FORGES
def test_what_is_held_to_hashes_is_said(forge: str, tmp_path: Path) -> None:
    """Without a lock the file says that nothing is; with one nothing is installed that the lock does not hold."""
    top = book(tmp_path)
    write(top, LOCK, "esterday==0.1.0 \\\n    --hash=sha256:" + "0" * 64 + "\n")
    done = run(top, forge, "--install", "esterday==0.1.0", "--dry-run")
    assert "# Not held to hashes" in done.stdout and "--lock" in done.stderr
    done = run(top, forge, "--install", "esterday==0.1.0", "--lock", LOCK, "--dry-run")
    assert "Not held" not in done.stdout + done.stderr
    installs = [line for line in done.stdout.splitlines() if "pip install" in line]
    assert installs and all(line.endswith(f"--require-hashes --requirement {LOCK}") for line in installs)


@pytest.mark.parametrize(
    "text", ["", "esterday==0.1.0\n", "esterday==0.1.1 --hash=sha256:00\n", "other==0.1.0 --hash=sha256:00\n"]
)
def test_a_lock_that_does_not_hold_the_version_is_refused(text: str, tmp_path: Path) -> None:
    top = book(tmp_path)
    write(top, LOCK, text)
    done = run(top, "github", "--install", "esterday==0.1.0", "--lock", LOCK)
    assert done.exit_code == 2
    assert f"{LOCK} does not hold esterday==0.1.0 by its hash" in done.stderr


def _commit(top: Path) -> subprocess.CompletedProcess[str]:
    """Commit what is staged, with this checkout's command on the path."""
    here = top.parent / "bin"
    here.mkdir(exist_ok=True)
    (here / "esterday").write_text(
        f'#!/bin/sh\nexec "{sys.executable}" -m generator "$@"\n', encoding="utf-8"
    )
    (here / "esterday").chmod(0o755)
    env = {**os.environ, "PATH": f"{here}:{os.environ['PATH']}", "PYTHONPATH": str(ROOT)}
    who = ["-c", "user.name=A", "-c", "user.email=a@example.org"]
    return subprocess.run(
        ["git", *who, "commit", "-m", "x"], cwd=top, env=env, capture_output=True, text=True, check=False
    )


def test_the_hook_checks_what_is_committed(tmp_path: Path) -> None:
    """What is staged counts, not what lies there: a mistake that is not staged passes, one mended but not staged does not."""
    top = book(tmp_path)
    assert run(top, "hook").exit_code == 0
    path = top / "logbook" / "lots" / "oil-1.yaml"
    good = path.read_text(encoding="utf-8")
    bad = good.replace("300 L at 15 °C", "300")
    path.write_text(bad, encoding="utf-8")
    git(top, "add", "logbook")
    refused = _commit(top)
    assert refused.returncode != 0
    assert "logbook/lots/oil-1.yaml:4:11: error: " in refused.stderr
    path.write_text(good, encoding="utf-8")
    assert _commit(top).returncode != 0
    path.write_text(good + "# a remark\n", encoding="utf-8")
    git(top, "add", "logbook")
    path.write_text(bad, encoding="utf-8")
    taken = _commit(top)
    assert taken.returncode == 0, taken.stderr
    assert git(top, "show", "HEAD:logbook/lots/oil-1.yaml").endswith("# a remark\n")


def test_a_logbook_may_be_its_repository(tmp_path: Path) -> None:
    """So it is where `begin` is followed word by word; hook and workflows are written for `.`, and the hook checks all of it."""
    top = logbook(tmp_path)
    git(top, "init", "-q", "-b", "main", ".")
    commit(top)
    write(top, WHEEL, "")
    for what in ("hook", *FILES):
        done = CliRunner().invoke(main, ["setup", what, "--install", WHEEL, "--logbook", str(top)])
        assert done.exit_code == 0, done.output
    assert all("esterday check .\n" in (top / file).read_text(encoding="utf-8") for file in FILES.values())
    path = top / "lots" / "oil-1.yaml"
    good = path.read_text(encoding="utf-8")
    path.write_text(good.replace("300 L at 15 °C", "300"), encoding="utf-8")
    git(top, "add", ".")
    refused = _commit(top)
    assert refused.returncode != 0 and "lots/oil-1.yaml:4:11: error: " in refused.stderr
    path.write_text(good + "# a remark\n", encoding="utf-8")
    git(top, "add", ".")
    taken = _commit(top)
    assert taken.returncode == 0, taken.stderr
