"""The command: parses, prints, exits. No logic, and no import that a `--help` would have to wait for.

One module a command, imported when it is asked for; what all of them print alike is in `telling`. Exit codes: 0 fine, 1 problems in the logbook, 2 usage,
3 the machine (disk, permissions).
"""

from __future__ import annotations

import atexit
import errno
import gc
import importlib
import os
import sys
import traceback
from typing import Any

import click

from generator import __version__
from generator.cli.telling import write_examples

# A logbook is many small records and few cycles: looking for these as often as Python does took a fifth of the time.
COLLECTED = (1_000_000, 50, 50)


# the commands; each is the function of its name in the module of its name
COMMANDS = (
    "add", "begin", "blank", "build", "check", "doctor", "dose", "explain", "export", "fix", "import", "migrate", "new",
    "offer", "preview", "record", "schema", "setup", "verify",
)  # fmt: skip
# what else a command may be called -> the command
MEANT = {
    "edit": "add", "init": "begin", "label": "build", "lint": "check", "list": "check", "render": "build",
    "serve": "preview", "sheet": "dose", "start": "begin", "status": "check", "validate": "check", "watch": "preview",
    "weigh": "dose", "write": "new",
}  # fmt: skip


# what a machine says of which it has no more: processes or threads, files of this one, files of all, memory
SCARCE = (errno.EAGAIN, errno.EMFILE, errno.ENFILE, errno.ENOMEM)


class _Group(click.Group):
    """The command itself: its help begins with examples too, and a name that is not known leads to one that is."""

    def main(self, *args: Any, **more: Any) -> Any:
        """Run it; where memory, processes or files give out or what it prints cannot be written, exit with 3 and a line that says why."""
        try:
            return super().main(*args, **more)
        except MemoryError:
            told = "the machine has no memory left for this\n    hint: end other programs"
            raise SystemExit(_told_of_the_machine(told)) from None
        except OSError as error:
            if not _was_printing(error):
                if error.errno not in SCARCE:
                    raise
                told = f"the machine has too little left for this: {(error.strerror or '').lower()}\n    hint: end other programs"
                raise SystemExit(_told_of_the_machine(told)) from None
            _give_up_printing()
            if error.errno == errno.EPIPE:  # who read it has gone, and misses nothing
                raise SystemExit(1) from None
            told = f"the output cannot be written: {error.strerror}"
            raise SystemExit(_told_of_the_machine(told)) from None

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of all commands, in the order of the help."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name; None where none has it."""
        if cmd_name not in COMMANDS:
            return None
        name = "import_" if cmd_name == "import" else cmd_name
        found: click.Command = getattr(importlib.import_module(f"generator.cli.{name}"), name)
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command, or say which one may be meant."""
        name = args[0]
        if self.get_command(ctx, name) is not None or name.startswith("-"):
            return super().resolve_command(ctx, args)
        from generator.problems import nearest, visible

        meant = self.get_command(ctx, MEANT.get(name) or nearest(name, COMMANDS) or "")
        hint = (
            f"{meant.name}: {meant.get_short_help_str(90)}" if meant else "'esterday --help' lists them all"
        )
        raise click.UsageError(f"no command is called '{visible(name)[:64]}'.\n    hint: {hint}", ctx)

    def format_help(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the examples before all else."""
        write_examples(formatter, ("esterday check", "esterday build logbook --out site"))
        super().format_help(ctx, formatter)


def _was_printing(error: OSError) -> bool:
    """Whether this was raised where all that is printed goes through, and not by a file of the user."""
    *_, (frame, _) = traceback.walk_tb(error.__traceback__)
    return frame.f_code is click.echo.__code__


def _give_up_printing() -> None:
    """Lead each stream that still holds what it cannot write to nowhere, so that the end of the process does not try again."""
    for stream in filter(None, (sys.stdout, sys.stderr)):  # one that was closed is None
        try:
            stream.flush()
        except OSError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _told_of_the_machine(what: str) -> int:
    """The exit code of a fault of the machine, which is told where it can be."""
    try:
        click.echo(f"error: {what}", err=True)
    except OSError:  # then the exit code alone tells it
        _give_up_printing()
    return 3


@click.group(
    cls=_Group,
    context_settings={"help_option_names": ["-h", "--help"]},
)
@click.version_option(__version__, prog_name="esterday")
def main() -> None:
    """Keep a biodiesel workshop's batches in plain files; check them and render a site."""
    gc.set_threshold(*COLLECTED)
    atexit.register(
        gc.freeze
    )  # what is there at the end goes with the process: looking through it once more would take time
    os.environ.setdefault(
        "OPENBLAS_NUM_THREADS", "1"
    )  # no figure here is worth a thread; refused one, it interrupts
    os.environ.setdefault(
        "PYDANTIC_DISABLE_PLUGINS", "true"
    )  # whatever else is installed takes no part in a check
