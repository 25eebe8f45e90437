"""`esterday preview`: the site in a browser while the logbook is being written."""

from __future__ import annotations

import threading
from pathlib import Path

import click

from generator.cli.saving import stop
from generator.cli.telling import AUDIENCE, LOGBOOK, NO_CACHE, cache_folder, command, count
from generator.cli.waiting import waiting
from generator.read.root import not_a_logbook


@command("esterday preview", "esterday preview my-logbook --audience shared --port 0")
@LOGBOOK
@AUDIENCE
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=8620,
    show_default=True,
    help="Port; 0 takes any that is free.",
)
@NO_CACHE
def preview(logbook: Path, audience: str, port: int, no_cache: bool) -> None:
    """Show the site of LOGBOOK in a browser on this machine; a page loads anew when a file is saved.

    Nothing is written. Errors stand on top of the page, over the last state without any. Ctrl+C ends it.
    """
    from generator.previewing import POLL_S, Preview
    from generator.publish.serving import Server

    try:
        server = Server(port)  # before the site is made, which takes a while
    except OSError as error:
        click.echo(
            f"error: port {port} cannot be used ({error.strerror}); name another with --port", err=True
        )
        raise SystemExit(3) from None
    # an error in a logbook is mended while one looks; a folder that holds none is another's
    missing = not_a_logbook(logbook)
    if missing is not None:
        raise stop(f"{missing.place}: {missing.message}", missing.hint, 1)
    with waiting("Reading the logbook"):
        site = Preview(logbook, audience, cache_folder(no_cache))
    threading.Thread(target=server.serve, args=(site,), daemon=True).start()
    click.echo(f"{_state(len(site.errors))} Open {server.url} in a browser; Ctrl+C ends it.", err=True)
    ended = threading.Event()
    try:
        while not ended.wait(POLL_S):
            if site.refresh():
                click.echo(_state(len(site.errors)), err=True)
    except KeyboardInterrupt:
        server.shutdown()


def _state(errors: int) -> str:
    return f"{count(errors, 'error')}: the pages show what is wrong." if errors else "No error."
