"""No amount that can be written makes the program stumble: it is refused, or every figure from it is finite."""

from __future__ import annotations

import math
import re

import pytest

from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from tests.logbook_files import base_files, in_memory

NUMBER = re.compile(r"(?<=[ \[])[0-9][0-9.]*(?= (?:L|mL|kg|g|cm|%|N|mg|EUR))")
FILES = base_files()


@pytest.mark.parametrize("file", [name for name in FILES if NUMBER.search(FILES[name])])
@pytest.mark.parametrize("value", ["0", "0.000001", "99999999"])
def test_each_number_in_turn_from_nothing_to_far_too_much(file: str, value: str) -> None:
    tried = 0
    for match in NUMBER.finditer(FILES[file]):
        changed = FILES[file][: match.start()] + value + FILES[file][match.end() :]
        found = in_memory({**FILES, file: changed})
        tried += 1
        if not found.fit:
            assert any(problem.is_error for problem in found.problems)
            continue
        assert found.log is not None
        results = tally(Ledgers(found.log))
        for name in results.frames:
            for row in results.rows(name):
                assert all(math.isfinite(cell) for cell in row.values() if isinstance(cell, float)), (
                    name,
                    match,
                )
    assert tried > 0


def test_every_file_with_numbers_is_tried() -> None:
    assert len([name for name in FILES if NUMBER.search(FILES[name])]) >= 11
