"""The columns' ledger alone: runs folded into charges, at two sizes; prints seconds and the growth between them.

python benchmarks/columns.py
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from generator.build import checked_folder  # noqa: E402
from generator.ledger.capacity import capacities  # noqa: E402
from generator.ledger.columns import fold  # noqa: E402
from generator.ledger.forecast import forecasts  # noqa: E402
from generator.ledger.media import spreads  # noqa: E402

RUNS_A_LIFE = 17  # of the lead; 10,000 runs are then some 300 charges

BOOK = "format: 1\ntitle: Measured\ncurrency: EUR\ntimezone: Europe/Lisbon\n"
MATERIALS = """materials:
  oil: {kind: oil}
  koh: {kind: catalyst, of: KOH, purity: 90 %}
  meoh: {kind: alcohol, of: methanol, purity: 99.8 %}
  chips: {kind: medium, type: absorbent, void: 0.7, ledgers: [{of: soap, by: holding, capacity: 300 g/kg}]}
  beads: {kind: medium, type: resin, void: 0.38, ledgers: [{of: soap, by: exchange, capacity: 500 g/L}]}
"""


def day(number: int) -> str:
    """A day, counted in months of 28."""
    return f"{2001 + number // 336}-{number // 28 % 12 + 1:02}-{number % 28 + 1:02}"


def write(folder: Path, batches: int) -> None:
    """A logbook with one batch a day, and vessel A packed anew every so many."""
    for name in ("materials", "lots", "batches", "columns"):
        (folder / name).mkdir(parents=True)
    (folder / "logbook.yaml").write_text(BOOK)
    (folder / "materials" / "all.yaml").write_text(MATERIALS)
    for lot in ("oil", "koh", "meoh"):
        quantity = "99999999 kg" if lot == "koh" else "99999999 L at 15 °C"
        text = f"lot: {lot}-1\nmaterial: {lot}\nreceived: 2000-01-01\nquantity: {quantity}\npaid: 1 EUR\n"
        (folder / "lots" / f"{lot}.yaml").write_text(text)
    pack = "  - {{date: {}, event: pack, vessel: {}, medium: {}, mass: 14 kg, basis: as supplied, bed: 40 L}}"
    history = [pack.format("2000-01-01", "B", "beads"), pack.format("2000-01-01", "A", "chips")]
    for number in range(batches):
        today = day(number)
        if number and number % RUNS_A_LIFE == 0:
            history.append(f"  - {{date: {today}, event: unload, vessel: A, reason: spent, spent: true}}")
            history.append(pack.format(today, "A", "chips"))
        between = (
            ""
            if number % 5 == 0
            else f"    - {{point: after A, sample: 50 g, acid: {1 + number % 7 / 10} mL, normality: 0.01 N, blank: 0 mL}}\n"
        )
        (folder / "batches" / f"{number:05}.yaml").write_text(
            f"batch: b{number}\ndate: {today}\noil: [{{lot: oil-1, volume: 100 L at 15 °C}}]\n"
            "reaction:\n  - catalyst: [{lot: koh-1, mass: 1 kg}]\n    methanol: [{lot: meoh-1, volume: 20 L at 15 °C}]\n"
            f"polish:\n  purifier: shed\n  start: {today}T09:00\n  end: {today}T12:00\n  volume: 98 L at 15 °C\n  soap:\n"
            f"    - {{point: feed, sample: 10 g, acid: {1 + number % 11 / 10} mL, normality: 0.01 N, blank: 0 mL}}\n{between}"
            "    - {point: product, sample: 100 g, acid: 0.1 mL, normality: 0.01 N, blank: 0 mL}\n"
        )
    vessels = (
        "purifier: shed\nvessels:\n  - {vessel: A, volume: 60 L}\n  - {vessel: B, volume: 60 L}\nhistory:\n"
    )
    (folder / "columns" / "shed.yaml").write_text(vessels + "\n".join(history) + "\n")


def measure(batches: int) -> float:
    """Seconds of one fold with everything made from it; the files are read before."""
    with tempfile.TemporaryDirectory() as folder:
        write(Path(folder), batches)
        _, checked = checked_folder(Path(folder))
    assert checked.log is not None
    begun = time.perf_counter()
    columns = fold(checked.log)
    own = capacities(columns)
    forecasts(checked.log, columns, own)
    spreads(columns, {})
    seconds = time.perf_counter() - begun
    runs = sum(1 for _ in columns.runs)
    print(f"{batches:6} batches  {runs:6} runs  {len(columns.charges):4} charges  {seconds:6.2f} s")
    return seconds


if __name__ == "__main__":
    small, large = measure(500), measure(5000)
    print(f"ten times the runs take {large / small:.1f} times as long")
