"""What stands in a batch's file, entry by entry, as it was written: the measured side of its page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.compute.results import Written
from generator.language import tell
from generator.log import Log
from generator.records import Batch, Polish, Pretreatment, SoapSample, Stage, Titrant, Titration, Use


def written(log: Log, batch: Batch) -> list[Written]:
    """All entries of a batch in the order of the work. Prices, notes, tanks and members are private."""
    return [
        *_oil(log, batch),
        *_before(batch.pretreatment),
        *_stages(batch),
        *_after(batch),
        *([Written(tell("Columns"), tell("run"), tell("none, used unpolished"))] if batch.unpolished else ()),
        *(item for run in batch.polish for item in _run(run)),
        *_end(batch),
    ]


def _oil(log: Log, batch: Batch) -> Iterator[Written]:
    """What was put in, with the maker's alias of where it came from; behind it what everyone may read about it."""
    lots = {use.lot: log.lots[use.lot].record for use in batch.oil}
    for use in batch.oil:
        code = lots[use.lot].code
        yield Written(
            tell("Oil"),
            tell("put in"),
            tell("{amount}, from {code}", amount=_amount(use), code=code) if code else _amount(use),
            use.lot,
        )
    for lot in lots.values():
        if lot.public_note:
            yield Written(
                tell("Oil"),
                tell("about {code}", code=lot.code) if lot.code else tell("about it"),
                lot.public_note,
            )
    if batch.water is not None:
        yield Written(tell("Oil"), tell("water"), f"{batch.water.value.text}, {batch.water.method}")
    if batch.titration is not None:
        yield from _titration(batch.titration)


def _titration(titration: Titration) -> Iterator[Written]:
    titrant = titration.titrant
    yield Written(
        tell("Titration"), tell("titrant"), f"{titrant.strength.text} {titrant.of}, {_made(titrant)}"
    )
    if titrant.solvent == "alcohol":
        at = titrant.at
        held = (
            tell("alcohol, its strength holds at {degrees}", degrees=at.text)
            if at is not None
            else tell("alcohol")
        )
        yield Written(tell("Titration"), tell("solvent"), held)
    if titration.temperature is not None:
        yield Written(tell("Titration"), tell("temperature"), titration.temperature.text)
    yield Written(tell("Titration"), tell("sample"), titration.sample.text)
    yield Written(tell("Titration"), tell("blank"), titration.blank.text)
    yield Written(
        tell("Titration"), tell("readings"), ", ".join(reading.text for reading in titration.readings)
    )


def _before(done: Pretreatment | None) -> Iterator[Written]:
    if done is None:
        return
    section = tell("Pre-treatment")
    for use in done.acid:
        yield Written(section, tell("acid"), _amount(use), use.lot)
    for use in done.methanol:
        yield Written(section, tell("methanol"), _amount(use), use.lot)
    if done.temperature is not None:
        yield Written(section, tell("temperature"), done.temperature.text)
    if done.time is not None:
        yield Written(section, tell("time"), done.time.text)
    if done.drained is not None:
        yield Written(section, tell("layer drawn off"), done.drained.text)
    if done.acid_drained is not None:
        yield Written(
            section,
            tell("acid"),
            tell("drained with its layer") if done.acid_drained else tell("stayed with the oil"),
        )
    if done.titration is not None:
        for item in _titration(done.titration):
            yield replace(item, section=tell("Titration after it"))


def _made(titrant: Titrant) -> str:
    if titrant.standardised is not None:
        measured = titrant.standardised
        return tell(
            "standardised: {used} on {weighed} of hydrogen phthalate",
            used=measured.titrant.text,
            weighed=measured.phthalate.text,
        )
    return (
        tell("made from a lot, whose purity counts")
        if titrant.lot is not None
        else tell("made from pure base")
    )


def _stages(batch: Batch) -> Iterator[Written]:
    for number, stage in enumerate(batch.reaction, 1):
        section = (
            tell("Reaction") if len(batch.reaction) == 1 else tell("Reaction, stage {number}", number=number)
        )
        yield from _stage(section, stage)


def _stage(section: str, stage: Stage) -> Iterator[Written]:
    for use in stage.catalyst:
        yield Written(section, tell("catalyst"), _amount(use), use.lot)
    for use in stage.methanol:
        yield Written(section, tell("methanol"), _amount(use), use.lot)
    if stage.temperature is not None:
        yield Written(section, tell("temperature"), stage.temperature.text)
    if stage.time is not None:
        yield Written(section, tell("time"), stage.time.text)
    for check in stage.conversion:
        text = tell(
            "{dropout} dropped out of {sample} in {methanol} methanol",
            dropout=check.dropout.text,
            sample=check.sample.text,
            methanol=check.methanol.text,
        )
        if check.temperature is not None:
            text = tell("{seen} at {degrees}", seen=text, degrees=check.temperature.text)
        text = tell("{seen}, haze", seen=text) if check.haze else text
        yield Written(section, tell("conversion check"), text)


def _after(batch: Batch) -> Iterator[Written]:
    settled = batch.settled
    if settled is not None:
        if settled.time is not None:
            yield Written(tell("Settling"), tell("time"), settled.time.text)
        if settled.glycerol is not None:
            yield Written(tell("Settling"), tell("layer drawn off"), settled.glycerol.amount.text)
        if settled.emulsion:
            yield Written(tell("Settling"), tell("emulsion"), tell("noted"))
    if batch.methanol_recovered is not None:
        back = batch.methanol_recovered
        yield Written(tell("Settling"), tell("methanol taken back"), back.volume.text, back.into)


def _run(polish: Polish) -> Iterator[Written]:
    yield Written(tell("Columns"), tell("purifier"), polish.purifier)
    yield Written(
        tell("Columns"),
        tell("from"),
        tell("{first} to {last}", first=f"{polish.start:%Y-%m-%d %H:%M}", last=f"{polish.end:%H:%M}"),
    )
    if polish.again:
        yield Written(tell("Columns"), tell("once more"), tell("fuel that had run already"))
    if polish.through:
        yield Written(tell("Columns"), tell("through"), ", ".join(polish.through))
    if polish.volume is not None:
        yield Written(tell("Columns"), tell("fed"), polish.volume.text)
    if polish.bypassed is not None:
        yield Written(tell("Columns"), tell("of it round the columns"), polish.bypassed.text)
    if polish.acid_value is not None:
        yield Written(
            tell("Columns"),
            tell("acid value, feed"),
            f"{polish.acid_value.value.text}, {polish.acid_value.method}",
        )
    for reading in polish.readings:
        yield Written(
            tell("Columns"),
            tell("inlet of {vessel}", vessel=reading.vessel),
            tell("{read} after {volume}", read=reading.inlet.text, volume=reading.after.text),
        )
    for sample in polish.soap:
        yield Written(
            tell("Columns"), tell("soap, {point}", point=sample.point), ", ".join(_titrated(sample))
        )


def _titrated(sample: SoapSample) -> Iterator[str]:
    yield tell(
        "{used} of {strength} acid on {sample}",
        used=sample.acid.text,
        strength=sample.normality.text,
        sample=sample.sample.text,
    )
    if sample.catalyst is not None:
        yield tell("of it {used} to the first end point", used=sample.catalyst.acid.text)
    yield tell("blank {used}", used=sample.blank.text)
    if sample.after is not None:
        yield tell("after {volume}", volume=sample.after.text)
    if sample.retest:
        yield tell("retest")


def _end(batch: Batch) -> Iterator[Written]:
    if batch.fuel is not None:
        yield Written(tell("Fuel"), tell("finished"), batch.fuel.amount.text)
        if batch.fuel.tank is not None:
            yield Written(tell("Fuel"), tell("into"), batch.fuel.tank, batch.fuel.tank, public=False)
    if batch.energy is not None:
        yield Written(tell("Effort"), tell("energy"), batch.energy.text, public=False)
    if batch.labour is not None:
        yield Written(tell("Effort"), tell("labour"), batch.labour.text, public=False)
    for cost in batch.other_costs:
        yield Written(tell("Effort"), cost.what, cost.paid.text, public=False)
    for credit in batch.credits:
        yield Written(tell("Credit"), credit.what, credit.amount.text, public=False)


def _amount(use: Use) -> str:
    return use.amount.text
