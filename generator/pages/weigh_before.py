"""The part of a weigh sheet about an acid pre-treatment: what goes in, what it makes, what its acid costs in base."""

from __future__ import annotations

from generator.formulas.acidity import acid_value_mg_koh_per_g
from generator.language import said, say
from generator.ledger.pretreatment import Treated
from generator.ledger.readings import plain
from generator.ledger.sheet import ToWeigh
from generator.pages.weigh_words import Row, Section, grams, kilograms, litres, of_lot, pct
from generator.pages.words import Shown, unknown, with_unit
from generator.units import Quantity


def before_section(item: ToWeigh, view: Shown) -> list[Section]:
    """The pre-treatment of a batch, done or planned; nothing where there is none."""
    before = item.dose.pretreatment
    if before is None:
        return []
    shown = [*_goes_in(item, before, view), *_comes_out(before, view)]
    title = say("Pre-treatment, as recorded") if before.done else say("Pre-treatment, before the reaction")
    return [Section(title, tuple(shown), tuple(_notes(item, before)))]


def _goes_in(item: ToWeigh, before: Treated, view: Shown) -> list[Row]:
    rule = item.settings.dose.pretreatment if item.settings.dose is not None else None
    tick = not before.done
    found = []
    for part in before.methanol or ():
        ruled = _of_acid(rule.methanol) if rule is not None and tick else ""
        detail = "; ".join(text for text in (kilograms(view, part.kg), ruled) if text)
        found.append(
            Row(
                say("methanol, {lot}", lot=part.lot),
                litres(view, part.litres),
                detail,
                tick=tick,
                strong=True,
            )
        )
    if before.methanol is None:
        found.append(Row(say("methanol"), unknown()))
    for part in before.acid or ():
        ruled = _of_acid(rule.acid) if rule is not None and tick else ""
        detail = "; ".join(text for text in (say("{share} pure", share=pct(part.purity_pct)), ruled) if text)
        found.append(
            Row(
                say("acid, {lot}", lot=of_lot(item, part.lot)),
                grams(view, part.kg * 1000),
                detail,
                tick=tick,
                strong=True,
            )
        )
    if before.acid is None:
        pure = None if before.acid_pure_kg is None else before.acid_pure_kg * 1000
        found.append(
            Row(
                say("acid, no lot named"),
                grams(view, pure),
                say("of pure sulfuric acid") if pure is not None else "",
            )
        )
    return found


def _comes_out(before: Treated, view: Shown) -> list[Row]:
    water, left, free = before.water_made_kg, before.methanol_left_kg, before.free_after_mol_per_kg
    found = [
        Row(say("acid value before"), _acid_value(before.before_mol_per_kg), method="acid-value"),
        Row(
            say("acid value after"),
            _acid_value(before.after_mol_per_kg),
            {"titrated": say("titrated"), "target": say("target, with the acid that stays")}.get(
                before.after_basis or "", ""
            ),
            "acid-value",
        ),
    ]
    if (
        before.mineral_mol is not None
        and plain(before.mineral_mol) != 0
        and before.after_mol_per_kg is not None
        and not (free is not None and plain(free) < 0)
    ):
        mineral = None if free is None else before.after_mol_per_kg - free
        found += [
            Row(say("  of it free fatty acid"), _acid_value(free), method="pre-treatment"),
            Row(say("  of it mineral acid"), _acid_value(mineral), method="pre-treatment"),
        ]
    found.append(
        Row(
            say("water it makes"),
            grams(view, None if water is None else water * 1000),
            method="pre-treatment",
        )
    )
    found.append(Row(say("methanol it leaves"), kilograms(view, left), say("pure"), "pre-treatment"))
    return found


def _of_acid(rule: Quantity) -> str:
    return say("{rule} of free fatty acid", rule=said(rule.text))


def _acid_value(mol_per_kg: float | None) -> str:
    if mol_per_kg is None:
        return unknown()
    return with_unit(plain(acid_value_mg_koh_per_g(mol_per_kg)), "mg KOH/g", 2)


def _notes(item: ToWeigh, before: Treated) -> list[str]:
    notes = []
    if not before.done:
        notes.append(
            say("Titrate again after it and write the readings down: the dose is then made from them.")
        )
    if before.acid_drained is False:
        notes.append(
            say(
                "The acid is taken to stay with the oil: a titration counts it as free fatty acid, and it costs base."
            )
        )
    elif before.acid_drained:
        notes.append(
            say("The acid is taken as drained with its layer; what stayed counts as free fatty acid.")
        )
    else:
        notes.append(
            say(
                "It is not written whether the acid was drained: an unknown part of the acid value is mineral acid."
            )
        )
    free = before.free_after_mol_per_kg
    if free is not None and plain(free) < 0:
        notes.append(
            say(
                "The titration found less acid than the mineral acid put in: some of it left, or a reading is off."
            )
        )
    if (
        item.dose.pretreatment is not None
        and before.converted_mol is not None
        and plain(before.converted_mol) < 0
    ):
        notes.append(say("The acid value rose in the pre-treatment: check both titrations."))
    return notes
