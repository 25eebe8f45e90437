"""Write a logbook of N batches for measurements: seeded, consistent enough to build without errors, nobody's data.

python -m benchmarks.logbooks 1000 /tmp/logbook-1000
"""

from __future__ import annotations

import random
import sys
from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path
from types import MappingProxyType

WORKSHOP = """format: 1
title: Measurement logbook
notice: "Made by a program for measurements; nobody's data."
currency: EUR
timezone: UTC
assumed_temperature: 18 °C
specification: {standard: EN 14214, edition: 2012+A1 2014}
dose: {base: 7 g/L, of: KOH}
labour_rate: 12 EUR/h
target_cost: 0.95 EUR/L
"""

MATERIALS = """materials:
  oil: {kind: oil, profile: {"16:0": 17 %, "18:0": 8 %, "18:1": 50 %, "18:2": 21 %, "18:3": 3 %, "14:0": 1 %}}
  koh: {kind: catalyst, of: KOH, purity: 90 %}
  methanol: {kind: alcohol, of: methanol, purity: 99.8 %}
  chips: {kind: medium, type: absorbent, void: 0.65, ledgers: [{of: soap, by: holding, capacity: 30 g/kg}]}
  resin: {kind: medium, type: resin, void: 0.38, ledgers: [{of: soap, by: exchange, capacity: 550 g/L}]}
"""

BATCH = """batch: {id}
date: {day}
oil:
  - {{lot: {oil}, volume: {oil_l} L at {t} °C}}
titration:
  titrant: {{strength: 1.00 g/L, of: KOH, lot: {koh}}}
  sample: 1.0 mL
  blank: 0.1 mL
  readings: [{r1} mL, {r2} mL, {r1} mL]
water: {{value: {water} mg/kg, method: water test kit}}
reaction:
  - catalyst: [{{lot: {koh}, mass: {koh_kg:.2f} kg}}]
    methanol: [{{lot: {methanol}, volume: {methanol_l:.1f} L at {t} °C}}]
    temperature: 55 °C
    time: 90 min
    conversion: [{{sample: 3 mL, methanol: 27 mL, dropout: 0 mL, temperature: 21 °C}}]
settled: {{time: 16 h, glycerol: {{mass: {layer:.1f} kg}}}}
polish:
  purifier: p{purifier}
  start: {run}T09:10
  end: {run}T11:45
  volume: {fed:.0f} L at {t} °C
  readings:
    - {{after: 20 L, vessel: A, inlet: 0.{bar} bar}}
    - {{after: 20 L, vessel: B, inlet: 0.3 bar}}
  soap:
    - {{point: feed, sample: 10 g, acid: {feed:.1f} mL, normality: 0.01 N, blank: 0.0 mL}}
    - {{point: after A, sample: 50 g, acid: {between:.1f} mL, normality: 0.01 N, blank: 0.0 mL}}
    - {{point: product, sample: 100 g, acid: 0.0 mL, normality: 0.01 N, blank: 0.0 mL}}
fuel: {{volume: {fuel:.0f} L at {t} °C, tank: tank-{tank}}}
tests:
  - {{property: acid value, value: 0.2{r2digit} mg KOH/g, method: EN 14104}}
  - {{property: water, value: {product_water} mg/kg, method: EN ISO 12937}}
energy: 14 kWh
labour: 2.5 h
note: |
  Settled overnight, drained in the morning. The gauge on B sticks below 0.3 bar.
"""

PER_CHARGE = 8
PER_TANK = 480


USUAL = {"oil": 3, "methanol": 5, "koh": 10, "chips": 40, "resin": 40}  # a new lot for every so many batches


def write(
    count: int, root: Path, per_charge: int = PER_CHARGE, steps: Mapping[str, int] = MappingProxyType(USUAL)
) -> None:
    """Write the whole logbook below `root`; vessel A is packed anew every so many batches, lots come by `steps`."""
    chance = random.Random(20260101)
    start = date(1990, 1, 1)
    _text(root / "logbook.yaml", WORKSHOP)
    _text(root / "materials/all.yaml", MATERIALS)
    histories: dict[int, list[str]] = {}
    draws: dict[int, list[str]] = {}
    for number in range(count):
        day = start + timedelta(days=number)
        _lots(root, number, day, chance, steps)
        purifier, tank = number // PER_TANK, number // PER_TANK
        if number % per_charge == 0:
            history = histories.setdefault(purifier, [])
            resin, chips = _lot("resin", number, steps), _lot("chips", number, steps)
            if history:
                history.append(f"  - {{date: {day}, event: unload, vessel: A, reason: spent, spent: true}}")
            else:
                history.append(
                    f"  - {{date: {day}, event: pack, vessel: B, medium: resin, lot: {resin}, mass: 23 kg, basis: dry, bed: 29 L, expected: 7000 L}}"
                )
            history.append(
                f"  - {{date: {day}, event: pack, vessel: A, medium: chips, lot: {chips}, mass: 14 kg, basis: dry, bed: 42 L}}"
            )
        _text(
            root / f"batches/{day.year}/b-{number:05}.yaml",
            _batch(number, day, tank, per_charge, steps, chance),
        )
        draws.setdefault(tank, []).append(
            f"  - {{date: {day + timedelta(days=1)}, draw: 160 L at 18 °C, to: member-{number % 17:02}}}"
        )
    for purifier, history in histories.items():
        vessels = "vessels:\n  - {vessel: A, volume: 60 L, diameter: 30 cm}\n  - {vessel: B, volume: 40 L, diameter: 25 cm}"
        _text(
            root / f"columns/p{purifier}.yaml",
            f"purifier: p{purifier}\n{vessels}\nhistory:\n" + "\n".join(history) + "\n",
        )
    for tank, lines in draws.items():
        shape = "shape: {vertical cylinder: {diameter: 400 cm, height: 200 cm}}"
        _text(
            root / f"tanks/tank-{tank}.yaml",
            f"tank: tank-{tank}\n{shape}\nhistory:\n" + "\n".join(lines) + "\n",
        )
    _text(
        root / "prices/electricity.yaml",
        "price: electricity\nseries:\n  - {date: 1990-01-01, value: 0.31 EUR/kWh}\n",
    )
    _text(root / "prices/diesel.yaml", "price: diesel\nseries:\n  - {date: 1990-01-01, value: 1.61 EUR/L}\n")
    offer = "offer: next\nmaterial: oil\noffered: {day}\nquantity: 600 L at 15 °C\nasked: 0.42 EUR/L\n"
    _text(root / "offers/next.yaml", offer.format(day=start + timedelta(days=count)))


def _lot(name: str, number: int, steps: Mapping[str, int]) -> str:
    """The lot that is open when a batch is made."""
    return f"{name}-{number // steps[name] * steps[name]:05}"


def _lots(root: Path, number: int, day: date, chance: random.Random, steps: Mapping[str, int]) -> None:
    head = "lot: {lot}\nmaterial: {name}\nreceived: {day}\nquantity: {amount}\npaid: {price}\n"
    every = {
        "oil": (650, "L at 15 °C", f"0.{chance.randint(25, 45)} EUR/L"),
        "methanol": (230, "L at 15 °C", "0.75 EUR/L"),
        "koh": (25, "kg", "2.40 EUR/kg"),
        "chips": (75, "kg", "1.50 EUR/kg"),
        "resin": (25, "kg", "8.00 EUR/kg"),
    }
    for name, (usual, unit, price) in every.items():
        if number % steps[name] == 0:
            lot, amount = _lot(name, number, steps), f"{usual * steps[name] / USUAL[name]:g} {unit}"
            _text(
                root / f"lots/{day.year}/{lot}.yaml",
                head.format(lot=lot, name=name, day=day, amount=amount, price=price),
            )


def _batch(
    number: int, day: date, tank: int, per_charge: int, steps: Mapping[str, int], chance: random.Random
) -> str:
    oil_l, t = chance.randint(180, 200), chance.randint(12, 26)
    reading = chance.randint(18, 30) / 10
    oil_kg = oil_l * (0.92 - 0.00064 * (t - 15))
    methanol_l = oil_l * 0.22
    koh_kg = (7 / 0.9 + reading - 0.1) * oil_l / 1000
    made_kg = oil_kg * chance.uniform(0.95, 0.975)
    layer = oil_kg + methanol_l * 0.7913 + koh_kg - made_kg - chance.uniform(0.5, 2.5)
    fed = made_kg / (0.88 - 0.000723 * (t - 15))
    fuel = fed - (27 if number % per_charge == 0 else chance.uniform(-0.5, 1.0))
    share = number % per_charge / per_charge
    return BATCH.format(
        id=f"b-{number:05}",
        day=day,
        oil=_lot("oil", number, steps),
        oil_l=oil_l,
        t=t,
        koh=_lot("koh", number, steps),
        methanol=_lot("methanol", number, steps),
        r1=reading,
        r2=round(reading + 0.1, 1),
        water=chance.randint(200, 900),
        koh_kg=koh_kg,
        methanol_l=methanol_l,
        layer=layer,
        purifier=tank,
        run=day,
        fed=fed,
        bar=4 + 8 * (number % per_charge) // per_charge // 2,
        feed=chance.uniform(0.8, 1.7),
        between=0.3 + share * 1.4,
        fuel=fuel,
        tank=tank,
        r2digit=chance.randint(0, 9),
        product_water=chance.randint(150, 480),
    )


def _text(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write(int(sys.argv[1]), Path(sys.argv[2]))
