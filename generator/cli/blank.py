"""`esterday blank`: an empty batch sheet for paper."""

from __future__ import annotations

import click

from generator.cli.telling import command


@command("esterday blank > batch-sheet.html")
def blank() -> None:
    """Print an empty batch sheet as one file of HTML, to be printed on two pages of A4 and filled in at the bench.

    Its fields follow the order of a batch file. What a planned batch takes is printed by `esterday dose`.
    """
    from generator.blank import blank_sheet

    click.echo(blank_sheet(), nl=False)
