"""What a weigh sheet says, for the page of a planned batch and for paper: sections of rows and notes, no layout."""

from __future__ import annotations

from dataclasses import dataclass

from generator.data import rows
from generator.ledger.readings import plain
from generator.ledger.sheet import ToWeigh
from generator.pages.weigh_before import before_section
from generator.pages.weigh_dose import catalyst_section, methanol_section
from generator.pages.weigh_words import Row, Section, grams, kilograms, litres, of_lot, pct
from generator.pages.words import Shown, step_decimals, with_unit
from generator.records import Workshop
from generator.units import convert

RULE = "Arithmetic on the workshop's own rule, to be checked by whoever weighs. No recipe."
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
    state = f"planned for {batch.date}" if batch.is_planned else f"made on {batch.date}"
    return Sheet(
        batch=batch.batch,
        state=state,
        sections=tuple(section for section in found if section.rows or section.notes),
        missing=item.dose.missing,
        cautions=cautions(acid=bool(before)),
    )


def settings_view(settings: Workshop) -> Shown:
    """The display units of a workshop, where no table was filled."""
    display = settings.display.model_dump()
    reference_c = settings.reference_temperature.value
    symbol = display["temperature"]
    reference = with_unit(convert(reference_c, "temperature", symbol), symbol)
    shows = step_decimals(settings.instruments.scale)
    return Shown(display, settings.currency, reference, settings.ffa_as, shows)


def cautions(*, acid: bool) -> tuple[str, ...]:
    """The cautions that belong beside a dose."""
    begin = ALWAYS + (WITH_ACID if acid else ())
    return tuple(text for text in rows("cautions") if text.startswith(begin))


def advice(item: ToWeigh) -> list[str]:
    """What the workshop's own lines say about the oil."""
    lines, batch, found = item.settings.thresholds, item.batch, []
    if item.dose.needs_drying and batch.water is not None and lines.water is not None:
        found.append(
            f"Water in the oil ({batch.water.value.text}) lies above the workshop's line of {lines.water.text}: dry it before it is dosed."
        )
    acidity = item.dose.facts.acidity
    if item.dose.needs_pretreatment and acidity is not None and lines.acid_value is not None:
        value = with_unit(plain(acidity.acid_value_mg_koh_per_g), "mg KOH/g", 2)
        last = "a pre-treatment is below." if item.dose.pretreatment is not None else "pre-treat or blend it."
        found.append(
            f"The acid value ({value}) lies above the workshop's line of {lines.acid_value.text}: {last}"
        )
    return found


def _oil(item: ToWeigh, view: Shown) -> Section:
    facts, batch = item.dose.facts, item.batch
    listed_oil = [Row(of_lot(item, use.lot), use.amount.text, tick=batch.is_planned) for use in batch.oil]
    listed_oil.append(
        Row(
            "together",
            litres(view, facts.oil_l),
            f"{view.basis}; {kilograms(view, facts.oil_kg)}",
            "volume-at-reference",
        )
    )
    if facts.acidity is not None:
        share = f"{pct(facts.acidity.ffa_pct, 2)} free fatty acid as {item.settings.ffa_as} acid"
        value = with_unit(plain(facts.acidity.acid_value_mg_koh_per_g), "mg KOH/g", 2)
        listed_oil.append(Row("acid value", value, share, "acid-value"))
    if batch.water is not None:
        listed_oil.append(Row("water", batch.water.value.text, batch.water.method))
    lines = item.settings.thresholds
    notes = advice(item)
    if lines.water is not None and item.dose.needs_drying is None:
        why = f"{batch.water.value.text} leaves it open" if batch.water is not None else "it is not written"
        notes.append(
            f"Whether water of the oil lies above the line of {lines.water.text} is not known: {why}."
        )
    return Section("Oil", tuple(listed_oil), tuple(notes))


def _stages(item: ToWeigh, view: Shown) -> list[Section]:
    base, planned = item.dose.base, item.batch.is_planned
    found = []
    for place, stage in enumerate(item.dose.stages, 1):
        listed_rows = []
        if base is not None:
            listed_rows.append(
                Row(f"catalyst, {base.lot}", grams(view, stage.catalyst_g), tick=planned, strong=True)
            )
        for part in stage.methanol or ():
            kg = kilograms(view, part.kg)
            row = Row(
                f"methanol, {part.lot}",
                litres(view, part.litres),
                f"{view.basis}; {kg}",
                tick=planned,
                strong=True,
            )
            listed_rows.append(row)
        alone = len(item.dose.stages) == 1
        title = "By the rule" if not planned else "In one stage"
        if not alone:
            title = f"Stage {place}: {pct(stage.share_pct)} of the dose"
        found.append(Section(title, tuple(listed_rows), ()))
    return found


def _weighed(item: ToWeigh) -> list[Section]:
    """What a recorded batch was made with, beside what the rule asks."""
    found = []
    for place, stage in enumerate(item.batch.reaction, 1):
        used = [Row(f"catalyst, {use.lot}", use.amount.text) for use in stage.catalyst]
        used += [Row(f"methanol, {use.lot}", use.amount.text) for use in stage.methanol]
        found.append(Section(f"As recorded, stage {place}", tuple(used), ()))
    return found


def _water(item: ToWeigh, view: Shown) -> Section:
    """Where the water of the batch comes from."""
    dose = item.dose
    bound = {"<": ", at most", ">": ", at least"}.get(dose.oil_water_sign, "")
    parts: list[tuple[str, float | None, str]] = [
        (f"in the oil{bound}", dose.oil_water_kg, ""),
        ("with the methanol", dose.methanol.water_kg, "methanol-ratio"),
        ("made by the base, at most", dose.base.water_kg if dose.base is not None else None, "dose"),
    ]
    before = dose.pretreatment
    if before is not None and before.acid_drained is False:
        parts += [
            ("made by the pre-treatment", before.water_made_kg, "pre-treatment"),
            ("with its methanol and acid", before.water_fed_kg, "pre-treatment"),
        ]
    shown = [
        Row(label, grams(view, None if kg is None else kg * 1000), method=method)
        for label, kg, method in parts
    ]
    return Section("Water on its way into the batch", tuple(shown), ())
