"""What a step of a workflow runs: which sites it builds, and what it sends somewhere. Nothing of it is run."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

_BUILD = re.compile(r"\besterday\s+build\b([^\n;&|#]*)")
_PIPELINES = re.compile(r"\n|;|&&|\|\|")
# general programs that take files to another machine
_SENDERS = frozenset(
    (
        "rsync",
        "scp",
        "sftp",
        "lftp",
        "ncftpput",
        "curl",
        "aws",
        "gsutil",
        "gcloud",
        "az",
        "s3cmd",
        "mc",
        "rclone",
    )
)
_AT = re.compile(r"(?:[^=\s]*=)?@(.+)")  # how a file stands in a form


@dataclass(frozen=True, slots=True)
class Build:
    """A build that a workflow runs: for whom, and into which folder."""

    audience: str
    out: str


@dataclass(frozen=True, slots=True)
class Sent:
    """A word of a command that sends files; it is a path, or names nothing that there is."""

    by: str
    path: str


def builds_in(script: str) -> Iterator[Build]:
    """The builds of a site that a script runs, one a call; a script that makes up its words is not seen through."""
    for match in _BUILD.finditer(_joined(script)):
        words = _words(match[1])
        yield Build(_option(words, "--audience", "workshop"), _option(words, "--out", "site"))


def sent_by(script: str, inside: str = "") -> Iterator[Sent]:
    """The words of every command that sends files, and of what is led into it; as paths from the folder that the script went into."""
    for pipeline in _PIPELINES.split(_joined(script)):
        words = _words(pipeline)
        if words[:1] == ["cd"] and len(words) > 1:
            inside = str(PurePosixPath(inside, words[1]))
            continue
        senders = [name for word in words if (name := PurePosixPath(word).name) in _SENDERS]
        for word in words if senders else ():
            path = match[1] if (match := _AT.fullmatch(word)) else word
            if not path.startswith("-") and ":" not in path and "$" not in path and path not in _SENDERS:
                yield Sent(senders[0], str(PurePosixPath(inside, path)))


def _joined(script: str) -> str:
    return script.replace("\\\n", " ")


def _words(text: str) -> list[str]:
    try:
        return shlex.split(text, comments=True)
    except ValueError:
        return text.split()


def _option(words: list[str], name: str, otherwise: str) -> str:
    for number, word in enumerate(words):
        if word == name and number + 1 < len(words):
            return words[number + 1]
        if word.startswith(f"{name}="):
            return word.partition("=")[2]
    return otherwise
