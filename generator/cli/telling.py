"""What every command prints alike: problems with their lines, and counts; all to stderr."""

from __future__ import annotations

import functools
import itertools
import os
import re
import sys
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from generator.read.root import front_of, usual_logbook

if TYPE_CHECKING:
    from generator.exchange.mapping import Trouble
    from generator.problems import Problem
    from generator.read.folder import Folder

MOST_ALIKE = 5  # of one code in one file; the rest are counted, `--json` holds them all
MOST_LINES = 12
MOST_OF_A_COLUMN = 20  # of a sheet; of the rest the rows are named
COLOURS = {"error": "red", "warning": "yellow", "caret": "cyan", "hint": "green"}
_OPTION = re.compile(r"--[A-Za-z-]+(?:=.*)?", re.DOTALL)


class Day(click.DateTime):
    """A day of the calendar, such as 2026-03-01."""

    def __init__(self) -> None:
        """Take days as a logbook writes them."""
        super().__init__(["%Y-%m-%d"])

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Read a day, or say why it is none."""
        from generator.mending import either_day
        from generator.problems import visible

        try:
            return super().convert(value, param, ctx)
        except click.BadParameter:
            shown = visible(str(value)[:40])
            written = re.fullmatch(r"\d{4}-\d{1,2}-\d{1,2}", str(value), re.ASCII)
            told = f"there is no day '{shown}'" if written else f"'{shown}' is not written as a day"
            meant = (
                either_day(str(value)) if "-" not in str(value) and any(map(str.isdigit, str(value))) else ""
            )
            self.fail(f"{told}; {meant or 'write it like 2026-03-01'}.", param, ctx)


LOGBOOK = click.argument("logbook", type=click.Path(path_type=Path), default=usual_logbook)
AUDIENCE = click.option(
    "--audience",
    type=click.Choice(["workshop", "shared"]),
    default="workshop",
    show_default=True,
    help="Everything, or only what is public.",
)
AS_OF = click.option(
    "--as-of",
    metavar="DATE",
    type=Day(),
    help="Count from this day instead of the latest date in the logbook.",
)

NO_CACHE = click.option(
    "--no-cache", is_flag=True, help="Make everything anew, and keep nothing in your user's cache folder."
)


def cache_folder(no_cache: bool) -> Path | None:
    """Where this user's programs keep what can be made again; nowhere where that is not wanted."""
    if no_cache:
        return None
    from platformdirs import user_cache_path

    return user_cache_path("esterday", appauthor=False)


class _WithExamples(click.Command):
    """A command whose help begins with examples; of one that `takes_dashes` a word may begin with a minus."""

    def __init__(self, *args: Any, examples: tuple[str, ...], takes_dashes: bool, **more: Any) -> None:
        super().__init__(*args, **more)
        self.examples, self.takes_dashes = examples, takes_dashes

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """What is missing is told with an example of how it is written; what is no text is not taken."""
        for arg in args:
            if not is_text(arg):
                shown = arg.encode("utf-8", "backslashreplace").decode()
                raise click.UsageError(
                    f"'{shown[:64]}' is not text in UTF-8.\n    hint: type it anew, in a terminal that is set to UTF-8",
                    ctx,
                )
        try:
            return super().parse_args(ctx, self._parted(args) if self.takes_dashes else args)
        except click.MissingParameter as error:
            raise click.UsageError(self._missing(error), ctx) from None
        except click.NoSuchOption as error:
            if self.takes_dashes:
                hint = f"put -- before the words where one begins with two: esterday {self.name} -- ..."
                raise click.UsageError(f"{error.format_message()}\n    hint: {hint}", ctx) from None
            if error.option_name.lstrip("-")[:1].isalpha():
                raise
            told = f"'{error.option_name}' is taken for an option, for it begins with a minus."
            hint = f"put -- behind the options: esterday {self.name} ... -- WORD '-3 °C'"
            raise click.UsageError(f"{told}\n    hint: {hint}", ctx) from None

    def _parted(self, args: Sequence[str]) -> list[str]:
        """The options before the words: a note may begin with a minus, and one word behind two is an option."""
        valued = {
            name
            for param in self.params
            if isinstance(param, click.Option) and not param.is_flag
            for name in param.opts
        }
        options: list[str] = []
        words: list[str] = []
        left = iter(args)
        for arg in left:
            if arg == "--":
                words += left
            elif arg == "-h" or _OPTION.fullmatch(arg):
                options += [arg, *itertools.islice(left, int(arg in valued))]
            else:
                words.append(arg)
        return [*options, "--", *words]

    def _missing(self, error: click.MissingParameter) -> str:
        assert error.param is not None
        words = ", ".join(getattr(error.param.type, "choices", ()))
        name = f"{error.param.human_readable_name} is missing{f': one of {words}' if words else ''}."
        return f"{name}\n    hint: for example: {self.examples[0]}"

    def format_help(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        write_examples(formatter, self.examples)
        super().format_help(ctx, formatter)


def command(
    *examples: str,
    name: str | None = None,
    text: str | None = None,
    short: str | None = None,
    takes_dashes: bool = False,
) -> Callable[[Callable[..., None]], click.Command]:
    """Make a function a command whose help begins with these examples; its docstring is the help where no text is given.

    `name` is for a command that no function can be called like, `takes_dashes` for one whose words may begin with a minus.
    """
    told = {"help": text} if text is not None else {}
    return click.command(
        name, cls=_WithExamples, examples=examples, takes_dashes=takes_dashes, short_help=short, **told
    )


def is_text(text: str) -> bool:
    """Whether a text can be written in UTF-8: no half of a character, and no byte of another encoding."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def write_examples(formatter: click.HelpFormatter, examples: tuple[str, ...]) -> None:
    """Write the examples that a help begins with."""
    with formatter.section("Examples"):
        for example in examples:
            formatter.write(f"{'':{formatter.current_indent}}{example}\n")
    formatter.write_paragraph()


def count(number: int, one: str, many: str = "") -> str:
    """Write `1 batch`, `2 batches`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def tell(
    folder: Folder,
    logbook: Path,
    problems: list[Problem],
    unwritten: Mapping[str, list[str]] | None = None,
) -> None:
    """Print the problems with their lines, to stderr, file by file; paths as they were given.

    `unwritten` are lines not on the disk. Where others may read what is printed, no value of a file is.
    """
    from generator.problems import by_file, plain, told

    drafts = {  # the line ends with what a file of Windows has before its end
        file: [line.removesuffix("\r") for line in written] for file, written in (unwritten or {}).items()
    }
    lines = functools.cache(lambda file: drafts[file] if file in drafts else folder.lines(file))
    if is_read_by_others():
        lines, problems = functools.cache(lambda _: None), discreet(problems)
    colour = coloured()
    for number, group in enumerate(by_file(problems, MOST_ALIKE)):
        outside = Path(group.file).is_absolute() or group.file == str(logbook)
        prefix = "" if outside else front_of(logbook)
        if number:
            click.echo(err=True)
        for problem in group.shown:
            click.echo(told(problem, lines, prefix, _paint if colour else plain), err=True, color=colour)
        for code, rest in group.rest.items():
            click.echo(f"{prefix}{group.file}: {_more(code, rest)}", err=True)


def tell_troubles(file: str, troubles: Sequence[Trouble]) -> None:
    """Print what keeps rows of a sheet or lines of a map from being taken; where others may read it, the places alone."""
    from generator.problems import visible

    more: dict[str, list[str]] = {}
    shown: Counter[str] = Counter()
    for trouble in troubles:
        row, _, column = trouble.where.partition(", ")
        shown[column] += 1
        if column and shown[column] > MOST_OF_A_COLUMN:
            more.setdefault(column, []).append(row.removeprefix("row "))
            continue
        where = f"{file}: {trouble.where}" if file else trouble.where
        if is_read_by_others():
            place = where.partition(" '")[0]
            click.echo(f"{place}: error: this cannot be taken; values are not printed here", err=True)
            continue
        click.echo(f"{where}: error: {visible(trouble.message)}", err=True)
        if trouble.hint:
            click.echo(f"    hint: {visible(trouble.hint)}", err=True)
    for column, rows in more.items():
        place = column.partition(" '")[0] if is_read_by_others() else column
        click.echo(f"{file}: {place}: these rows are not used either: {', '.join(rows)}", err=True)


def is_read_by_others() -> bool:
    """Whether this runs for a forge, whose records of it may be public: the variable CI is set, as forges do."""
    return os.environ.get("CI", "").lower() not in ("", "0", "false", "no")


def discreet(problems: list[Problem]) -> list[Problem]:
    """The problems as they may be told: without any value of a file where others read it."""
    from generator.problems import without_values

    return [without_values(problem) for problem in problems] if is_read_by_others() else problems


def coloured() -> bool:
    """Whether stderr takes colour: a terminal that is not dumb, and no NO_COLOR in the environment."""
    return sys.stderr.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _paint(role: str, text: str) -> str:
    return click.style(text, fg=COLOURS[role], bold=role != "hint")


def _more(code: str, lines: tuple[int, ...]) -> str:
    """`12 more of these (decimal-comma), in lines 8, 9, 11 ...`."""
    where = [str(line) for line in dict.fromkeys(lines) if line]
    some = f", in {'line' if len(where) == 1 else 'lines'} {', '.join(where[:MOST_LINES])}" if where else ""
    return f"{len(lines)} more of these ({code}){some}{' ...' if len(where) > MOST_LINES else ''}"


def summary(problems: list[Problem], batches: int, planned: int = 0) -> None:
    """Print how many batches were read and how many problems found."""
    errors = sum(problem.is_error for problem in problems)
    warnings = len(problems) - errors
    more = f" and {planned} planned" if planned else ""
    click.echo(
        f"{count(batches, 'batch', 'batches')}{more} read: {count(errors, 'error')}, {count(warnings, 'warning')}.",
        err=True,
    )
    mendable = sum(problem.mend is not None for problem in problems)
    if mendable:
        click.echo(f"{mendable} can be mended without guessing: see 'esterday fix'.", err=True)
