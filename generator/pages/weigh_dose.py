"""The parts of a weigh sheet about base and methanol: the terms apart, what they come to, what they rest on."""

from __future__ import annotations

from generator.formulas.constants import molar_mass
from generator.formulas.uncertainty import expanded
from generator.ledger.parts import Part
from generator.ledger.readings import plain
from generator.ledger.sheet import ToWeigh
from generator.ledger.uncertain import standard_uncertainty
from generator.pages.weigh_words import Row, Section, grams, kilograms, litres, of_lot, pct
from generator.pages.words import Shown, listed, number, with_unit

FEWEST_STEPS = 20  # of a scale, in what is weighed on it; common practice, no source


def catalyst_section(item: ToWeigh, view: Shown) -> Section:
    """Both terms of the rule apart, and what they come to."""
    base, rule = item.dose.base, item.settings.dose
    if base is None:
        return Section("Catalyst", (Row("to weigh", "unknown"),), ())
    found = []
    free = (
        None
        if base.neutralising_g is None or base.mineral_g is None
        else base.neutralising_g - base.mineral_g
    )
    if base.mineral_g is None or plain(base.mineral_g) == 0 or (free is not None and plain(free) < 0):
        found.append(Row("to neutralise the oil's acid", grams(view, base.neutralising_g), method="dose"))
    else:
        found.append(Row("to neutralise free fatty acid", grams(view, free), method="dose"))
        found.append(Row("to neutralise mineral acid", grams(view, base.mineral_g), method="pre-treatment"))
    said = f"{rule.base.text} of {rule.of}" if rule is not None else "no rule in logbook.yaml"
    found.append(Row("base rate", grams(view, base.base_g), said, "dose"))
    found.append(
        Row(
            "to weigh, all stages", grams(view, base.total_g), _reach(base.total_g, view), "dose", strong=True
        )
    )
    return Section(
        f"Catalyst: {base.of}, {of_lot(item, base.lot)}", tuple(found), tuple(_of_base(item, view))
    )


def _reach(total: float | None, view: Shown) -> str:
    if total is None or not standard_uncertainty(total):
        return ""
    return f"± {grams(view, expanded(standard_uncertainty(total)), 2)} (k = 2) by readings and labels"


def _coarse(item: ToWeigh, total_g: float | None) -> list[str]:
    """What to say where the workshop's scale is too coarse for the smallest part that is weighed of the catalyst."""
    step = item.settings.instruments.scale
    least = min((stage.share_pct for stage in item.dose.stages), default=100.0) / 100
    if total_g is None or plain(total_g) * least / 1000 >= step.value * FEWEST_STEPS:
        return []
    return [
        f"The scale shows {step.text}, more than {100 / FEWEST_STEPS:.0f} % of it: weigh it on a finer one."
    ]


def _of_base(item: ToWeigh, view: Shown) -> list[str]:
    base, rule = item.dose.base, item.settings.dose
    assert base is not None
    notes = [
        *_coarse(item, base.total_g),
        f"Amounts are as weighed: purity {pct(base.purity_pct)} is counted once, in each term.",
    ]
    if base.same_lot:
        notes.append(
            "The titrant was made of this same lot; its impurity is in the readings and cancels by moles."
        )
    if rule is not None and rule.of != base.of:
        ratio = number(molar_mass(base.of) / molar_mass(rule.of), 4)
        notes.append(f"The rule is for {rule.of}; carried to {base.of} by moles (x {ratio}).")
    if base.solvent:
        notes.append(
            f"The rest of this solution is methanol: {kilograms(view, base.solvent_kg)} of it, taken off below."
        )
    return notes


def methanol_section(item: ToWeigh, view: Shown) -> Section:
    """Methanol by the rule, by lots, by moles and by volume."""
    found, dose = item.dose.methanol, item.settings.dose
    rule = dose.methanol if dose is not None else None
    shown = []
    if rule is not None:
        of = "of methanol to oil" if rule.kind == "molar ratio" else "of the oil's volume"
        shown.append(
            Row("pure, by the rule", kilograms(view, found.rule_kg), f"{rule.text} {of}", "methanol-ratio")
        )
    brought = found.from_catalyst_kg
    if brought is None or plain(brought) != 0:
        shown.append(Row("there with the catalyst", kilograms(view, brought), "pure", "dose"))
    shown += [_pour(item, part, view) for part in found.parts or ()]
    if found.parts is None:
        shown.append(Row("to pour", "unknown"))
    ratio = with_unit(None if found.molar_ratio is None else plain(found.molar_ratio), "mol/mol", 2)
    shown.append(
        Row(
            "comes to",
            ratio,
            f"{pct(found.pct_v_v, 1)} of the oil's volume, all methanol {view.basis}",
            "methanol-ratio",
        )
    )
    notes = []
    if found.from_catalyst_beyond_rule:
        notes.append("The methanol that comes with the catalyst alone exceeds the rule.")
    elif found.beyond_rule:
        written = "plan" if item.batch.plan is not None else "record"
        notes.append(f"The amounts written in the {written} exceed the rule.")
    recovered = [part for part in found.parts or () if part.recovered]
    if recovered:
        wet = sum(plain(part.rest_kg) for part in recovered)
        lots = listed([part.lot for part in recovered])
        notes.append(
            f"Recovered methanol ({lots}) brings {kilograms(view, wet)} of water; it is counted by its purity."
        )
    if item.dose.pretreatment is not None:
        notes.append(
            "Methanol that the pre-treatment left is not counted: what went with its layer is not known."
        )
    return Section("Methanol", tuple(shown), tuple(notes))


def _pour(item: ToWeigh, part: Part, view: Shown) -> Row:
    detail = f"{kilograms(view, part.kg)}, {pct(part.purity_pct, 1)} pure"
    return Row(of_lot(item, part.lot), litres(view, part.litres), detail, "methanol-ratio")
