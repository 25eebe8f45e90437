"""Two sites, what a folder holds bit for bit, and a way to run code in a process of its own."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

SAME = {f"same/{number:02}.html": f"<p>{number}</p>\n".encode() * 50 for number in range(12)}
A: Mapping[str, bytes] = {
    **SAME,
    "index.html": b"A\n",
    "batches/001.html": b"a" * 9000,
    "only-a/deep/er.html": b"in A alone\n",
}
B: Mapping[str, bytes] = {
    **SAME,
    "index.html": b"B\n",
    "batches/001.html": b"b" * 9000,
    "batches/2.html": b"",
    "only-b.css": b"B",
}
FOREIGN = {"CNAME": b"example.org\n", "own/photo.jpg": b"\xff\xd8\x00", "batches/mine.txt": b"mine\n"}

LOOP = """
import sys
from pathlib import Path
from generator.publish import publish
from publish.trees import A, B
out, rounds = Path(sys.argv[1]), int(sys.argv[2])
print("ready", flush=True)
for number in range(rounds):
    publish((A, B)[number % 2].items(), out, protected=[])
"""

# Just before the two folders change places, somebody else writes into the one that is served.
LATE = """
import sys
from pathlib import Path
from generator.publish import publish
from publish.trees import B, add_foreign_late
out = Path(sys.argv[1])
sys.addaudithook(lambda event, args: add_foreign_late(out) if event == "ctypes.dlsym" else None)
publish(B.items(), out, protected=[])
"""

# Between opening the lock file and locking it, the build that had it is done and removes it.
GONE = """
import sys
from pathlib import Path
from generator.publish.lock import locked
lock = Path(sys.argv[1])
gone = []
def remove(event, args):
    if event == "fcntl.flock" and not gone:
        gone.append(event)
        lock.unlink()
sys.addaudithook(remove)
with locked(lock, lock, 1.0):
    print(lock.exists(), len(gone))
"""


def start(code: str, *args: object, reads: bool = False) -> subprocess.Popen[str]:
    """Run Python code that can import the package and this folder; if it reads, we write to it."""
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), str(ROOT / "tests")])}
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, args)],
        stdin=subprocess.PIPE if reads else None,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=environment,
    )


def snapshot(folder: Path) -> dict[str, object]:
    """Everything below a folder: content of files, target of links, and the modes of all."""
    held: dict[str, object] = {}
    for path in sorted(folder.rglob("*")):
        mode = oct(stat.S_IMODE(path.lstat().st_mode))
        content = path.read_bytes() if path.is_file() and not path.is_symlink() else None
        held[path.relative_to(folder).as_posix()] = (mode, path.readlink() if path.is_symlink() else content)
    return held


def contents(folder: Path) -> dict[str, bytes]:
    """The plain files below a folder without the list of the site's own files."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and path.name != ".esterday-files.json"
    }


def add_foreign(folder: Path) -> None:
    """Put files there that no build wrote."""
    for name, content in FOREIGN.items():
        (folder / name).parent.mkdir(exist_ok=True, parents=True)
        (folder / name).write_bytes(content)


def add_foreign_late(folder: Path) -> None:
    """Add one file and save another anew, as an editor does."""
    (folder / "late").mkdir()
    (folder / "late" / "file").write_bytes(b"late")
    (folder / "CNAME.new").write_bytes(b"other.example\n")
    (folder / "CNAME.new").replace(folder / "CNAME")
