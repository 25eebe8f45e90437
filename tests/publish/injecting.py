"""Real faults in a real publish: strace kills a process at its n-th system call, or lets that call fail.

A nursery holds the package ready and forks a child for each fault, so that what is counted is the publish alone and none
of Python's own start. strace (Debian package) is no part of the project: without it these tests are skipped, except in CI.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import pytest

from .trees import start

PUBLISHES = """
import sys
from pathlib import Path
from generator.publish import CannotPublish, publish
from publish.trees import A, B
def told(out):
    try:
        publish(B.items(), Path(out), protected=[], wait_s=0)
    except CannotPublish as error:
        return {"message": error.message, "hint": error.hint}
    except BaseException as error:
        return {"foreign": repr(error)}
    return {}
for warm in (A, B, A):
    publish(warm.items(), Path(sys.argv[1]), protected=[])
told("/")
"""

# The whole command, once nothing is left to import; what it says comes back with its exit code.
COMMANDS = """
import contextlib, io, os
import generator.build, generator.compute.tally, generator.pages, generator.render.tree, openpyxl, vl_convert
from generator.cli import main
def told(given):
    arguments, os.environ["XDG_CACHE_HOME"] = given
    said = io.StringIO()
    with contextlib.redirect_stderr(said):
        try:
            main(arguments, standalone_mode=False)
        except SystemExit as error:
            return {"message": said.getvalue(), "code": error.code}
        except BaseException as error:
            return {"foreign": repr(error)}
    return {"message": said.getvalue()}
"""

KEEPS = """
from pathlib import Path
from generator.kept import Kept, digest
def told(folder):
    kept = Kept(Path(folder), most=12)
    for number in range(16):
        kept.text(digest(str(number)), lambda: f"text {number} " * 4000)
    kept.prune()
    return {}
told("/dev/null/none")
"""

# A build's part with pages that stand: of two that are asked for one is as it was; what is served is only read.
STANDS = """
from publish.standing import build
def told(folder):
    try:
        return {"message": build(folder)}
    except BaseException as error:
        return {"foreign": repr(error)}
told("/dev/null/none")
"""

# Each child stops before its work, until strace has attached to it; it answers by a call that no publish makes.
_FORKS = """
import json, os, signal, sys
for line in sys.stdin:
    child = os.fork()
    if child == 0:
        os.kill(os.getpid(), signal.SIGSTOP)
        said = json.dumps(told(json.loads(line)))
        os.writev(1, [(said + "\\n").encode()])
        os._exit(0)
    os.waitpid(child, os.WUNTRACED)
    print(child, flush=True)
    _, status = os.waitpid(child, 0)
    print(json.dumps({"status": os.waitstatus_to_exitcode(status)}), flush=True)
"""
IN_CI = bool(os.environ.get("CI"))
_CALL = re.compile(r"^([a-z0-9_]+)\(", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class End:
    """How a child ended: the process's own status or minus the signal, and what its work came to, if it came to that."""

    status: int
    message: str = ""
    hint: str = ""
    foreign: str = ""
    code: int = 0


def missing(tool: str) -> str | None:
    """Why a tool cannot be used here; None where it can. In CI that is a failure."""
    if shutil.which(tool):
        return None
    if IN_CI:
        pytest.fail(f"CI must have {tool}")
    return f"{tool} is not installed"


class Nursery:
    """Does one work again and again, each time in a process of its own under strace."""

    def __init__(self, work: str, *arguments: object) -> None:
        """`work` is code with a function `told` of one argument."""
        self.process = start(work + _FORKS, *arguments, reads=True)

    def run(self, given: object, *options: str) -> End:
        """Let a child do the work under strace with these options."""
        end, _ = self._traced(given, ["-e", "status=none", *options])
        return end

    def calls(self, given: object, *options: str) -> list[str]:
        """Names of the system calls that one work takes, in order; the child must live."""
        end, traced = self._traced(given, options)
        assert end.status == end.code == 0 and not end.foreign, end
        return _CALL.findall(traced)

    def _traced(self, given: object, options: Sequence[str]) -> tuple[End, str]:
        assert self.process.stdin is not None and self.process.stdout is not None
        self.process.stdin.write(json.dumps(given) + "\n")
        self.process.stdin.flush()
        child = int(self.process.stdout.readline())
        with subprocess.Popen(
            ["strace", "-p", str(child), *options], stderr=subprocess.PIPE, text=True, errors="replace"
        ) as tracer:
            assert tracer.stderr is not None
            head = tracer.stderr.readline()
            os.kill(child, signal.SIGCONT if "attached" in head else signal.SIGKILL)
            traced = tracer.stderr.read()
        assert "attached" in head, head + traced
        said: dict[str, Any] = {}
        while "status" not in (line := json.loads(self.process.stdout.readline())):
            said = line
        return End(int(line["status"]), **said), traced

    def close(self) -> None:
        """Let it end, and see that it did so in order."""
        _, errors = self.process.communicate(timeout=30)
        assert self.process.returncode == 0, errors


@contextmanager
def nursery(work: str, *arguments: object) -> Iterator[Nursery]:
    """A nursery for some tests; skipped visibly where strace is missing or may not attach."""
    why = missing("strace")
    if why:
        pytest.skip(why)
    made = Nursery(work, *arguments)
    try:
        yield made
    finally:
        made.close()
