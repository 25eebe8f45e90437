"""What the workflows of a repository build and upload, as far as their files say it. Nothing of them is run."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from generator.doctor.scripts import Build, Sent, builds_in, sent_by

MOST_BYTES = 1024 * 1024
GITLAB = ".gitlab-ci.yml"
FOLDERS = (".github/workflows", ".forgejo/workflows", ".gitea/workflows")

_UPLOADS = re.compile(r"pages|upload|deploy|publish", re.IGNORECASE)
_PLACES = ("path", "publish_dir", "folder", "directory", "publish-dir", "source")
_ALL = "write-all"
_TO_PUBLISH = ("pages", "id-token")  # what a job needs to publish pages, and no more
_PINNED = re.compile(r"@(?:[0-9a-f]{40}|sha256:[0-9a-f]{64})$")


@dataclass(slots=True)
class Workflow:
    """One file, and what was read in it; `readable` says whether it could be."""

    file: str
    readable: bool = True
    uploads: list[str] = field(default_factory=list)
    sent: list[Sent] = field(default_factory=list)
    elsewhere: list[str] = field(default_factory=list)
    included: list[str] = field(default_factory=list)
    builds: list[Build] = field(default_factory=list)
    unpinned: list[str] = field(default_factory=list)
    on_foreign_code: bool = False
    wide_rights: list[str] = field(default_factory=list)
    whole_history: bool = True


def workflows_of(top: Path) -> Iterator[Workflow]:
    """Every workflow of the repository whose top this is, in order of the files."""
    files = [path for name in FOLDERS for path in sorted((top / name).glob("*.y*ml"))]
    for path in files:
        yield _read(path, path.relative_to(top).as_posix())
    waiting, seen = [top / GITLAB] if (top / GITLAB).is_file() else [], set[Path]()
    while waiting:
        path = waiting.pop(0)
        seen.add(path)
        found = _read(path, path.relative_to(top).as_posix(), gitlab=True)
        yield found
        waiting += [top / name for name in found.included if (top / name) not in {*seen, *waiting}]


def _read(path: Path, file: str, *, gitlab: bool = False) -> Workflow:
    from ruamel.yaml import YAML  # noqa: PLC0415 - only where there is a workflow
    from ruamel.yaml.error import YAMLError  # noqa: PLC0415

    found = Workflow(file)
    try:
        if path.is_symlink() or path.stat().st_size > MOST_BYTES:
            raise ValueError
        data = YAML(typ="safe", pure=True).load(path.read_text(encoding="utf-8"))
        if not isinstance(data, dict):
            raise ValueError
    except (OSError, ValueError, RecursionError, YAMLError):
        found.readable = False
        return found
    groups = [each for each in _groups(data, set()) if isinstance(each, dict)]
    (_gitlab if gitlab else _actions)(found, data, groups)
    return found


def _actions(found: Workflow, data: dict[Any, Any], groups: list[dict[Any, Any]]) -> None:
    events = data.get("on")
    found.on_foreign_code = "pull_request_target" in (events if isinstance(events, dict | list) else [events])
    found.wide_rights = list(_wide_rights(data))
    for each in groups:
        uses, given = each.get("uses"), each.get("with")
        given = given if isinstance(given, dict) else {}
        if isinstance(uses, str) and not uses.startswith("./"):
            if not _PINNED.search(uses):
                found.unpinned.append(uses)
            name = uses.partition("@")[0]
            if name.endswith("/checkout") and str(given.get("fetch-depth")) != "0":
                found.whole_history = False
            if _UPLOADS.search(name.rpartition("/")[2]) and name != "actions/deploy-pages":
                found.uploads += [line for key in _PLACES for line in _lines(given.get(key))]
                if name.endswith("/upload-pages-artifact") and not given.get("path"):
                    found.uploads.append("_site")
        _script(found, _lines(each.get("run"), whole=True), str(each.get("working-directory") or ""))


def _script(found: Workflow, texts: list[str], inside: str = "") -> None:
    """What a step's script builds and sends."""
    for text in texts:
        found.builds += builds_in(text)
    found.sent += sent_by("\n".join(texts), inside)


def _wide_rights(data: dict[Any, Any]) -> Iterator[str]:
    """Each job, or call of another workflow, that may write more than pages: by its own rights, or else by those of all."""
    jobs = data.get("jobs")
    for name, job in jobs.items() if isinstance(jobs, dict) else ():
        rights = job.get("permissions", data.get("permissions", _ALL)) if isinstance(job, dict) else {}
        if rights == _ALL:
            yield f"the rights of the job '{name}' are not narrowed"
        elif isinstance(rights, dict):
            wide = [
                str(right) for right, given in rights.items() if given == "write" and right not in _TO_PUBLISH
            ]
            if wide:
                yield f"the job '{name}' may write: {', '.join(wide)}"


def _gitlab(found: Workflow, data: dict[Any, Any], groups: list[dict[Any, Any]]) -> None:
    variables = data.get("variables")
    depth = variables.get("GIT_DEPTH") if isinstance(variables, dict) else None
    found.whole_history = str(depth.get("value") if isinstance(depth, dict) else depth) == "0"
    for each in groups:
        image = each.get("image")
        name = image.get("name") if isinstance(image, dict) else image
        if isinstance(name, str) and not _PINNED.search(name):
            found.unpinned.append(name)
        kept = each.get("artifacts")
        if isinstance(kept, dict):
            found.uploads += _lines(kept.get("paths"))
        pages = each.get("pages")
        found.uploads += _lines(each.get("publish")) + (
            _lines(pages.get("publish")) if isinstance(pages, dict) else []
        )
        lines = [
            line
            for key in ("before_script", "script", "after_script")
            for line in _lines(each.get(key), whole=True)
        ]
        _script(found, lines)
    for each in _listed(data.get("include")):
        local = each.get("local") if isinstance(each, dict) else each
        if isinstance(local, str) and "://" not in local and "*" not in local:
            found.included.append(local.lstrip("/"))
        else:
            named = (
                each if isinstance(each, str) else ", ".join(f"{key} {value}" for key, value in each.items())
            )
            found.elsewhere.append(f"'{named}'")


def _listed(value: Any) -> list[Any]:
    """One thing or a list of them, texts and groups alone."""
    return [each for each in (value if isinstance(value, list) else [value]) if isinstance(each, str | dict)]


def _lines(value: Any, whole: bool = False) -> list[str]:
    """The texts of a value that is one or a list of them; a text of several lines is several, unless it is a script."""
    texts = [item for item in (value if isinstance(value, list) else [value]) if isinstance(item, str)]
    return texts if whole else [line.strip() for item in texts for line in item.splitlines() if line.strip()]


def _groups(value: Any, seen: set[int]) -> Iterator[Any]:
    """Every group and list below a value, once, however often an alias names it."""
    waiting = [value]
    while waiting:
        each = waiting.pop(0)
        if not isinstance(each, dict | list) or id(each) in seen:
            continue
        seen.add(id(each))
        yield each
        waiting += each.values() if isinstance(each, dict) else each
