"""`esterday setup`: the files with which a forge, or git before a commit, checks and publishes."""

from __future__ import annotations

import os
from pathlib import Path

import click

from generator.cli.saving import DRY_RUN, LOGBOOK_OPTION, put, stop
from generator.cli.telling import command

_EXAMPLES = (
    "esterday setup github --install tools/esterday-0.1.0-py3-none-any.whl",
    "esterday setup gitlab --install tools/esterday-0.1.0-py3-none-any.whl --lock tools/requirements.lock",
    "esterday setup hook",
)


@command(*_EXAMPLES)
@click.argument("what", type=click.Choice(["github", "gitlab", "hook"]))
@LOGBOOK_OPTION
@click.option("--branch", default="main", show_default=True, help="The one branch that is published.")
@click.option("--install", help="What the forge installs: a wheel in the repository, or NAME==VERSION.")
@click.option(
    "--lock",
    default="",
    help="A file of requirements with hashes in the repository: of what a wheel needs, or of NAME==VERSION and what it needs.",
)
@DRY_RUN
def setup(what: str, logbook: Path, branch: str, install: str | None, lock: str, dry_run: bool) -> None:
    """Write the workflow with which a forge checks every change and publishes the shared site, or git's hook that checks
    before a commit. Nothing is written over, nothing is pushed.
    """
    from generator.doctor.repository import repository_of
    from generator.read.root import not_a_logbook
    from generator.writing.setup import FILES, hook_file, is_plain_path

    problem = not_a_logbook(logbook)
    if problem is not None:
        raise stop(f"{logbook}: {problem.message}", problem.hint)
    repository = repository_of(logbook)
    if repository is not None and repository.without_git:
        raise stop("git is not installed here, or not found", "install git")
    if repository is None or repository.refused:
        raise stop(
            f"{logbook} lies in no git repository that can be used", "git init, in the folder above it"
        )
    inside = Path(os.path.relpath(logbook.absolute(), repository.top)).as_posix()
    if what == "hook":
        if not is_plain_path(inside):
            raise stop(
                f"'{inside}' has characters that a shell would take for something else", "rename the folder"
            )
        elsewhere = repository.hooks_elsewhere()
        if elsewhere and not dry_run:
            raise stop(
                f"git takes its hooks from {elsewhere} here",
                "put the lines of --dry-run into the hook there",
                1,
            )
        path, text = repository.hook("pre-commit"), hook_file(inside)
    else:
        path, text = (
            repository.top / FILES[what],
            _for_forge(what, inside, branch, install, lock, repository.top),
        )
    if path.exists() or path.is_symlink():
        raise stop(
            f"{path} is there already, and nothing is written over",
            "move it away, or take the lines over from --dry-run",
            1,
        )
    if dry_run:
        click.echo(text, nl=False)
        click.echo(f"Nothing was written; it would be {path}.", err=True)
        return
    put(path, text.encode(), new=True)
    if what == "hook":
        path.chmod(0o755)
    click.echo(f"Wrote {path}.", err=True)


def _for_forge(forge: str, inside: str, branch: str, install: str | None, lock: str, top: Path) -> str:
    """The text of a forge's file; what it would install is looked for first."""
    from generator.writing.setup import Wanted, forge_file, holds, refusal

    if install is None:
        example = next(each for each in _EXAMPLES if f" {forge} " in each)
        raise stop("the forge has to be told what to install", f"try: {example}")
    wanted = Wanted(inside, branch, install, lock)
    refused = refusal(wanted)
    if refused is not None:
        raise stop(*refused)
    named = [each for each in (install, lock) if each and "==" not in each]
    missing = next((each for each in named if not (top / each).is_file()), None)
    if missing is not None:
        raise stop(f"there is no file {missing} in {top}", "put it there and commit it first")
    if not lock:
        click.echo(
            "What it installs is not held to hashes; --lock names a file of requirements that does.", err=True
        )
    elif "==" in install and not holds((top / lock).read_text(encoding="utf-8"), install):
        raise stop(
            f"{lock} does not hold {install} by its hash",
            "make it of a file that names that version, such as with uv pip compile --generate-hashes",
        )
    return forge_file(forge, wanted)
