"""Laws of `fix`, over good files with slips typed into them: it never fails, never leaves a mend undone, and once is enough."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from generator.fixing import fixed
from generator.validate.logbook import checked_folder
from tests.logbook_files import BASE

from .law import LAW

FILES = sorted(path.relative_to(BASE).as_posix() for path in BASE.rglob("*.yaml"))
SLIPS = (
    lambda char: ",",
    lambda char: "\t",
    lambda char: char.swapcase(),
    lambda char: char + char,
    lambda char: "",
    lambda char: "\u200b" + char,
    lambda char: "'",
    lambda char: ": ",
)


@LAW
@given(
    st.sampled_from(FILES),
    st.lists(st.tuples(st.integers(0, 10_000), st.sampled_from(SLIPS)), min_size=1, max_size=6),
)
def test_a_mend_is_done_once_and_no_other_byte_changes(file: str, slips: list[tuple[int, object]]) -> None:
    text = (BASE / file).read_text(encoding="utf-8")
    for at, slip in slips:
        place = at % len(text)
        text = text[:place] + slip(text[place]) + text[place + 1 :]  # type: ignore[operator]
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "logbook"
        shutil.copytree(BASE, root)
        (root / file).write_text(text, encoding="utf-8")
        found = fixed(root)
        assert not [problem for problem in found.left if problem.mend is not None]
        assert set(found.after) <= {file}
        if found.mends:
            again = checked_folder(root, drafts=found.after)[1].problems
            assert again == found.left
            told = {(problem.code, problem.place, problem.message) for problem in found.left}
            assert not told & {(p.code, p.place, p.message) for p in found.problems if p.mend is not None}
