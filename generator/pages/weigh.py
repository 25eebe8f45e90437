"""What a weigh sheet says, for the page of a planned batch and for paper: sections of rows and notes, no layout."""

from __future__ import annotations

from dataclasses import dataclass

from generator.data import rows
from generator.language import said, say, term
from generator.ledger.readings import plain
from generator.ledger.sheet import ToWeigh
from generator.pages.weigh_before import before_section
from generator.pages.weigh_dose import catalyst_section, methanol_section
from generator.pages.weigh_words import Row, Section, grams, kilograms, litres, of_lot, pct
from generator.pages.words import Shown, step_decimals, with_unit
from generator.records import Workshop

RULE = term("Arithmetic on the workshop's own rule, to be checked by whoever weighs. No recipe.")
# cautions by how they begin: always, and where acid is used
ALWAYS = ("Methanol is toxic", "Dissolving alkali", "Hot wet oil", "Check every valve", "Authorities")
WITH_ACID = ("Acid goes",)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A weigh sheet."""

    batch: str
    state: str
    sections: tuple[Section, ...]
    missing: tuple[str, ...]
    cautions: tuple[str, ...]


def sheet(item: ToWeigh, view: Shown) -> Sheet:
    """The weigh sheet of one batch."""
    batch = item.batch
    before = before_section(item, view)
    found = [
        _oil(item, view),
        *before,
        catalyst_section(item, view),
        methanol_section(item, view),
        *_stages(item, view),
    ]
    found += _weighed(item)
    found.append(_water(item, view))
    state = (
        say("planned for {date}", date=batch.date)
        if batch.is_planned
        else say("made on {date}", date=batch.date)
    )
    return Sheet(
        batch=batch.batch,
        state=state,
        sections=tuple(section for section in found if section.rows or section.notes),
        missing=tuple(map(said, item.dose.missing)),
        cautions=cautions(acid=bool(before)),
    )


def settings_view(settings: Workshop) -> Shown:
    """The display units of a workshop, where no table was filled."""
    display = settings.display.model_dump()
    shows = step_decimals(settings.instruments.scale)
    reference_c = settings.reference_temperature.value
    return Shown(display, settings.currency, reference_c, settings.ffa_as, shows)


def cautions(*, acid: bool) -> tuple[str, ...]:
    """The cautions that belong beside a dose."""
    begin = ALWAYS + (WITH_ACID if acid else ())
    return tuple(say(text) for text in rows("cautions") if text.startswith(begin))


def advice(item: ToWeigh) -> list[str]:
    """What the workshop's own lines say about the oil."""
    lines, batch, found = item.settings.thresholds, item.batch, []
    if item.dose.needs_drying and batch.water is not None and lines.water is not None:
        found.append(
            say(
                "Water in the oil ({found}) lies above the workshop's line of {line}: dry it before it is dosed.",
                found=said(batch.water.value.text),
                line=said(lines.water.text),
            )
        )
    acidity = item.dose.facts.acidity
    if item.dose.needs_pretreatment and acidity is not None and lines.acid_value is not None:
        value = with_unit(plain(acidity.acid_value_mg_koh_per_g), "mg KOH/g", 2)
        told = {"value": value, "line": said(lines.acid_value.text)}
        found.append(
            say(
                "The acid value ({value}) lies above the workshop's line of {line}: a pre-treatment is below.",
                **told,
            )
            if item.dose.pretreatment is not None
            else say(
                "The acid value ({value}) lies above the workshop's line of {line}: pre-treat or blend it.",
                **told,
            )
        )
    return found


def _oil(item: ToWeigh, view: Shown) -> Section:
    facts, batch = item.dose.facts, item.batch
    listed_oil = [
        Row(of_lot(item, use.lot), said(use.amount.text), tick=batch.is_planned) for use in batch.oil
    ]
    listed_oil.append(
        Row(
            say("together"),
            litres(view, facts.oil_l),
            f"{view.basis}; {kilograms(view, facts.oil_kg)}",
            "volume-at-reference",
        )
    )
    if facts.acidity is not None:
        share = say(
            "{share} free fatty acid as {acid} acid",
            share=pct(facts.acidity.ffa_pct, 2),
            acid=said(item.settings.ffa_as),
        )
        value = with_unit(plain(facts.acidity.acid_value_mg_koh_per_g), "mg KOH/g", 2)
        listed_oil.append(Row(say("acid value"), value, share, "acid-value"))
    if batch.water is not None:
        listed_oil.append(Row(say("water"), said(batch.water.value.text), said(batch.water.method)))
    lines = item.settings.thresholds
    notes = advice(item)
    if lines.water is not None and item.dose.needs_drying is None:
        line = said(lines.water.text)
        notes.append(
            say(
                "Whether water of the oil lies above the line of {line} is not known: {found} leaves it open.",
                line=line,
                found=said(batch.water.value.text),
            )
            if batch.water is not None
            else say(
                "Whether water of the oil lies above the line of {line} is not known: it is not written.",
                line=line,
            )
        )
    return Section(say("Oil"), tuple(listed_oil), tuple(notes))


def _stages(item: ToWeigh, view: Shown) -> list[Section]:
    base, planned = item.dose.base, item.batch.is_planned
    found = []
    for place, stage in enumerate(item.dose.stages, 1):
        listed_rows = []
        if base is not None:
            listed_rows.append(
                Row(
                    say("catalyst, {lot}", lot=base.lot),
                    grams(view, stage.catalyst_g),
                    tick=planned,
                    strong=True,
                )
            )
        for part in stage.methanol or ():
            kg = kilograms(view, part.kg)
            row = Row(
                say("methanol, {lot}", lot=part.lot),
                litres(view, part.litres),
                f"{view.basis}; {kg}",
                tick=planned,
                strong=True,
            )
            listed_rows.append(row)
        alone = len(item.dose.stages) == 1
        title = say("In one stage") if planned else say("By the rule")
        if not alone:
            title = say("Stage {place}: {share} of the dose", place=place, share=pct(stage.share_pct))
        found.append(Section(title, tuple(listed_rows), ()))
    return found


def _weighed(item: ToWeigh) -> list[Section]:
    """What a recorded batch was made with, beside what the rule asks."""
    found = []
    for place, stage in enumerate(item.batch.reaction, 1):
        used = [Row(say("catalyst, {lot}", lot=use.lot), said(use.amount.text)) for use in stage.catalyst]
        used += [Row(say("methanol, {lot}", lot=use.lot), said(use.amount.text)) for use in stage.methanol]
        found.append(Section(say("As recorded, stage {place}", place=place), tuple(used), ()))
    return found


def _water(item: ToWeigh, view: Shown) -> Section:
    """Where the water of the batch comes from."""
    dose = item.dose
    in_oil = {"<": term("in the oil, at most"), ">": term("in the oil, at least")}
    parts: list[tuple[str, float | None, str]] = [
        (in_oil.get(dose.oil_water_sign, term("in the oil")), dose.oil_water_kg, ""),
        (term("with the methanol"), dose.methanol.water_kg, "methanol-ratio"),
        (term("made by the base, at most"), dose.base.water_kg if dose.base is not None else None, "dose"),
    ]
    before = dose.pretreatment
    if before is not None and before.acid_drained is False:
        parts += [
            (term("made by the pre-treatment"), before.water_made_kg, "pre-treatment"),
            (term("with its methanol and acid"), before.water_fed_kg, "pre-treatment"),
        ]
    shown = [
        Row(say(label), grams(view, None if kg is None else kg * 1000), method=method)
        for label, kg, method in parts
    ]
    return Section(say("Water on its way into the batch"), tuple(shown), ())
