"""The files with which a forge checks a logbook and publishes its shared site, and git's hook before a commit.

The texts stand in `generator/data/setup/`; here the folder, the branch and what is installed are put in. All three come
from a command line and end in a shell elsewhere, so only plain words are taken.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from generator.data import text

FILES = {"github": ".github/workflows/logbook.yml", "gitlab": ".gitlab-ci.yml"}
_INDENT = {"github": "          ", "gitlab": "    - "}
_PATH = re.compile(r"(?!-)(?:[A-Za-z0-9_+-][A-Za-z0-9._+-]*/)*[A-Za-z0-9_+-][A-Za-z0-9._+-]*")
_BRANCH = re.compile(r"(?![-/.])(?!.*(?:\.\.|//|/\.|\.lock$|[./]$))[A-Za-z0-9._/-]{1,100}")
_HELD = re.compile(r"([A-Za-z0-9][A-Za-z0-9._-]*)==(\S+).*\s--hash=")
NOT_HELD = "# Not held to hashes: whatever the registry gives under these names is run. --lock of 'esterday setup' holds it."
_PINNED = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*==[0-9][A-Za-z0-9.!+]*")


@dataclass(frozen=True, slots=True)
class Wanted:
    """Where the logbook lies in its repository, which branch is published, and what pip installs there.

    `install` is a wheel in the repository or one version by name, `lock` a file of requirements with hashes, or empty; it holds
    what a wheel needs, or a version by name and what that needs.
    """

    logbook: str
    branch: str
    install: str
    lock: str = ""


def refusal(wanted: Wanted) -> tuple[str, str] | None:
    """What of this cannot be put into a shell elsewhere, and what to write instead; None where all of it can."""
    if not is_plain_path(wanted.logbook):
        return _odd_path(wanted.logbook)
    if not _BRANCH.fullmatch(wanted.branch):
        return f"'{wanted.branch}' is no name of a branch that can be put in here", "give one such as main"
    if not (
        _PINNED.fullmatch(wanted.install)
        or (wanted.install.endswith(".whl") and is_plain_path(wanted.install))
    ):
        return (
            f"'{wanted.install}' does not say which version is installed",
            "give a wheel that lies in the repository, such as tools/esterday-0.1.0-py3-none-any.whl, or name==version",
        )
    if wanted.lock and not is_plain_path(wanted.lock):
        return _odd_path(wanted.lock)
    return None


def is_plain_path(path: str) -> bool:
    """Whether a path within a repository, or `.` for all of it, needs no quotes in any shell."""
    return path == "." or _PATH.fullmatch(path) is not None


def forge_file(forge: str, wanted: Wanted) -> str:
    """The text of a forge's file; `refusal` has been asked."""
    lines = [_indented(line, forge) for line in _install(wanted)]
    return (
        _filled(text(f"setup/{forge}.yml"), wanted.logbook)
        .replace("@branch@", wanted.branch)
        .replace("@install@", "\n".join(lines))
    )


def hook_file(logbook: str) -> str:
    """The text of git's hook before a commit; the path is plain."""
    return _filled(text("setup/hook.sh"), logbook)


def holds(lock: str, install: str) -> bool:
    """Whether the text of a file of requirements holds this NAME==VERSION by a hash."""
    name, _, version = install.partition("==")
    lines = lock.replace("\\\n", " ").splitlines()
    return any(
        _plain_name(match[1]) == _plain_name(name) and match[2] == version
        for line in lines
        if (match := _HELD.match(line))
    )


def _plain_name(name: str) -> str:
    """The name of a package in its one spelling (PEP 503)."""
    return re.sub(r"[-_.]+", "-", name).lower()


def _install(wanted: Wanted) -> list[str]:
    pip = "python -m pip install --disable-pip-version-check"
    is_wheel = wanted.install.endswith(".whl")
    what = f"./{wanted.install}" if is_wheel else wanted.install
    if not wanted.lock:
        return [NOT_HELD, f"{pip} {what}"]
    held = f"{pip} --require-hashes --requirement {wanted.lock}"
    return [held, f"{pip} --no-deps {what}"] if is_wheel else [held]


def _indented(line: str, forge: str) -> str:
    """A line of a script where the forge's file has it; a remark is no item of a list."""
    indent = _INDENT[forge]
    return f"{indent.replace('- ', '') if line.startswith('#') else indent}{line}"


def _filled(template: str, logbook: str) -> str:
    return template.replace("@logbook@", logbook)


def _odd_path(path: str) -> tuple[str, str]:
    return (
        f"'{path}' has characters that a shell would take for something else",
        "use a path within the repository of letters, digits and . _ + - /",
    )
