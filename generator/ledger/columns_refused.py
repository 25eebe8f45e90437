"""What a purifier's history says that could not have been, as problems with both places named."""

from __future__ import annotations

from collections.abc import Sequence

from generator.ledger.charges import Charge, plus, sum_of
from generator.ledger.spoken import volume
from generator.log import Entry, Log
from generator.problems import Place, Problem
from generator.records import Batch, Pack, Purifier, Regenerate, Rest, Rinse, Rotate, Unload

MARGIN = 1.1


def nothing_there(event: Rinse | Regenerate | Unload | Rotate, place: Place) -> Problem:
    """Something is done to a vessel that holds no medium."""
    return Problem(
        "vessel-empty",
        place,
        f"vessel {event.vessel} is empty on {event.date:%Y-%m-%d}, so there is nothing to {event.event}",
        "write the pack event that is missing, or correct the date",
    )


def still_full(event: Pack, place: Place, charge: Charge) -> Problem:
    """A vessel is packed that was not unloaded."""
    return Problem(
        "vessel-full",
        place,
        f"vessel {event.vessel} still holds charge {charge.id} on {event.date:%Y-%m-%d}",
        "write the unload event that is missing, or correct the date",
        (charge.written,),
    )


def no_resin(event: Regenerate, place: Place, charge: Charge) -> Problem | None:
    """An absorbent is regenerated."""
    if charge.is_resin or charge.medium is None:
        return None
    return Problem(
        "regenerate-absorbent",
        place,
        f"vessel {event.vessel} holds an {charge.medium.type}, and only a resin is regenerated",
        "write unload and pack if it was repacked",
        (charge.written,),
    )


def unused(event: Unload | Regenerate, place: Place, charge: Charge) -> Problem | None:
    """A bed is called spent, and nothing has run through it since it was packed or regenerated."""
    before = [reset.runs for reset in charge.resets if reset.by == "regenerate"]
    if not event.spent or len(charge.runs) > (before[-1] if before else 0):
        return None
    return Problem(
        "spent-unused",
        place,
        f"charge {charge.id} is called spent on {event.date:%Y-%m-%d}, and no run went through it",
        "leave 'spent' out, or correct the dates; a capacity is learnt from spent charges",
        (charge.written,),
    )


def no_exchange(event: Rotate, place: Place, charge: Charge, other: Charge | None) -> Problem | None:
    """Two vessels cannot change places: one is empty, both are one, or their media are of two types."""
    if event.with_vessel == event.vessel:
        text = f"vessel {event.vessel} is said to change places with itself"
        return Problem("rotate-itself", place, text, "name the other vessel as 'with'", (charge.written,))
    if other is None or charge.medium is None or other.medium is None:
        return Problem(
            "vessel-empty",
            place,
            f"vessel {event.with_vessel} holds nothing to change places with",
            "write the pack event that is missing",
            (charge.written,),
        )
    if charge.medium.type != other.medium.type:
        return Problem(
            "rotate-unlike",
            place,
            f"{charge.vessel.vessel} holds an {charge.medium.type}, {other.vessel.vessel} a {other.medium.type}: a guard and a polisher cannot change places",
            "repack the spent vessel instead; only media of one type rotate",
            (charge.written, other.written),
        )
    return None


def empty_in_run(
    entry: Entry[Batch], number: int, purifier: Entry[Purifier], empty: Sequence[str]
) -> Problem:
    """A batch runs through a vessel that holds no medium."""
    run = entry.record.polish[number]
    key = "through" if run.through else "start"
    return Problem(
        "vessel-empty",
        entry.at("polish", number, key),
        f"vessel {', '.join(empty)} of {purifier.id} is empty when this run starts",
        "write the pack event that is missing, correct the date, or name what was in line as 'through'",
        (purifier.at("purifier"),),
    )


def resting(entry: Entry[Batch], number: int, purifier: Entry[Purifier], event: int) -> Problem:
    """A batch runs through columns that rest."""
    run, rest = entry.record.polish[number], purifier.record.history[event]
    assert rest.event == "rest"
    return Problem(
        "run-while-resting",
        entry.at("polish", number, "start"),
        f"{purifier.id} rests until {rest.until:%Y-%m-%d}, and batch {entry.id} runs through it on {run.start:%Y-%m-%d}",
        "check both dates",
        (purifier.at("history", event, "until"),),
    )


def drained_more(
    log: Log, event: Rest, place: Place, litres: float, standing: Sequence[Charge], room_l: float
) -> Problem | None:
    """More fuel is said to have run out in a rest than the vessels that hold fuel have room for beside their grains.

    A void is a round figure, so a tenth more is let pass; what no vessel could hold is told by the check of columns.
    """
    holding = [charge for charge in standing if charge.stood_l(len(charge.runs)) != 0.0]
    most = sum_of(
        plus(
            charge.void_l,
            max(charge.vessel.volume.value - charge.pack.bed.value, 0.0) - charge.out_l(len(charge.runs)),
        )
        for charge in holding
    )
    if event.drained is None or most is None or not MARGIN * most < litres <= room_l:
        return None
    found = f"{' and '.join(charge.vessel.vessel for charge in holding)} held {volume(log, most)} at most"
    return Problem(
        "drained-more",
        place,
        f"{event.drained.text} were drained, and {found if holding else 'no bed held fuel: nothing ran since they were packed, rinsed or regenerated'}",
        "check the volume and its unit, the dates of packs and rinses, and whether it was fuel",
        tuple(charge.written for charge in standing),
    )
