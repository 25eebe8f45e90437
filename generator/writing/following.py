"""What a maker writes next of a batch, as the command that is typed; the figures are left open."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping
from typing import Any

from generator.log import Log
from generator.records import Workshop
from generator.writing.habits import usual_titrant
from generator.writing.own_units import example

# in the order of the work; what stands before the key that was just written is not asked for any more
_STEPS = ("oil", "titration", "reaction", "settled", "polish", "fuel")
# kinds of material without which no batch is planned, as they are called
_NEEDED = {"oil": "oil", "catalyst": "catalyst", "alcohol": "methanol"}


def next_of_lot(data: Mapping[str, Any], log: Log, logbook: str) -> str:
    """What comes after a lot while there is no batch yet: the other deliveries, the beds, the first batch; else empty."""
    if log.batches or log.planned:
        return ""
    written = [str(data.get("material", "")), *(lot.record.material for lot in log.lots.values())]
    kinds = [log.materials[name].record.kind for name in written if name in log.materials]
    where = _behind(logbook)
    lacking = [word for kind, word in _NEEDED.items() if kind not in kinds]
    if lacking:
        return f"esterday new lot{where} --ask, for there is no {' and no '.join(lacking)} yet"
    if kinds[0] == "medium" and len(log.purifiers) == 1:
        return f"esterday new event {shlex.quote(next(iter(log.purifiers)))}{where} --ask, once it is in its vessel"
    return f"esterday new batch{where}"


def next_of_offer(data: Mapping[str, Any], logbook: str) -> str:
    """What an offer was written for: to be told what it is worth."""
    return f"esterday offer {shlex.quote(str(data.get('offer', '')))}{_behind(logbook)}"


def next_of_bought(offer: str, lot: str, logbook: str) -> str:
    """What comes after the lot of an offer: that the offer says which lot it became."""
    return f"esterday add {offer} bought_as {lot}{_behind(logbook, '--logbook ')}"


def commit_command(data: Mapping[str, Any], logbook: str) -> str:
    """How a batch that is whole goes into the history."""
    here = f" -C {shlex.quote(logbook)}" if logbook else ""
    said = shlex.quote(f"Batch {data.get('batch', '')}")
    return f"git{here} add . && git{here} commit -m {said}"


def next_command(data: Mapping[str, Any], written: str, log: Log, logbook: str) -> str:
    """The first step that comes after the key just written and is not in the batch; empty where none is left.

    `logbook` is the folder as it is typed, empty where commands find it by themselves.
    """
    if written not in _STEPS:
        return ""
    where = _behind(logbook, "--logbook ")
    name = shlex.quote(str(data.get("batch", "")))
    for step in _STEPS[_STEPS.index(written) + (written != "polish") :]:
        if step == "polish" and step in data:
            command = _soap(name, data, log)
        else:
            command = _command(step, name, data, log) if step not in data else ""
        if command:
            sheet = f"esterday dose {name}{_behind(logbook)}; once it is weighed: "
            return f"{sheet if step == 'reaction' else ''}esterday {command}{where}"
    return ""


def _behind(logbook: str, option: str = "") -> str:
    """The folder behind a command; nothing where the command finds it by itself."""
    return f" {option}{shlex.quote(logbook)}" if logbook else ""


def _command(step: str, name: str, data: Mapping[str, Any], log: Log) -> str:
    if step == "reaction":
        return " ".join(["record", name, *_amounts(data.get("plan"), log.settings)])
    before = any(entry.record.titration is not None for entry in log.batches.values())
    litres, kilograms = (example(text, log.settings) for text in ("... L at ... °C", "... kg"))
    tank = f" tank={next(iter(log.tanks))}" if len(log.tanks) == 1 else " tank=..." if log.tanks else ""
    return {
        "titration": f"add {name} titration readings='... mL, ... mL' blank='... mL'{'' if before else _first(log)}",
        "settled": f"add {name} settled time='... h' glycerol.mass='{kilograms}'",
        "polish": f"add {name} run start=...T... end=...T... volume='{litres}'",
        "fuel": f"add {name} fuel volume='{litres}'{tank}",
    }[step]


def _first(log: Log) -> str:
    """What a first titration says beside its readings; later ones are as the last time."""
    return f" sample='1.0 mL' titrant='{{strength: ... g/L, of: {usual_titrant(log)}, pure: true}}'"


def _amounts(plan: Any, settings: Workshop) -> Iterator[str]:
    """Each lot of a plan with its amount left open."""
    found = plan if isinstance(plan, dict) else {}
    if isinstance(found.get("catalyst"), str):
        yield f"{found['catalyst']}='{example('... kg', settings)}'"
    methanol = found.get("methanol")
    for item in methanol if isinstance(methanol, list) else [methanol]:
        lot = item.get("lot") if isinstance(item, dict) else item
        if isinstance(lot, str):
            yield f"{lot}='{example('... L at ... °C', settings)}'"


def _soap(name: str, data: Mapping[str, Any], log: Log) -> str:
    """The sample before the columns, then the one behind them; what goes without saying is not asked for."""
    runs = data["polish"] if isinstance(data["polish"], list) else [data["polish"]]
    last = runs[-1] if runs and isinstance(runs[-1], dict) else {}
    points = [item.get("point") for item in last.get("soap") or [] if isinstance(item, dict)]
    point = next((point for point in ("feed", "product") if point not in points), "")
    if not point:
        return ""
    before = {
        sample.point for entry in log.batches.values() for run in entry.record.polish for sample in run.soap
    }
    how = "" if point in before else "sample='... g' " if points else "sample='... g' normality='... N' "
    blank = "" if points else " blank='... mL'"
    return f"add {name} soap point={point} {how}acid='... mL'{blank}"
