"""A repository from somebody else: whatever its configuration names as a command, none of it is run."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.site.building import ROOT

# each names a program that git runs for some purpose
COMMANDS = {
    "core.fsmonitor": "{}",
    "core.pager": "{}",
    "core.editor": "{}",
    "core.sshCommand": "{}",
    "core.askPass": "{}",
    "core.hooksPath": "hooks",
    "core.alternateRefsCommand": "{}",
    "credential.helper": "{}",
    "diff.external": "{}",
    "diff.evil.textconv": "{}",
    "diff.evil.command": "{}",
    "filter.evil.clean": "{}",
    "filter.evil.smudge": "{}",
    "filter.evil.process": "{}",
    "gpg.program": "{}",
    "log.showSignature": "true",
    "pager.show": "{}",
    "protocol.allow": "always",
    "protocol.ext.allow": "always",
    "remote.origin.uploadpack": "{}",
    "remote.origin.promisor": "true",
    "extensions.partialClone": "origin",
    "core.repositoryformatversion": "1",
}


def git(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    me = ("-c", "user.name=A", "-c", "user.email=a@example.org", "-c", "commit.gpgsign=false")
    return subprocess.run(
        ["git", *me, "-C", str(folder), *arguments], capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize("address", ["ext::{} x", "ssh://host/path", "/nowhere"])
@pytest.mark.parametrize("command", [("doctor", "{}"), ("check", "{}"), ("build", "{}", "--out", "{}-site")])
def test_nothing_of_the_configuration_is_run(tmp_path: Path, address: str, command: tuple[str, ...]) -> None:
    """With a branch of which the files are lacking, which git would fetch."""
    ran, program, top = tmp_path / "ran", tmp_path / "program", tmp_path / "theirs"
    program.write_text(f"#!/bin/sh\necho \"$@\" >> '{ran}'\nexit 1\n", encoding="ascii")
    program.chmod(0o755)
    shutil.copytree(ROOT / "tests" / "logbooks" / "gallons", top / "logbook")
    git(tmp_path, "init", "-q", "-b", "main", "theirs")
    (top / ".gitattributes").write_text("* diff=evil filter=evil\n", encoding="ascii")
    git(top, "add", ".")
    assert git(top, "commit", "-q", "-m", "Begin").returncode == 0
    git(top, "branch", "gh-pages")
    tree = git(top, "rev-parse", "main^{tree}").stdout.strip()
    (top / ".git" / "objects" / tree[:2] / tree[2:]).unlink()
    for name in ("post-index-change", "post-checkout", "reference-transaction"):
        (top / "hooks").mkdir(exist_ok=True)
        shutil.copy(program, top / "hooks" / name)
    for key, value in {**COMMANDS, "remote.origin.url": address}.items():
        assert git(top, "config", key, value.format(program)).returncode == 0
    ran.unlink(missing_ok=True)

    given = [part.format(top / "logbook") for part in command]
    subprocess.run([sys.executable, "-m", "generator", *given], cwd=ROOT, capture_output=True, check=False)
    assert not ran.exists(), ran.read_text(encoding="utf-8")

    git(top, "ls-tree", "-r", "gh-pages")
    git(top, "status")
    assert ran.exists(), "git itself ran nothing: the test shows nothing"
