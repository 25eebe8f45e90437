"""Figures that are kept from one build to the next are those that would be reckoned anew, whatever was changed in between."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

import pytest

from generator.compute import back_then, columns, figures
from generator.compute.tally import tally
from generator.kept import APART, Gathered, Kept
from generator.ledger.alone import Alone
from generator.ledger.facts import facts_of
from generator.ledger.ledgers import Ledgers
from generator.ledger.uncertain import Uncertain
from generator.program import figures_before
from generator.validate.logbook import checked_folder
from tests.compute.test_offers import AFTER, LATE, LOG, OFFER, offer_text
from tests.logbook_files import logbook

DEMO = Path(__file__).resolve().parents[2] / "logbook"
FROZEN = Path(__file__).resolve().parents[1] / "frozen" / "format-1" / "logbook"
SETTLED = {
    **LOG,
    OFFER: offer_text(("quantity:", "bought_as: oil-9\nquantity:")),
    "lots/oil-9.yaml": LATE,
    "batches/b5.yaml": AFTER,
}
CHANGES = 100
CHARGES = 2
NUMBER = re.compile(r"(?<![\d.-])\d+(?:\.\d+)?(?![\d.-])")


def told(ledgers: Ledgers, before: Gathered) -> object:
    """Every table, with what an uncertainty comes from, what would close a balance, and by which record an offer is judged."""
    found = tally(ledgers, before)
    frames = {name: repr(each.to_dict("list")) for name, each in found.frames.items()}
    budgets = repr(found.budgets)  # in their order
    return frames, budgets, found.explained, [one.on_offer.own for one in found.judged.values()]


def gathered(folder: Path) -> Gathered:
    return figures_before(Kept(folder / "kept"), folder / "logbook", "workshop")


def changed(root: Path) -> Iterator[str]:
    """One number after the other, of any file, is another; what was before stands there again afterwards."""
    chance = Random(20261127)
    places = [
        (path, match.span())
        for path in sorted(root.rglob("*.yaml"))
        for match in NUMBER.finditer(path.read_text(encoding="utf-8"))
    ]
    for path, (start, end) in chance.sample(places, len(places)):
        text = path.read_text(encoding="utf-8")
        path.write_text(
            f"{text[:start]}{float(text[start:end]) * 1.03 + 0.1:.4g}{text[end:]}", encoding="utf-8"
        )
        yield f"{path.name}: {text[start:end]} at {start}"
        path.write_text(text, encoding="utf-8")


def test_a_change_anywhere_moves_kept_figures_as_it_moves_new_ones(tmp_path: Path) -> None:
    root = logbook(tmp_path, SETTLED)
    first = checked_folder(root)[1].ledgers
    assert first is not None
    before = gathered(tmp_path)
    plain = told(first, before)
    before.keep()
    moved = fit = 0
    for what in changed(root):
        found = checked_folder(root)[1]
        if found.ledgers is None or not found.fit:
            continue
        fit += 1
        anew = told(found.ledgers, APART)
        assert told(Ledgers(found.ledgers.log), gathered(tmp_path)) == anew, what
        moved += anew != plain
        if fit == CHANGES:
            break
    assert fit == CHANGES
    assert moved > CHANGES / 2


def test_what_was_reckoned_is_not_reckoned_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A batch that is changed costs one; the record of a day before it stays, that of a day after it does not."""
    root = logbook(tmp_path, SETTLED)
    reckoned: list[str] = []
    for module, name in ((back_then, "own_record"), (figures, "_sure"), (columns, "_curve")):
        whole = getattr(module, name)

        def counted(*given: object, name: str = name, whole: Callable[..., object] = whole) -> object:
            reckoned.append(name)
            return whole(*given)

        monkeypatch.setattr(module, name, counted)

    def run(*change: str) -> list[str]:
        if change:
            old, new = change
            path = root / "batches" / "b5.yaml"
            path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
        found = checked_folder(root)[1].ledgers
        assert found is not None
        reckoned.clear()
        before = gathered(tmp_path)
        told(found, before)
        before.keep()
        return sorted(reckoned)

    batches = len(list((root / "batches").glob("*.yaml")))
    assert run() == ["_curve"] * CHARGES + ["_sure"] * batches + ["own_record"]
    assert run() == []
    assert run("energy: 4 kWh", "energy: 5 kWh") == ["_sure"]  # it came after the lot of the offer
    assert run("2026-06-2", "2026-05-2") == ["_curve"] * CHARGES + ["_sure", "own_record"]
    assert run() == []


@pytest.mark.parametrize("folder", [DEMO, FROZEN], ids=["demo", "frozen"])
def test_the_figures_of_a_batch_need_nothing_but_what_it_names(folder: Path) -> None:
    """Else a key made of that alone would not tell when they have to be reckoned anew."""
    log = checked_folder(folder)[1].log
    assert log is not None
    instruments, alone = log.settings.instruments, Alone(log)
    for entry in log.batches.values():
        whole = facts_of(log, entry, Uncertain(instruments))
        assert repr(facts_of(alone.of(entry), entry, Uncertain(instruments))) == repr(whole)
