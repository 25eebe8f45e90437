"""Every id that a record names is there, and is of the kind that fits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.ledger.ledgers import Ledgers
from generator.log import Entry, Log
from generator.problems import Place, Problem, did_you_mean
from generator.records import Batch, Catalyst, Lot, Pack, Polish, Regenerate, Rest, Rinse, Rotate


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Name unknown ids with the nearest known one, and lots of the wrong kind."""
    log = ledgers.log
    yield from _lots(log)
    yield from _batches(log)
    yield from _columns(log)
    yield from _offers(log)
    yield from _titrations(log)


def unknown(what: str, name: str, place: Place, known: Iterable[str]) -> Problem:
    """The problem of an id that nothing bears."""
    names = list(known)
    meant = did_you_mean(name, names)
    apart = " otherwise " if meant.endswith("?") else "; otherwise " if meant else ""
    hint = f"{meant}{apart}write it first" if names else f"there is no {what} yet: write its file first"
    return Problem("unknown-id", place, f"there is no {what} '{name}'", hint)


def _lot(log: Log, lot: str, kind: str, place: Place) -> Iterator[Problem]:
    if lot not in log.lots:
        yield unknown("lot", lot, place, log.lots)
        return
    material = log.material_of(lot)
    if material is not None and material.record.kind != kind:
        entry = log.lots[lot]
        yield Problem(
            "wrong-kind",
            place,
            f"lot '{lot}' is of kind {material.record.kind}, and kind {kind} is wanted here",
            "name another lot",
            (entry.at("material"),),
        )


def _titrations(log: Log) -> Iterator[Problem]:
    for titration, entry, path, _ in log.titrations():
        if titration.titrant.lot is not None:
            place = entry.at(*path, "titrant", "lot")
            yield from _lot(log, titration.titrant.lot, "catalyst", place)
            made_of = log.material_of(titration.titrant.lot)
            if (
                made_of is not None
                and isinstance(made_of.record, Catalyst)
                and made_of.record.of != titration.titrant.of
            ):
                yield Problem(
                    "wrong-kind",
                    place,
                    f"lot '{titration.titrant.lot}' is {made_of.record.of}, and the titrant is said to be {titration.titrant.of}",
                    "name the lot of that base, or correct 'of'; its purity counts",
                    (entry.at(*path, "titrant", "of"),),
                )


def _lots(log: Log) -> Iterator[Problem]:
    for entry in log.lots.values():
        if entry.record.material not in log.materials:
            yield unknown("material", entry.record.material, entry.at("material"), log.materials)
        else:
            yield from _filled(log, entry)


def _filled(log: Log, vat: Entry[Lot]) -> Iterator[Problem]:
    """A vat is filled from lots of the kind it holds, and not from another vat."""
    kind = log.materials[vat.record.material].record.kind
    for number, fill in enumerate(vat.record.filled):
        place = vat.at("filled", number, "lot")
        yield from _lot(log, fill.lot, kind, place)
        if fill.lot in log.lots and log.lots[fill.lot].record.vat:
            yield Problem(
                "wrong-kind",
                place,
                f"'{fill.lot}' is a vat itself",
                "fill it from lots that were bought; two vats that are poured together are written as one, 'holds' as much as both",
                (log.lots[fill.lot].at("vat"),),
            )


def _batches(log: Log) -> Iterator[Problem]:
    for entry in log.written_batches():
        batch = entry.record
        for number, use in enumerate(batch.oil):
            yield from _lot(log, use.lot, "oil", entry.at("oil", number, "lot"))
        yield from _plan(log, entry)
        yield from _pretreatment(log, entry)
        for stage_number, stage in enumerate(batch.reaction):
            for number, use in enumerate(stage.catalyst):
                yield from _lot(
                    log, use.lot, "catalyst", entry.at("reaction", stage_number, "catalyst", number, "lot")
                )
            for number, use in enumerate(stage.methanol):
                yield from _lot(
                    log, use.lot, "alcohol", entry.at("reaction", stage_number, "methanol", number, "lot")
                )
        back = batch.methanol_recovered
        if back is not None:
            place = entry.at("methanol_recovered", "into")
            yield from _lot(log, back.into, "alcohol", place)
            if back.into in log.lots and not log.lots[back.into].record.recovered:
                yield Problem(
                    "not-recovered-lot",
                    place,
                    f"lot '{back.into}' is a purchase",
                    "name a lot with 'recovered: true', so that nothing is counted twice",
                    (log.lots[back.into].at("lot"),),
                )
        if batch.fuel is not None and batch.fuel.tank is not None and batch.fuel.tank not in log.tanks:
            yield unknown("tank", batch.fuel.tank, entry.at("fuel", "tank"), log.tanks)
        yield from _runs(log, entry)
        yield from _planned_purifier(log, entry)


def _plan(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    plan = entry.record.plan
    if plan is None:
        return
    yield from _lot(log, plan.catalyst, "catalyst", entry.at("plan", "catalyst"))
    for number, item in enumerate(plan.methanol):
        yield from _lot(log, item.lot, "alcohol", entry.at("plan", "methanol", number, "lot"))
    if plan.pretreatment is not None and plan.pretreatment.acid is not None:
        yield from _lot(log, plan.pretreatment.acid, "acid", entry.at("plan", "pretreatment", "acid"))


def _planned_purifier(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    plan = entry.record.plan
    if plan is not None and plan.purifier is not None and plan.purifier not in log.purifiers:
        yield unknown("purifier", plan.purifier, entry.at("plan", "purifier"), log.purifiers)


def _pretreatment(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    done = entry.record.pretreatment
    if done is None:
        return
    for key, kind, items in (("acid", "acid", done.acid), ("methanol", "alcohol", done.methanol)):
        for number, use in enumerate(items):
            yield from _lot(log, use.lot, kind, entry.at("pretreatment", key, number, "lot"))


def _runs(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    for number, run in enumerate(entry.record.polish):
        if run.purifier in log.purifiers:
            yield from _run(log, entry, number, run)
        else:
            yield unknown("purifier", run.purifier, entry.at("polish", number, "purifier"), log.purifiers)


def _run(log: Log, entry: Entry[Batch], place: int, run: Polish) -> Iterator[Problem]:
    vessels = [vessel.vessel for vessel in log.purifiers[run.purifier].record.vessels]
    for number, name in enumerate(run.through):
        if name not in vessels:
            yield unknown("vessel", name, entry.at("polish", place, "through", number), vessels)
    for number, reading in enumerate(run.readings):
        if reading.vessel not in vessels:
            where = entry.at("polish", place, "readings", number, "vessel")
            yield unknown("vessel", reading.vessel, where, vessels)
    in_line = [name for name in vessels if not run.through or name in run.through]
    points = ["feed", *(f"after {vessel}" for vessel in in_line), "product"]
    for number, sample in enumerate(run.soap):
        if sample.point not in points:
            yield Problem(
                "unknown-point",
                entry.at("polish", place, "soap", number, "point"),
                f"'{sample.point[:64]}' is not a sampling point of {run.purifier}",
                did_you_mean(sample.point, points),
            )


def _columns(log: Log) -> Iterator[Problem]:
    for entry in log.purifiers.values():
        vessels = [vessel.vessel for vessel in entry.record.vessels]
        for number, event in enumerate(entry.record.history):
            if not isinstance(event, Rest) and event.vessel not in vessels:
                yield unknown("vessel", event.vessel, entry.at("history", number, "vessel"), vessels)
            if isinstance(event, Pack):
                place = entry.at("history", number, "medium")
                if event.medium not in log.materials:
                    yield unknown(
                        "medium",
                        event.medium,
                        place,
                        (name for name, item in log.materials.items() if item.record.kind == "medium"),
                    )
                elif log.materials[event.medium].record.kind != "medium":
                    yield Problem(
                        "wrong-kind",
                        place,
                        f"'{event.medium}' is of kind {log.materials[event.medium].record.kind}, and kind medium is wanted here",
                        "name a material of kind medium",
                    )
                if event.lot is not None:
                    place = entry.at("history", number, "lot")
                    yield from _lot(log, event.lot, "medium", place)
                    packed = log.materials.get(event.medium)
                    fits = event.lot not in log.lots or log.lots[event.lot].record.material == event.medium
                    if not fits and packed is not None and packed.record.kind == "medium":
                        found = log.lots[event.lot].record.material
                        yield Problem(
                            "wrong-kind",
                            place,
                            f"lot '{event.lot}' is {found}, and {event.medium} is packed",
                            "name the lot of that medium, or correct the medium",
                            (entry.at("history", number, "medium"),),
                        )
            if isinstance(event, Rinse) and event.used is not None:
                yield from _lot(log, event.used.lot, "alcohol", entry.at("history", number, "with", "lot"))
            if isinstance(event, Regenerate) and event.used is not None:
                yield from _lot(log, event.used.lot, "acid", entry.at("history", number, "with", "lot"))
            if isinstance(event, Rotate) and event.with_vessel not in vessels:
                yield unknown("vessel", event.with_vessel, entry.at("history", number, "with"), vessels)


def _offers(log: Log) -> Iterator[Problem]:
    for entry in log.offers.values():
        offer = entry.record
        if offer.material not in log.materials:
            yield unknown("material", offer.material, entry.at("material"), log.materials)
        elif (kind := log.materials[offer.material].record.kind) != "oil":
            oils = [name for name, one in log.materials.items() if one.record.kind == "oil"]
            message = f"material '{offer.material}' is of kind {kind}, and an offer is one of oil"
            yield Problem("wrong-kind", entry.at("material"), message, f"name an oil: {', '.join(oils)}")
        if offer.bought_as is not None:
            yield from _lot(log, offer.bought_as, "oil", entry.at("bought_as"))
        if offer.bought_as is not None and offer.declined is not None:
            message = f"this offer was declined, and bought as '{offer.bought_as}'"
            place, other = entry.at("declined", key=True), entry.at("bought_as", key=True)
            yield Problem("one-of", place, message, "keep the one of the two that holds", (other,))
