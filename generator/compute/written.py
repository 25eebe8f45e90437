"""What stands in a batch's file, entry by entry, as it was written: the measured side of its page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.compute.results import Written
from generator.language import told
from generator.log import Log
from generator.records import Batch, Polish, Pretreatment, SoapSample, Stage, Titrant, Titration, Use


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
        yield Written(
            told("Oil"),
            told("put in"),
            told("{amount}, from {code}", amount=_amount(use), code=code) if code else _amount(use),
            use.lot,
        )
    for lot in lots.values():
        if lot.public_note:
            yield Written(
                told("Oil"),
                told("about {code}", code=lot.code) if lot.code else told("about it"),
                lot.public_note,
            )
    if batch.water is not None:
        yield Written(told("Oil"), told("water"), f"{batch.water.value.text}, {batch.water.method}")
    if batch.titration is not None:
        yield from _titration(batch.titration)


def _titration(titration: Titration) -> Iterator[Written]:
    titrant = titration.titrant
    yield Written(
        told("Titration"), told("titrant"), f"{titrant.strength.text} {titrant.of}, {_made(titrant)}"
    )
    if titrant.solvent == "alcohol":
        at = titrant.at
        held = (
            told("alcohol, its strength holds at {degrees}", degrees=at.text)
            if at is not None
            else told("alcohol")
        )
        yield Written(told("Titration"), told("solvent"), held)
    if titration.temperature is not None:
        yield Written(told("Titration"), told("temperature"), titration.temperature.text)
    yield Written(told("Titration"), told("sample"), titration.sample.text)
    yield Written(told("Titration"), told("blank"), titration.blank.text)
    yield Written(
        told("Titration"), told("readings"), ", ".join(reading.text for reading in titration.readings)
    )


def _before(done: Pretreatment | None) -> Iterator[Written]:
    if done is None:
        return
    section = told("Pre-treatment")
    for use in done.acid:
        yield Written(section, told("acid"), _amount(use), use.lot)
    for use in done.methanol:
        yield Written(section, told("methanol"), _amount(use), use.lot)
    if done.temperature is not None:
        yield Written(section, told("temperature"), done.temperature.text)
    if done.time is not None:
        yield Written(section, told("time"), done.time.text)
    if done.drained is not None:
        yield Written(section, told("layer drawn off"), done.drained.text)
    if done.acid_drained is not None:
        yield Written(
            section,
            told("acid"),
            told("drained with its layer") if done.acid_drained else told("stayed with the oil"),
        )
    if done.titration is not None:
        for item in _titration(done.titration):
            yield replace(item, section=told("Titration after it"))


def _made(titrant: Titrant) -> str:
    if titrant.standardised is not None:
        measured = titrant.standardised
        return told(
            "standardised: {used} on {weighed} of hydrogen phthalate",
            used=measured.titrant.text,
            weighed=measured.phthalate.text,
        )
    return (
        told("made from a lot, whose purity counts")
        if titrant.lot is not None
        else told("made from pure base")
    )


def _stages(batch: Batch) -> Iterator[Written]:
    for number, stage in enumerate(batch.reaction, 1):
        section = (
            told("Reaction") if len(batch.reaction) == 1 else told("Reaction, stage {number}", number=number)
        )
        yield from _stage(section, stage)


def _stage(section: str, stage: Stage) -> Iterator[Written]:
    for use in stage.catalyst:
        yield Written(section, told("catalyst"), _amount(use), use.lot)
    for use in stage.methanol:
        yield Written(section, told("methanol"), _amount(use), use.lot)
    if stage.temperature is not None:
        yield Written(section, told("temperature"), stage.temperature.text)
    if stage.time is not None:
        yield Written(section, told("time"), stage.time.text)
    for check in stage.conversion:
        text = told(
            "{dropout} dropped out of {sample} in {methanol} methanol",
            dropout=check.dropout.text,
            sample=check.sample.text,
            methanol=check.methanol.text,
        )
        if check.temperature is not None:
            text = told("{seen} at {degrees}", seen=text, degrees=check.temperature.text)
        text = told("{seen}, haze", seen=text) if check.haze else text
        yield Written(section, told("conversion check"), text)


def _after(batch: Batch) -> Iterator[Written]:
    settled = batch.settled
    if settled is not None:
        if settled.time is not None:
            yield Written(told("Settling"), told("time"), settled.time.text)
        if settled.glycerol is not None:
            yield Written(told("Settling"), told("layer drawn off"), settled.glycerol.amount.text)
        if settled.emulsion:
            yield Written(told("Settling"), told("emulsion"), told("noted"))
    if batch.methanol_recovered is not None:
        back = batch.methanol_recovered
        yield Written(told("Settling"), told("methanol taken back"), back.volume.text, back.into)


def _run(polish: Polish) -> Iterator[Written]:
    yield Written(told("Columns"), told("purifier"), polish.purifier)
    yield Written(
        told("Columns"),
        told("from"),
        told("{first} to {last}", first=f"{polish.start:%Y-%m-%d %H:%M}", last=f"{polish.end:%H:%M}"),
    )
    if polish.again:
        yield Written(told("Columns"), told("once more"), told("fuel that had run already"))
    if polish.through:
        yield Written(told("Columns"), told("through"), ", ".join(polish.through))
    if polish.volume is not None:
        yield Written(told("Columns"), told("fed"), polish.volume.text)
    if polish.bypassed is not None:
        yield Written(told("Columns"), told("of it round the columns"), polish.bypassed.text)
    if polish.acid_value is not None:
        yield Written(
            told("Columns"),
            told("acid value, feed"),
            f"{polish.acid_value.value.text}, {polish.acid_value.method}",
        )
    for reading in polish.readings:
        yield Written(
            told("Columns"),
            told("inlet of {vessel}", vessel=reading.vessel),
            told("{read} after {volume}", read=reading.inlet.text, volume=reading.after.text),
        )
    for sample in polish.soap:
        yield Written(
            told("Columns"), told("soap, {point}", point=sample.point), ", ".join(_titrated(sample))
        )


def _titrated(sample: SoapSample) -> Iterator[str]:
    yield told(
        "{used} of {strength} acid on {sample}",
        used=sample.acid.text,
        strength=sample.normality.text,
        sample=sample.sample.text,
    )
    if sample.catalyst is not None:
        yield told("of it {used} to the first end point", used=sample.catalyst.acid.text)
    yield told("blank {used}", used=sample.blank.text)
    if sample.after is not None:
        yield told("after {volume}", volume=sample.after.text)
    if sample.retest:
        yield told("retest")


def _end(batch: Batch) -> Iterator[Written]:
    if batch.fuel is not None:
        yield Written(told("Fuel"), told("finished"), batch.fuel.amount.text)
        if batch.fuel.tank is not None:
            yield Written(told("Fuel"), told("into"), batch.fuel.tank, batch.fuel.tank, public=False)
    if batch.energy is not None:
        yield Written(told("Effort"), told("energy"), batch.energy.text, public=False)
    if batch.labour is not None:
        yield Written(told("Effort"), told("labour"), batch.labour.text, public=False)
    for cost in batch.other_costs:
        yield Written(told("Effort"), cost.what, cost.paid.text, public=False)


def _amount(use: Use) -> str:
    return use.amount.text
