"""The parts of a weigh sheet about base and methanol: the terms apart, what they come to, what they rest on."""

from __future__ import annotations

from generator.formulas.constants import molar_mass
from generator.formulas.uncertainty import expanded
from generator.language import said, say
from generator.ledger.parts import Part
from generator.ledger.readings import plain
from generator.ledger.sheet import ToWeigh
from generator.ledger.uncertain import standard_uncertainty
from generator.pages.weigh_words import Row, Section, grams, kilograms, litres, of_lot, pct
from generator.pages.words import Shown, listed, number, unknown, with_unit

FEWEST_STEPS = 20  # of a scale, in what is weighed on it; common practice, no source


def catalyst_section(item: ToWeigh, view: Shown) -> Section:
    """Both terms of the rule apart, and what they come to."""
    base, rule = item.dose.base, item.settings.dose
    if base is None:
        return Section(say("Catalyst"), (Row(say("to weigh"), unknown()),), ())
    found = []
    free = (
        None
        if base.neutralising_g is None or base.mineral_g is None
        else base.neutralising_g - base.mineral_g
    )
    if base.mineral_g is None or plain(base.mineral_g) == 0 or (free is not None and plain(free) < 0):
        found.append(
            Row(say("to neutralise the oil's acid"), grams(view, base.neutralising_g), method="dose")
        )
    else:
        found.append(Row(say("to neutralise free fatty acid"), grams(view, free), method="dose"))
        found.append(
            Row(say("to neutralise mineral acid"), grams(view, base.mineral_g), method="pre-treatment")
        )
    ruled = (
        say("{rate} of {base}", rate=said(rule.base.text), base=rule.of)
        if rule is not None
        else say("no rule in logbook.yaml")
    )
    found.append(Row(say("base rate"), grams(view, base.base_g), ruled, "dose"))
    found.append(
        Row(
            say("to weigh, all stages"),
            grams(view, base.total_g),
            _reach(base.total_g, view),
            "dose",
            strong=True,
        )
    )
    return Section(
        say("Catalyst: {of}, {lot}", of=base.of, lot=of_lot(item, base.lot)),
        tuple(found),
        tuple(_of_base(item, view)),
    )


def _reach(total: float | None, view: Shown) -> str:
    if total is None or not standard_uncertainty(total):
        return ""
    reach = grams(view, expanded(standard_uncertainty(total)), 2)
    return say("± {reach} (k = 2) by readings and labels", reach=reach)


def _coarse(item: ToWeigh, total_g: float | None) -> list[str]:
    """What to say where the workshop's scale is too coarse for the smallest part that is weighed of the catalyst."""
    step = item.settings.instruments.scale
    least = min((stage.share_pct for stage in item.dose.stages), default=100.0) / 100
    if total_g is None or plain(total_g) * least / 1000 >= step.value * FEWEST_STEPS:
        return []
    return [
        say(
            "The scale shows {step}, more than {share} % of it: weigh it on a finer one.",
            step=said(step.text),
            share=number(100 / FEWEST_STEPS),
        )
    ]


def _of_base(item: ToWeigh, view: Shown) -> list[str]:
    base, rule = item.dose.base, item.settings.dose
    assert base is not None
    notes = [
        *_coarse(item, base.total_g),
        say(
            "Amounts are as weighed: purity {share} is counted once, in each term.",
            share=pct(base.purity_pct),
        ),
    ]
    if base.same_lot:
        notes.append(
            say(
                "The titrant was made of this same lot; its impurity is in the readings and cancels by moles."
            )
        )
    if rule is not None and rule.of != base.of:
        ratio = number(molar_mass(base.of) / molar_mass(rule.of), 4)
        notes.append(
            say(
                "The rule is for {first}; carried to {second} by moles (x {ratio}).",
                first=rule.of,
                second=base.of,
                ratio=ratio,
            )
        )
    if base.solvent:
        notes.append(
            say(
                "The rest of this solution is methanol: {amount} of it, taken off below.",
                amount=kilograms(view, base.solvent_kg),
            )
        )
    return notes


def methanol_section(item: ToWeigh, view: Shown) -> Section:
    """Methanol by the rule, by lots, by moles and by volume."""
    found, dose = item.dose.methanol, item.settings.dose
    rule = dose.methanol if dose is not None else None
    shown = []
    if rule is not None:
        rate = said(rule.text)
        told = (
            say("{rate} of methanol to oil", rate=rate)
            if rule.kind == "molar ratio"
            else say("{rate} of the oil's volume", rate=rate)
        )
        shown.append(Row(say("pure, by the rule"), kilograms(view, found.rule_kg), told, "methanol-ratio"))
    brought = found.from_catalyst_kg
    if brought is None or plain(brought) != 0:
        shown.append(Row(say("there with the catalyst"), kilograms(view, brought), say("pure"), "dose"))
    shown += [_pour(item, part, view) for part in found.parts or ()]
    if found.parts is None:
        shown.append(Row(say("to pour"), unknown()))
    ratio = with_unit(None if found.molar_ratio is None else plain(found.molar_ratio), "mol/mol", 2)
    shown.append(
        Row(
            say("comes to"),
            ratio,
            say(
                "{share} of the oil's volume, all methanol {basis}",
                share=pct(found.pct_v_v, 1),
                basis=view.basis,
            ),
            "methanol-ratio",
        )
    )
    notes = []
    if found.from_catalyst_beyond_rule:
        notes.append(say("The methanol that comes with the catalyst alone exceeds the rule."))
    elif found.beyond_rule:
        notes.append(
            say("The amounts written in the plan exceed the rule.")
            if item.batch.plan is not None
            else say("The amounts written in the record exceed the rule.")
        )
    recovered = [part for part in found.parts or () if part.recovered]
    if recovered:
        wet = sum(plain(part.rest_kg) for part in recovered)
        lots = listed([part.lot for part in recovered])
        notes.append(
            say(
                "Recovered methanol ({lots}) brings {water} of water; it is counted by its purity.",
                lots=lots,
                water=kilograms(view, wet),
            )
        )
    if item.dose.pretreatment is not None:
        notes.append(
            say("Methanol that the pre-treatment left is not counted: what went with its layer is not known.")
        )
    return Section(say("Methanol"), tuple(shown), tuple(notes))


def _pour(item: ToWeigh, part: Part, view: Shown) -> Row:
    detail = say("{mass}, {share} pure", mass=kilograms(view, part.kg), share=pct(part.purity_pct, 1))
    return Row(of_lot(item, part.lot), litres(view, part.litres), detail, "methanol-ratio")
