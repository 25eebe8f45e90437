"""`esterday verify`: hold a downloaded file against the digest that was published."""

from __future__ import annotations

from pathlib import Path

import click

from generator.cli.telling import command

HEX_DIGITS = 64


@command(
    "esterday verify 2026-014.json 5c1f9...",
    "esterday verify batches.csv 0b77e...",
)
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False, readable=True))
@click.argument("published")
def verify(file: Path, published: str) -> None:
    """Tell whether FILE is the one whose digest, SHA-256, is PUBLISHED.

    The digest stands on the page of a batch, and for the tables in data/sha256.txt. A .json may have been laid out anew
    since; any other file must be the same byte by byte.
    """
    from generator.digests import digests

    wanted = published.strip().lower()
    if len(wanted) != HEX_DIGITS or not set(wanted) <= set("0123456789abcdef"):
        raise click.BadParameter(f"a digest has {HEX_DIGITS} digits of 0-9 and a-f", param_hint="PUBLISHED")
    try:
        found = digests(file.read_bytes())
    except OSError as error:
        click.echo(f"error: {file}: {error.strerror}", err=True)
        raise SystemExit(3) from None
    if wanted not in found:
        click.echo(f"{file} is not the file with this digest: it was changed, or it is of another day.")
        raise SystemExit(1)
    click.echo(f"{file} is the file with this digest.")
