"""What is looked for, one function for each kind; all that is found is told at once."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path, PurePosixPath
from typing import Any

from generator.compute.opened import told
from generator.doctor.findings import Finding
from generator.doctor.repository import Repository, repository_of
from generator.doctor.workflows import Workflow, workflows_of
from generator.read.folder import SITE_MARK, Folder, read_folder
from generator.read.root import WORKSHOP
from generator.tables import widenable

FORGES = ("github.com", "gitlab.com", "codeberg.org", "bitbucket.org", "git.sr.ht")
PAGES = ("gh-pages", "pages", "gl-pages")
PRIVATE_KEYS = {
    "prices": {"paid", "freight", "asked", "price", "labour_rate"},
    "sources": {"source"},
    "members": {"to"},
    "notes": {"note"},
}
DRAFT = ".draft-"  # answers of a command that is not finished
_PRIVATE = '<meta name="robots" content="noindex">'
_HEAD = 4096  # the mark of a private page stands near its beginning


def findings_of(logbook: Path, outs: tuple[str, ...] = ("site", "public")) -> list[Finding]:
    """All that is found, what stops first; `outs` are the folders sites usually go to."""
    folder = read_folder(logbook)
    repository = repository_of(logbook)
    found = [*_widened(folder)]
    if repository is None:
        found.append(Finding("no-repository", str(logbook), "this logbook lies in no git repository"))
    elif repository.without_git:
        found.append(Finding("no-git", str(repository.top), "git is not installed here, or not found"))
    elif repository.refused:
        found.append(Finding("git-refuses", str(repository.top), "git does not work here"))
    else:
        for look in (_tracked, _ignored, _branches, _remotes, _shallow):
            found += look(repository, folder, outs)
    top = repository.top if repository is not None else logbook.absolute().parent
    for workflow in workflows_of(top):
        found += _workflow(workflow, top, logbook)
    return sorted(set(found), key=lambda each: (not each.stops, each))


def is_private_site(page: str) -> bool:
    """Whether the beginning of a site's page says that it is the workshop's own."""
    return _PRIVATE in page[:_HEAD]


def _widened(folder: Folder) -> Iterator[Finding]:
    data = folder.workshop.data if folder.workshop is not None else None
    public = data.get("public") if isinstance(data, dict) else None
    known = set(widenable())
    for line in told([name for name in public if name in known] if isinstance(public, list) else []):
        yield Finding("widened", WORKSHOP, f"made public by the setting: {line}")


def _tracked(repository: Repository, folder: Folder, outs: tuple[str, ...]) -> Iterator[Finding]:
    paths = [PurePosixPath(path) for path in repository.tracked()]
    sites = {path.parent for path in paths if path.name == SITE_MARK}
    for site in sorted(sites):
        kind = "the workshop's own" if _private_at(repository.top / site) else "a"
        yield Finding("site-tracked", str(site), f"{kind} site is tracked by git")
    told: set[PurePosixPath] = set()
    for path in paths:  # a site can be copied without what it keeps its files by
        if path.suffix == ".html" and not {*path.parents} & (sites | told) and _is_private(repository, path):
            told.add(path.parent)
            yield Finding(
                "site-tracked",
                str(path.parent),
                f"pages of the workshop's own site, such as {path.name}, are tracked by git",
            )
    for path in paths:
        if path.name.startswith(DRAFT) and path.suffix == ".json":
            yield Finding("drafts-tracked", str(path), "a draft of a command is tracked by git")


def _is_private(repository: Repository, path: PurePosixPath) -> bool:
    """Whether a page that git keeps is the workshop's own, as it lies here, or as git has it."""
    return _private(repository.top / path) or is_private_site(repository.file_of("", str(path)))


def _ignored(repository: Repository, folder: Folder, outs: tuple[str, ...]) -> Iterator[Finding]:
    for out in outs:
        if not repository.is_ignored(f"{out}/{SITE_MARK}"):
            there = ", and it is there" if (repository.top / out / SITE_MARK).exists() else ""
            yield Finding("site-not-ignored", out, f"the folder '{out}' is not in .gitignore{there}")
    for path in repository.untracked(SITE_MARK):
        if (out := str(PurePosixPath(path).parent)) not in outs:
            yield Finding("site-not-ignored", out, f"a site lies in '{out}', which is not in .gitignore")
    inside = os.path.relpath(folder.root.absolute(), repository.top)
    if not repository.is_ignored(f"{inside}/batches/.draft-x.json"):
        yield Finding("drafts-not-ignored", inside, "drafts of the commands are not in .gitignore")


def _branches(repository: Repository, folder: Folder, outs: tuple[str, ...]) -> Iterator[Finding]:
    for full, name in repository.branches():
        if name not in PAGES:
            continue
        if any(PurePosixPath(path).name == WORKSHOP for path in repository.files_of(full)):
            yield Finding("pages-branch-logbook", full, "a logbook lies on a branch for pages")
        elif is_private_site(repository.file_of(full, "index.html")):
            yield Finding("pages-branch-private", full, "the workshop's own site lies on a branch for pages")
        else:
            yield Finding("pages-branch", full, "there is a branch for pages")


def _remotes(repository: Repository, folder: Folder, outs: tuple[str, ...]) -> Iterator[Finding]:
    kinds = [kind for kind, keys in PRIVATE_KEYS.items() if _holds(folder, keys)]
    for name, host in repository.hosts():
        if host in FORGES and kinds:
            what = f"at {host}, where repositories can be public; this logbook holds {', '.join(kinds)}"
            yield Finding("public-remote", f"remote '{name}'", what)


def _shallow(repository: Repository, folder: Folder, outs: tuple[str, ...]) -> Iterator[Finding]:
    if repository.is_shallow():
        yield Finding("no-history", str(repository.top), "a part of the history is missing here")


def _workflow(workflow: Workflow, top: Path, logbook: Path) -> Iterator[Finding]:
    file = workflow.file
    if not workflow.readable:
        yield Finding("workflow-unreadable", file, "this workflow could not be read")
        return
    yield from _uploads(workflow, top, logbook)
    yield from _sent(workflow, top, logbook)
    for elsewhere in workflow.elsewhere:
        yield Finding("workflow-elsewhere", file, f"it takes in {elsewhere}, which is not looked into")
    if workflow.on_foreign_code:
        yield Finding("runs-foreign-code", file, "pull_request_target starts it")
    for rights in workflow.wide_rights:
        yield Finding("wide-rights", file, rights)
    if workflow.builds and not workflow.whole_history:
        yield Finding("no-history", file, "it fetches a part of the history")
    for used in sorted(set(workflow.unpinned)):
        yield Finding("not-pinned", file, f"'{used}' is not pinned")


def _uploads(workflow: Workflow, top: Path, logbook: Path) -> Iterator[Finding]:
    file = workflow.file
    covered: set[str] = set()
    for upload in workflow.uploads:
        place = upload.removeprefix("!").partition("*")[0]
        if upload.startswith("!") or "$" in place:
            continue
        path = _resolved(top, place)
        if _resolved(top, str(logbook.absolute())).is_relative_to(path):
            yield Finding("logbook-uploaded", file, f"'{upload}' is uploaded, and the logbook lies in it")
            continue
        if _private_below(path):
            yield Finding(
                "private-site-uploaded", file, f"'{upload}' is uploaded, and the workshop's site lies in it"
            )
        for build in workflow.builds:
            out = _resolved(top, build.out)
            meets = out.is_relative_to(path) or path.is_relative_to(out)
            if build.audience != "shared" and meets:
                covered.add(build.out)
                yield Finding(
                    "private-site-uploaded",
                    file,
                    f"the workshop's site is built into '{build.out}' and uploaded",
                )
    for build in workflow.builds:
        if build.audience != "shared" and build.out not in covered:
            yield Finding("workshop-build", file, f"the workshop's site is built into '{build.out}'")


def _sent(workflow: Workflow, top: Path, logbook: Path) -> Iterator[Finding]:
    """What a step of its own sends somewhere: where that is cannot be judged from here."""
    inside = _resolved(top, str(logbook.absolute()))
    private = [_resolved(top, build.out) for build in workflow.builds if build.audience != "shared"]
    for sent in dict.fromkeys(workflow.sent):
        path = _resolved(top, sent.path.partition("*")[0])
        if inside.is_relative_to(path) or path.is_relative_to(inside):
            yield Finding(
                "private-sent", workflow.file, f"{sent.by} sends '{sent.path}', of the logbook itself"
            )
        elif _private_below(path) or any(
            out.is_relative_to(path) or path.is_relative_to(out) for out in private
        ):
            yield Finding(
                "private-sent",
                workflow.file,
                f"{sent.by} sends '{sent.path}', where the workshop's site lies",
            )


def _resolved(top: Path, place: str) -> Path:
    """A path of a workflow in this checkout; links followed, so that a detour is seen."""
    return Path(os.path.realpath(top / place))


def _private_at(site: Path) -> bool:
    return _private(site / "index.html")


def _private(file: Path) -> bool:
    try:
        with file.open(encoding="utf-8", errors="replace") as page:
            return is_private_site(page.read(_HEAD))
    except OSError:
        return False


def _private_below(folder: Path) -> bool:
    """Whether a built site of the workshop lies in a folder or below it."""
    return any(SITE_MARK in files and _private_at(Path(here)) for here, _, files in os.walk(folder))


def _holds(folder: Folder, keys: set[str]) -> bool:
    """Whether any record has one of these keys, wherever it stands."""
    waiting: list[Any] = [document.data for listed in folder.documents.values() for document in listed]
    while waiting:
        each = waiting.pop()
        if isinstance(each, dict):
            if not keys.isdisjoint(each):
                return True
            waiting += each.values()
        elif isinstance(each, list):
            waiting += each
    return False
