"""What stands in a batch's file, entry by entry, as it was written: the measured side of its page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.compute.results import Written
from generator.log import Log
from generator.records import Batch, Polish, Pretreatment, Stage, Titrant, Titration, Use


def written(log: Log, batch: Batch) -> list[Written]:
    """All entries of a batch in the order of the work. Prices, notes, tanks and members are private."""
    return [
        *_oil(log, batch),
        *_before(batch.pretreatment),
        *_stages(batch),
        *_after(batch),
        *(item for run in batch.polish for item in _run(run)),
        *_end(batch),
    ]


def _oil(log: Log, batch: Batch) -> Iterator[Written]:
    """What was put in, with the maker's alias of where it came from; behind it what everyone may read about it."""
    lots = {use.lot: log.lots[use.lot].record for use in batch.oil}
    for use in batch.oil:
        code = lots[use.lot].code
        yield Written("Oil", "put in", f"{_amount(use)}, from {code}" if code else _amount(use), use.lot)
    for lot in lots.values():
        if lot.public_note:
            yield Written("Oil", f"about {lot.code}" if lot.code else "about it", lot.public_note)
    if batch.water is not None:
        yield Written("Oil", "water", f"{batch.water.value.text}, {batch.water.method}")
    if batch.titration is not None:
        yield from _titration(batch.titration)


def _titration(titration: Titration) -> Iterator[Written]:
    titrant = titration.titrant
    yield Written("Titration", "titrant", f"{titrant.strength.text} {titrant.of}, {_made(titrant)}")
    if titrant.solvent == "alcohol":
        held = f", its strength holds at {titrant.at.text}" if titrant.at is not None else ""
        yield Written("Titration", "solvent", f"alcohol{held}")
    if titration.temperature is not None:
        yield Written("Titration", "temperature", titration.temperature.text)
    yield Written("Titration", "sample", titration.sample.text)
    yield Written("Titration", "blank", titration.blank.text)
    yield Written("Titration", "readings", ", ".join(reading.text for reading in titration.readings))


def _before(done: Pretreatment | None) -> Iterator[Written]:
    if done is None:
        return
    section = "Pre-treatment"
    for use in done.acid:
        yield Written(section, "acid", _amount(use), use.lot)
    for use in done.methanol:
        yield Written(section, "methanol", _amount(use), use.lot)
    if done.temperature is not None:
        yield Written(section, "temperature", done.temperature.text)
    if done.time is not None:
        yield Written(section, "time", done.time.text)
    if done.drained is not None:
        yield Written(section, "layer drawn off", done.drained.text)
    if done.acid_drained is not None:
        yield Written(
            section, "acid", "drained with its layer" if done.acid_drained else "stayed with the oil"
        )
    if done.titration is not None:
        for item in _titration(done.titration):
            yield replace(item, section="Titration after it")


def _made(titrant: Titrant) -> str:
    if titrant.standardised is not None:
        measured = titrant.standardised
        return f"standardised: {measured.titrant.text} on {measured.phthalate.text} of hydrogen phthalate"
    return "made from a lot, whose purity counts" if titrant.lot is not None else "made from pure base"


def _stages(batch: Batch) -> Iterator[Written]:
    for number, stage in enumerate(batch.reaction, 1):
        section = "Reaction" if len(batch.reaction) == 1 else f"Reaction, stage {number}"
        yield from _stage(section, stage)


def _stage(section: str, stage: Stage) -> Iterator[Written]:
    for use in stage.catalyst:
        yield Written(section, "catalyst", _amount(use), use.lot)
    for use in stage.methanol:
        yield Written(section, "methanol", _amount(use), use.lot)
    if stage.temperature is not None:
        yield Written(section, "temperature", stage.temperature.text)
    if stage.time is not None:
        yield Written(section, "time", stage.time.text)
    for check in stage.conversion:
        at = f" at {check.temperature.text}" if check.temperature is not None else ""
        haze = ", haze" if check.haze else ""
        text = f"{check.dropout.text} dropped out of {check.sample.text} in {check.methanol.text} methanol{at}{haze}"
        yield Written(section, "conversion check", text)


def _after(batch: Batch) -> Iterator[Written]:
    settled = batch.settled
    if settled is not None:
        if settled.time is not None:
            yield Written("Settling", "time", settled.time.text)
        if settled.glycerol is not None:
            yield Written("Settling", "layer drawn off", settled.glycerol.amount.text)
        if settled.emulsion:
            yield Written("Settling", "emulsion", "noted")
    if batch.methanol_recovered is not None:
        back = batch.methanol_recovered
        yield Written("Settling", "methanol taken back", back.volume.text, back.into)


def _run(polish: Polish) -> Iterator[Written]:
    yield Written("Columns", "purifier", polish.purifier)
    yield Written("Columns", "from", f"{polish.start:%Y-%m-%d %H:%M} to {polish.end:%H:%M}")
    if polish.again:
        yield Written("Columns", "once more", "fuel that had run already")
    if polish.through:
        yield Written("Columns", "through", ", ".join(polish.through))
    if polish.volume is not None:
        yield Written("Columns", "fed", polish.volume.text)
    if polish.bypassed is not None:
        yield Written("Columns", "of it round the columns", polish.bypassed.text)
    if polish.acid_value is not None:
        yield Written(
            "Columns", "acid value, feed", f"{polish.acid_value.value.text}, {polish.acid_value.method}"
        )
    for reading in polish.readings:
        yield Written(
            "Columns", f"inlet of {reading.vessel}", f"{reading.inlet.text} after {reading.after.text}"
        )
    for sample in polish.soap:
        when = f", after {sample.after.text}" if sample.after is not None else ""
        again = ", retest" if sample.retest else ""
        first = (
            f", of it {sample.catalyst.acid.text} to the first end point"
            if sample.catalyst is not None
            else ""
        )
        text = f"{sample.acid.text} of {sample.normality.text} acid on {sample.sample.text}{first}, blank {sample.blank.text}{when}{again}"
        yield Written("Columns", f"soap, {sample.point}", text)


def _end(batch: Batch) -> Iterator[Written]:
    if batch.fuel is not None:
        yield Written("Fuel", "finished", batch.fuel.amount.text)
        if batch.fuel.tank is not None:
            yield Written("Fuel", "into", batch.fuel.tank, batch.fuel.tank, public=False)
    if batch.energy is not None:
        yield Written("Effort", "energy", batch.energy.text, public=False)
    if batch.labour is not None:
        yield Written("Effort", "labour", batch.labour.text, public=False)
    for cost in batch.other_costs:
        yield Written("Effort", cost.what, cost.paid.text, public=False)


def _amount(use: Use) -> str:
    return use.amount.text
