"""What a person sees who waits for longer than a second: what is being done, and for how long by now.

One line at the end of stderr, taken away with blanks when it is done, in no colour. Only on a terminal: a file or a pipe
gets nothing of it.
"""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

PATIENCE_S, STEP_S = 1.0, 0.5


@contextmanager
def waiting(doing: str, *, quiet: bool = False) -> Iterator[None]:
    """Tell after a second what is being done, and count the seconds."""
    if quiet or not sys.stderr.isatty():
        yield
        return
    done, begun, terminal = threading.Event(), time.monotonic(), sys.stderr

    def told() -> None:
        pause, line = PATIENCE_S, ""
        while not done.wait(pause):
            line = f"{doing}, {time.monotonic() - begun:.0f} s"
            terminal.write(f"\r{line}")
            terminal.flush()
            pause = STEP_S
        terminal.write(f"\r{' ' * len(line)}\r" if line else "")
        terminal.flush()

    teller = threading.Thread(target=told, daemon=True)
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()
