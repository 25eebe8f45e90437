"""`esterday schema`: JSON Schemas of the files, for editors."""

from __future__ import annotations

from pathlib import Path

import click

from generator.cli.telling import command, count

KINDS = ("logbook", "materials", "lots", "batches", "columns", "tanks", "offers", "prices", "pages")


@command("esterday schema batches", "esterday schema --out logbook/.schemas")
@click.argument("kind", required=False, type=click.Choice(KINDS))
@click.option("--out", type=click.Path(path_type=Path), help="Folder that all schemas are written to.")
def schema(kind: str | None, out: Path | None) -> None:
    """Print the JSON Schema of the files of KIND, or write those of all kinds to a folder.

    An editor that knows it completes keys and marks what is wrong while you type. `esterday check` says more.
    """
    from generator.schema import file_name, schema_text

    if (kind is None) == (out is None):
        raise click.UsageError("give one of KIND and --out")
    if kind is not None:
        click.echo(schema_text(kind), nl=False)
        return
    assert out is not None
    try:
        out.mkdir(parents=True, exist_ok=True)
        for each in KINDS:
            (out / file_name(each)).write_text(schema_text(each), encoding="utf-8", newline="\n")
    except OSError as error:
        click.echo(f"error: {error.filename}: {error.strerror}", err=True)
        click.echo("    hint: give a folder that can be written", err=True)
        raise SystemExit(3) from None
    click.echo(f"{count(len(KINDS), 'schema')} in {out}.", err=True)
