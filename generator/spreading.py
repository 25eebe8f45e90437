"""A list of work done by several processes: each takes the next share when it is free, and this one takes part.

A process is forked, so that what was computed before is there in each of them and nothing is sent but what comes of the work.
Where one cannot fork, or where a library has started threads that a fork would lose, this process does all of it, and of
a helper that is ended or stopped from outside, or finds no memory, thread or file left, what it took and did not hand on. A helper dies with the
process it helps: what it would hand on nobody reads any more.
"""

from __future__ import annotations

import ctypes
import gc
import os
import pickle
import signal
import sys
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, Pipe
from queue import Empty, SimpleQueue
from threading import Semaphore, Thread
from typing import Any, Generic, NoReturn, TypeVar

T = TypeVar("T")
R = TypeVar("R")

SHARES = 1000  # most shares: their numbers, of four bytes, fit into the smallest pipe that a kernel gives
SHARE = 8  # least pieces of work in a share
WORTH = 64  # fewer pieces are not worth a process
AHEAD = 2000  # what a helper has done and nobody has taken
PATIENCE_S = 1.0  # between two looks whether a helper that hands on nothing was stopped
PR_SET_PDEATHSIG = 1
HELD_BACK = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)  # until it is clear which of two processes one is
THREADED = "vl_convert"  # its engine is a thread of the process that loaded it


@dataclass(frozen=True, slots=True)
class _Failed:
    """What kept a helper from going on."""

    error: BaseException


@dataclass(slots=True)
class Helped(Generic[T, R]):
    """Work under way; what came of a piece is given with its place in the list, in any order."""

    items: Sequence[T]
    do: Callable[[T], R]
    processes: int = 1
    _sources: list[tuple[int, Connection]] = field(default_factory=list)
    _readers: list[Thread] = field(default_factory=list)
    _came: SimpleQueue[Any] = field(default_factory=SimpleQueue)
    _room: Semaphore = field(default_factory=lambda: Semaphore(AHEAD))
    _done: bytearray = field(default_factory=bytearray)
    _working: int = 0
    _next: int = -1

    def __enter__(self) -> Helped[T, R]:
        """Start the helpers."""
        several = len(self.items) >= WORTH and sys.platform == "linux" and THREADED not in sys.modules
        self._done = bytearray(len(self.items))
        self._next, given = os.pipe()
        for number in range(-(-len(self.items) // self._share)):
            os.write(given, number.to_bytes(4, "big"))
        os.close(given)
        gc.freeze()  # what is there would be copied for the marks that looking for cycles leaves
        for _ in range(self.processes - 1 if several else 0):
            self._fork()
        gc.unfreeze()
        for number, source in self._sources:
            reader = Thread(target=self._read, args=(source,), daemon=True)
            try:
                reader.start()
            except RuntimeError:  # no thread is to be had
                source.close()
                os.kill(number, signal.SIGKILL)
            else:
                self._readers.append(reader)
        self._working = len(self._readers)
        return self

    def __exit__(self, *_: object) -> None:
        """End what still works."""
        os.close(self._next)
        for number, _source in self._sources:
            with suppress(ProcessLookupError):
                os.kill(number, signal.SIGKILL)
            os.waitpid(number, 0)
        for reader in self._readers:
            while reader.is_alive():
                self._room.release()
                reader.join(0.01)

    def ready(self) -> Iterator[tuple[int, R]]:
        """What helpers have done by now, without waiting."""
        with suppress(Empty):
            while True:
                yield from self._taken(self._came.get_nowait())

    def rest(self) -> Iterator[tuple[int, R]]:
        """What is left: done here in turn with the helpers, then awaited."""
        for place in self._places():
            yield self._here(place)
            yield from self.ready()
        while self._working:
            try:
                came = self._came.get(timeout=PATIENCE_S)
            except Empty:
                self._end_stopped()
            else:
                yield from self._taken(came)
        for place in range(len(self.items)):
            if not self._done[place]:
                yield self._here(place)

    @property
    def _share(self) -> int:
        return max(SHARE, -(-len(self.items) // SHARES))

    def _places(self) -> Iterator[int]:
        """The places of one share after the other; two processes never read the same number."""
        while number := os.read(self._next, 4):
            first = int.from_bytes(number, "big") * self._share
            yield from range(first, min(first + self._share, len(self.items)))

    def _here(self, place: int) -> tuple[int, R]:
        self._done[place] = True
        return place, self.do(self.items[place])

    def _taken(self, came: Any) -> Iterator[tuple[int, R]]:
        if came is None:  # a helper has ended
            self._working -= 1
            return
        self._room.release()
        if isinstance(came, _Failed):
            raise came.error
        self._done[came[0]] = True
        yield came

    def _read(self, source: Connection) -> None:
        """Take over what a helper hands on, so that it never waits for what is dear here."""
        with suppress(EOFError, OSError, MemoryError), source:
            while True:
                came = source.recv()
                self._room.acquire()
                self._came.put(came)
        self._came.put(None)

    def _end_stopped(self) -> None:
        """End the helpers that somebody has stopped: nobody may ever let them go on."""
        for number, _source in self._sources:
            if os.waitid(os.P_PID, number, os.WSTOPPED | os.WNOHANG | os.WNOWAIT) is not None:
                os.kill(number, signal.SIGKILL)

    def _fork(self) -> None:
        # no memory, number or file left for one more: those that are there do the work
        with suppress(OSError):
            source, sink = Pipe(duplex=False)
            before = signal.pthread_sigmask(signal.SIG_BLOCK, HELD_BACK)
            helped = os.getpid()
            try:
                number = _forked()
                if number == 0:
                    for end in (source, *(earlier for _, earlier in self._sources)):
                        end.close()  # or they would not end with the process that reads them
                    self._help(sink, before, helped)
                self._sources.append((number, source))
            except OSError:
                source.close()
                raise
            finally:
                sink.close()
                signal.pthread_sigmask(signal.SIG_SETMASK, before)

    def _help(self, sink: Connection, mask: set[int | signal.Signals], helped: int) -> NoReturn:
        """The life of a helper."""
        try:
            _end_with(helped)
            signal.signal(signal.SIGINT, signal.SIG_IGN)  # who is helped ends it
            signal.pthread_sigmask(signal.SIG_SETMASK, mask)
            for place in self._places():
                sink.send((place, self.do(self.items[place])))
        except (OSError, MemoryError):  # what it could not do is done by who is helped
            pass
        except BaseException as error:
            with suppress(Exception):
                sink.send(_Failed(_told(error)))
        finally:
            os._exit(0)


def _forked() -> int:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # no thread that is lost holds a lock of ours
        return os.fork()


def _end_with(helped: int) -> None:
    """Let the kernel end this process as soon as the one that it helps has ended, even where it is stopped then."""
    ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGKILL, 0, 0, 0)
    if os.getppid() != helped:  # it ended before that
        os._exit(0)


def _told(error: BaseException) -> BaseException:
    """An error that can be handed on: itself, or one that says the same."""
    try:
        pickle.loads(pickle.dumps(error))
    except Exception:
        return RuntimeError(f"{type(error).__name__}: {error}")
    return error
