"""What a maker writes next of a batch, as the command that is typed; the figures are left open."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping
from typing import Any

from generator.log import Log

# in the order of the work; what stands before the key that was just written is not asked for any more
_STEPS = ("oil", "titration", "reaction", "settled", "polish", "fuel")
_FIRST = (
    " sample='1.0 mL' titrant='{strength: ... g/L, of: KOH, pure: true}'"  # later ones are as the last time
)


def next_command(data: Mapping[str, Any], written: str, log: Log, logbook: str) -> str:
    """The first step that comes after the key just written and is not in the batch; empty where none is left.

    `logbook` is the folder as it is typed, empty where commands find it by themselves.
    """
    if written not in _STEPS:
        return ""
    where = f" --logbook {shlex.quote(logbook)}" if logbook else ""
    name = shlex.quote(str(data.get("batch", "")))
    for step in _STEPS[_STEPS.index(written) + (written != "polish") :]:
        if step == "polish" and step in data:
            command = _soap(name, data, log)
        else:
            command = _command(step, name, data, log) if step not in data else ""
        if command:
            sheet = (
                f"esterday dose {name}{f' {shlex.quote(logbook)}' if logbook else ''}; once it is weighed: "
            )
            return f"{sheet if step == 'reaction' else ''}esterday {command}{where}"
    return ""


def _command(step: str, name: str, data: Mapping[str, Any], log: Log) -> str:
    if step == "reaction":
        return " ".join(["record", name, *_amounts(data.get("plan"))])
    before = any(entry.record.titration is not None for entry in log.batches.values())
    tank = f" tank={next(iter(log.tanks))}" if len(log.tanks) == 1 else " tank=..." if log.tanks else ""
    return {
        "titration": f"add {name} titration readings='... mL, ... mL' blank='... mL'{'' if before else _FIRST}",
        "settled": f"add {name} settled time='... h' glycerol.mass='... kg'",
        "polish": f"add {name} run start=...T... end=...T... volume='... L at ... °C'",
        "fuel": f"add {name} fuel volume='... L at ... °C'{tank}",
    }[step]


def _amounts(plan: Any) -> Iterator[str]:
    """Each lot of a plan with its amount left open."""
    found = plan if isinstance(plan, dict) else {}
    if isinstance(found.get("catalyst"), str):
        yield f"{found['catalyst']}='... kg'"
    methanol = found.get("methanol")
    for item in methanol if isinstance(methanol, list) else [methanol]:
        lot = item.get("lot") if isinstance(item, dict) else item
        if isinstance(lot, str):
            yield f"{lot}='... L at ... °C'"


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
    how = "" if point in before else "sample='... g' normality='... N' "
    blank = "" if points else " blank='... mL'"
    return f"add {name} soap point={point} {how}acid='... mL'{blank}"
