"""What the commands that write have in common: the logbook as it is, a text tried in it, and a file put in its place."""

from __future__ import annotations

import contextlib
import datetime
import fcntl
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from generator.cli.halves import half_in, sweep, umask
from generator.cli.telling import Day, cache_folder, tell
from generator.cli.waiting import waiting
from generator.read.root import repository_above, usual_logbook

if TYPE_CHECKING:
    from generator.log import Log
    from generator.read.folder import Folder
    from generator.validate.answer import Fault
    from generator.validate.logbook import Checked
    from generator.writing.adding import Target
    from generator.writing.scalars import Value

LOGBOOK_OPTION = click.option(
    "--logbook",
    type=click.Path(path_type=Path),
    default=usual_logbook,
    show_default="logbook, or the one you stand in",
    help="Folder of the logbook.",
)
DATE = click.option("--date", "day", metavar="DATE", type=Day(), help="Day to write instead of today.")
DRY_RUN = click.option("--dry-run", is_flag=True, help="Print what would be written, and write nothing.")


def today(day: datetime.datetime | None) -> datetime.date:
    """The day that was given, or today's by this machine's clock."""
    return day.date() if day is not None else datetime.date.today()


@dataclass(slots=True)
class Opened:
    """A logbook that can be written to: what was read, and what `check` says of it."""

    root: Path
    folder: Folder
    checked: Checked

    @property
    def log(self) -> Log:
        """Its records."""
        assert self.checked.log is not None
        return self.checked.log


def opened(root: Path) -> Opened:
    """Read and check a logbook; exits with 1 where its settings cannot be read."""
    from generator.kept import Kept
    from generator.validate.logbook import checked_folder

    with waiting("Reading the logbook"):
        folder, checked = checked_folder(root, kept=Kept(cache_folder(no_cache=False)))
    if checked.log is None:
        tell(folder, root, checked.problems)
        raise SystemExit(1)
    return Opened(root, folder, checked)


def stop(message: str, hint: str = "", code: int = 2) -> SystemExit:
    """Say what is wrong and return the exit to raise."""
    click.echo(f"error: {message}", err=True)
    if hint:
        click.echo(f"    hint: {hint}", err=True)
    return SystemExit(code)


def stop_for(fault: Fault) -> SystemExit:
    """The same for a fault."""
    return stop(fault.message, fault.hint)


_STILL_TO_COME = ("no-titration", "no-feed-soap")  # the next step that is named
_OTHER_ID = "give another id, or none: the next free one is taken then"
ONE_LINE = 80  # signs of an entry that is written on one line; a longer one stands on several


def _no_place(path: Path, target: Target, value: Value) -> SystemExit:
    """Why a value has no place: beside one that stands alone, with both as a list; or in what is not there yet."""
    from generator.writing.scalars import flow

    *above, key = target.path
    found: Any = target.entry.document.data
    for part in above:
        found = found[part] if isinstance(found, dict) and part in found else None
    if not target.to_list or not isinstance(found, dict) or key not in found:
        told = "entries of a list are counted from 0, and each is written before what stands in it"
        return stop(f"{path}: {target.what or 'what is there'} has no place there yet", told, 1)
    told = f"{path}: one stands alone under '{key}', and another needs a list"
    there = flow(found[key])
    if len(there) > ONE_LINE:
        hint = (
            "put '- ' before the entry that is there, two blanks before each line below it, and run it again"
        )
        return stop(told, hint, 1)
    return stop(told, f"write {key}: [{there}, {flow(value)}]", 1)


def insert(book: Opened, target: Target, value: Value, dry_run: bool, remark: str = "") -> None:
    """Add a value to the file of a record, where it brings no error; print the lines that were added.

    `remark` is a comment behind the first line of what is added.
    """
    from generator.validate.shape import keys_of
    from generator.writing.batch import without_blanks
    from generator.writing.insert import AlreadyWrittenError, NoPlaceError, inserted
    from generator.writing.meant import which_of_many

    file = target.entry.document.file
    path = book.root / file
    raw = path.read_bytes()
    text = raw.decode("utf-8-sig")
    if target.kind == "batches":
        text = without_blanks(text, str(target.path[0]))
    order = keys_of(target.model, target.path[:-1])
    try:
        addition = inserted(text, target.path, value, order, to_list=target.to_list)
    except AlreadyWrittenError as error:
        what = target.what or "it"
        raise stop(
            f"{path}:{error.line}: {what} is written there already, and nothing is written over",
            "change it in the file by hand",
            1,
        ) from None
    except NoPlaceError:
        raise _no_place(path, target, value) from None
    addition = addition.remarked(remark)
    after = addition.into(text)
    _try(book, file, after, "")
    click.echo(addition.shown_in(text))
    if dry_run:
        click.echo(f"Nothing was written; it would go to {path}.", err=True)
        return
    mark = b"\xef\xbb\xbf" if raw.startswith(b"\xef\xbb\xbf") else b""
    put_all({file: raw}, {file: mark + after.encode()}, book.root)
    which = which_of_many(target.entry, target.path) if target.kind == "batches" else ""
    click.echo(f"Added to {path}{which}.", err=True)
    if target.kind == "batches":
        _tell_next(book, file, after, str(target.path[0]))


def create(book: Opened, file: str, text: str, dry_run: bool) -> None:
    """Write a file that is not there yet, where it brings no error."""
    from generator.schema import editor_line

    path = book.root / file
    with contextlib.suppress(OSError):  # a name that no file can have, which is told of the id
        if path.exists():
            raise stop(f"{path} is there already, and nothing is written over", _OTHER_ID, 1)
    text = editor_line(book.root, file) + text
    _try(book, file, text, "--set ")
    click.echo(text, nl=False)
    if dry_run:
        click.echo(f"Nothing was written; it would be {path}.", err=True)
        return
    put(path, text.encode(), new=True)
    click.echo(f"Wrote {path}.", err=True)
    _tell_next(book, file, text, "oil")


def as_typed(book: Opened) -> str:
    """The folder of a logbook as it is typed behind a command; empty where commands find it by themselves."""
    return "" if book.root == usual_logbook() else str(book.root)


def _tell_next(book: Opened, file: str, text: str, written: str) -> None:
    """Name the command for what comes next, once this was written."""
    from generator.read.document import parse
    from generator.writing.following import commit_command, next_command, next_of_lot, next_of_offer

    document = parse(file, text).document
    assert document is not None
    where = as_typed(book)
    match file.split("/", 1)[0]:
        case "lots":
            command = next_of_lot(document.data, book.log, where)
        case "offers":
            command = next_of_offer(document.data, where)
        case "batches":
            command = next_command(document.data, written, book.log, where)
        case _:
            command = ""
    if written == "fuel" and not command and repository_above(book.root) is not None:
        command = commit_command(document.data, str(book.root) if book.root != Path() else "")
    if command:
        click.echo(f"Next: {command}", err=True)


def _try(book: Opened, file: str, text: str, more: str) -> None:
    """Exit with 1, and write nothing, where a text would bring an error; tell the warnings that are new about its file.

    `more` stands before what a command is given in addition.
    """
    from generator.writing.trial import tried

    trial = tried(book.folder, book.checked, file, text)
    told = [problem for problem in trial.told if problem.code not in _STILL_TO_COME]
    tell(book.folder, book.root, trial.errors or told, {file: text.split("\n")})
    if trial.now is not None and not trial.errors:
        _tell_ahead(book, trial.now)
    if trial.errors:
        click.echo("Nothing was written.", err=True)
        if any(problem.code == "missing-key" for problem in trial.errors):
            click.echo(
                f"Say what is missing with the rest: {more}KEY='VALUE', a group as {more}KEY='{{...}}'.",
                err=True,
            )
        raise SystemExit(1)


def _tell_ahead(book: Opened, now: datetime.date) -> None:
    """Warn where an entry moves the day that everything counts from beyond today: the check knows no clock, and could not."""
    day = today(None)
    if now > max(day, book.log.now()):
        click.echo(
            f"warning: this is dated ahead of today, {day}: what is due, ages and stock would count from {now} on\n"
            "    hint: look at its year and month; a batch still to come is a plan and moves no day",
            err=True,
        )


def put(path: Path, content: bytes, *, new: bool) -> None:
    """Put a whole file in its place in one step; a new one never takes the place of another. Exits with 3 where it cannot.

    What a killed command left in the folder is taken away; what another one holds at this moment stays.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        sweep(path.parent)
        handle, name = half_in(path.parent)
        try:
            with os.fdopen(handle, "wb") as out:
                out.write(content)
                out.flush()
                os.fsync(out.fileno())
                Path(name).chmod(path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~umask())
                _place(Path(name), path, content, new=new)
        finally:
            Path(name).unlink(missing_ok=True)
    except OSError as error:
        hint = "nothing was changed there; make room, or let your user write there"
        raise stop(f"{path} cannot be written: {error.strerror}", hint, 3) from None


def put_all(before: Mapping[str, bytes], after: Mapping[str, bytes], logbook: Path) -> None:
    """Put each file in its place in one step; exits with 3 at the first that is not what was read, or cannot be written.

    One command at a time looks and puts, so that of two that read the same the second is told.
    """
    with _alone(logbook):
        for file, raw in before.items():
            path = logbook / file
            if path.read_bytes() != raw:
                raise stop(f"{path} has changed meanwhile", "run the command again", 3)
            put(path, after[file], new=False)


@contextlib.contextmanager
def _alone(logbook: Path) -> Iterator[None]:
    """Hold the lock of a logbook's folder; the kernel lets go of it when the command ends, however it ends."""
    held = os.open(logbook, os.O_RDONLY)
    try:
        with contextlib.suppress(OSError):  # a file system without locks
            fcntl.flock(held, fcntl.LOCK_EX)
        yield
    finally:
        os.close(held)


def _place(made: Path, path: Path, content: bytes, *, new: bool) -> None:
    """Give a finished file its name; a new one by a link, which fails where the name is taken."""
    if not new:
        made.replace(path)
        return
    try:
        path.hardlink_to(made)
    except FileExistsError:
        message = f"{path} is there already, and nothing is written over"
        raise stop(message, _OTHER_ID, 1) from None
    except OSError:  # a file system without links, such as that of a memory stick
        with path.open("xb") as out:
            out.write(content)
