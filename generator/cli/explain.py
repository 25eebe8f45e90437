"""`esterday explain`: what a code of a problem means, with an example."""

from __future__ import annotations

import click

from generator.cli.completing import codes
from generator.cli.telling import command


@command("esterday explain", "esterday explain decimal-comma")
@click.argument("code", required=False, shell_complete=codes)
def explain(code: str | None) -> None:
    """Tell what CODE means, why it matters, and how an example of it is mended; without CODE, list all by area."""
    from generator.explaining import contents, explained, page_of
    from generator.problems import did_you_mean, visible

    if code is None:
        click.echo("\n".join(contents()).rstrip())
        return
    name = code.strip("()").casefold()
    if name not in explained():
        click.echo(f"error: there is no problem '{visible(code)}'", err=True)
        hint = did_you_mean(name, explained())
        click.echo(f"    hint: {hint or 'esterday explain lists them all'}", err=True)
        raise SystemExit(2)
    click.echo("\n".join(page_of(explained()[name])))
