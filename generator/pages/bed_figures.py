"""The figures of one charge: fuel, soap, what is left, glycerol, medium."""

from __future__ import annotations

from collections.abc import Sequence

from generator.language import said, say, term
from generator.pages.bed_ahead import range_text
from generator.pages.parts import Row, figure
from generator.pages.view import Figure
from generator.pages.words import NARROW, Shown, count, interval, number, significant, unknown, with_unit
from generator.tables import CHARGES

SPENT_MEDIA = term(
    "Spent media, filters and rags wet with fuel heat themselves: closed metal container, outdoors."
)
VESSEL_LIMITS = term("Pressure limits are the vessel maker's; nothing here is an allowable pressure.")
RINSE = term("Rinsing a resin makes litres of contaminated methanol: toxic, and its vapour ignites easily.")


def cautions(charges: Sequence[Row]) -> list[str]:
    """What to mind where these charges are told of; of rinses where one of them is a resin."""
    resin = any(row["type"] == "resin" for row in charges)
    return [say(text) for text in (SPENT_MEDIA, *([RINSE] if resin else []), VESSEL_LIMITS)]


def fuel_figures(row: Row, view: Shown) -> list[Figure]:
    """What it treated."""
    again = (
        row["passed_l"] - row["fuel_l"] if row["passed_l"] is not None and row["fuel_l"] is not None else 0.0
    )
    once_more = say("; {again} of it once more, counted once", again=view.volume(again)) if again else ""
    runs = say("in {run}{once_more}", run=count(row["runs"], "run", "runs"), once_more=once_more)
    treated = figure(CHARGES, row, "fuel_l", say("Fuel treated"), view.volume(row["fuel_l"]), runs)
    volumes = significant(row["bed_volumes"], "", 3)
    per_kg = (
        say("{kg_per} per kg of medium", kg_per=significant(row["kg_per_kg"], "kg", 3))
        if row["kg_per_kg"] is not None
        else ""
    )
    out = [treated, figure(CHARGES, row, "bed_volumes", say("Bed volumes"), volumes, per_kg)]
    if row["life"] > 1:
        told = say("since it was regenerated on {since}", since=row["since"])
        out.append(figure(CHARGES, row, "since_l", say("Of that"), view.volume(row["since_l"]), told))
    if row["void_l"] is not None:
        basis = say("fuel held between its grains: the next batch's first litres are the last one's")
        out.append(Figure(say("Held back"), view.volume(row["void_l"]), basis))
    if row["drained_l"] is not None:
        out.append(
            Figure(
                say("Drained at the end"), view.volume(row["drained_l"]), say("fuel that ran out of the bed")
            )
        )
    return out


def soap_figures(row: Row) -> list[Figure]:
    """What it took up, of what it can."""
    taken = figure(
        CHARGES,
        row,
        "soap_estimate_g",
        say("Soap taken up"),
        with_unit(row["soap_estimate_g"], "g"),
        taken_basis(row),
    )
    share = share_text(row)
    out = [taken, figure(CHARGES, row, "soap_share_pct", say("Of capacity"), share, capacity_basis(row))]
    if row["exchanged_mol"] is not None:
        out.append(
            figure(
                CHARGES,
                row,
                "exchanged_mol",
                say("Exchanged"),
                significant(row["exchanged_mol"], "mol", 2),
                say("of its acid sites; only regeneration by someone trained brings them back"),
            )
        )
    elif row["soap_per_kg"] is not None:
        out.append(
            figure(
                CHARGES,
                row,
                "soap_per_kg",
                say("Per kg of medium"),
                significant(row["soap_per_kg"], "g/kg", 2),
            )
        )
    if row["passing_low_pct"] is not None:
        basis = say("of the soap before it, in its last measured run")
        out.append(figure(CHARGES, row, "passing_high_pct", say("Passes it"), passing_text(row), basis))
    return out


def passing_text(row: Row) -> str:
    """What share of the soap passes a bed, as far as its two samples tell."""
    low, high = row["passing_low_pct"], row["passing_high_pct"]
    most = significant(high, "%", 2)
    if low <= 0:
        return say("below {most}", most=most)
    least = significant(low, "", 2)
    return most if least == significant(high, "", 2) else say("{least} to {most}", least=least, most=most)


def curve_figures(row: Row) -> list[Figure]:
    """The curve by which it lets soap through, or why there is none."""
    if row["half_g"] is None:
        return [Figure(say("Curve"), say("none"), said(row["curve_missing"] or ""), "breakthrough")]
    ends = range_text(row["half_low_g"], row["half_g"], row["half_high_g"])
    basis = say(
        "held when half of the soap passes; one logistic through {curve_points} runs, its range by bootstrap (90 %)",
        curve_points=number(row["curve_points"]),
    )
    return [figure(CHARGES, row, "half_g", say("Half passes at"), f"{ends}{NARROW}g", basis)]


def share_text(row: Row) -> str:
    """The share of capacity with its range."""
    middle, low, high = (row[f"soap_share{end}_pct"] for end in ("", "_low", "_high"))
    if middle is None:
        return unknown()
    text = significant(middle, "%", 2)
    if low is None or high is None:
        return text
    ends = say("{low} to {high}", low=significant(low, "", 2), high=significant(high, "%", 2))
    return text if significant(low, "%", 2) == significant(high, "%", 2) else f"{text} ({ends})"


def taken_basis(row: Row) -> str:
    """How well the sum is known."""
    sampled = row["runs"] - row["runs_estimated"]
    bounded = row["runs_estimated"] - row["runs_predicted"]
    parts = [
        say(
            "{soap_low}{narrow}g by the samples",
            soap_low=interval(row["soap_low_g"], row["soap_high_g"]),
            narrow=NARROW,
        )
    ]
    if row["runs_estimated"]:
        parts.append(
            say("{sampled} of {run} measured", sampled=sampled, run=count(row["runs"], "run", "runs"))
        )
    if bounded:
        parts.append(say("{bounded} bounded by samples further off", bounded=bounded))
    if row["runs_predicted"]:
        parts.append(say("{runs_predicted} from a predicted feed", runs_predicted=row["runs_predicted"]))
    return "; ".join(parts)


def capacity_basis(row: Row) -> str:
    """Where the capacity comes from."""
    if row["soap_capacity_g"] is None:
        return say("the medium's row gives no capacity, and too few charges were spent to learn it")
    if row["capacity_lives"]:
        ends = interval(row["soap_capacity_low_g"], row["soap_capacity_high_g"])
        return say(
            "of {soap_capacity}{narrow}g, learnt from {capacity_lives} spent charges ({ends}{narrow}g)",
            soap_capacity=number(row["soap_capacity_g"]),
            narrow=NARROW,
            capacity_lives=row["capacity_lives"],
            ends=ends,
        )
    sure = (
        f" ({said(row['capacity_confidence'])})"
        if row["capacity_confidence"]
        else say(", which says nothing of how sure it is")
    )
    beyond = (
        say(
            "; a charge of it has taken up {capacity_at_least}{narrow}g",
            capacity_at_least=number(row["capacity_at_least_g"]),
            narrow=NARROW,
        )
        if row["capacity_at_least_g"] is not None
        else ""
    )
    return say(
        "of {soap_capacity}{narrow}g by the medium's row{sure}{beyond}",
        soap_capacity=number(row["soap_capacity_g"]),
        narrow=NARROW,
        sure=sure,
        beyond=beyond,
    )


def glycerol_leads(row: Row) -> bool:
    """Whether the glycerol ledger is the fuller one."""
    soap, glycerol = row["soap_share_pct"], row["glycerol_share_pct"]
    return glycerol is not None and glycerol > (soap or 0.0)


def glycerol_figures(row: Row) -> list[Figure]:
    """The glycerol ledger of a medium that keeps one."""
    if row["glycerol_capacity_g"] is None:
        return []
    since = (
        say("since the rinse of {last_rinse}", last_rinse=row["last_rinse"])
        if row["last_rinse"]
        else say("since it was packed")
    )
    share = say(
        "{glycerol_share} of capacity {since}, by the inlet content assumed",
        glycerol_share=significant(row["glycerol_share_pct"], "%", 2),
        since=since,
    )
    out = [figure(CHARGES, row, "glycerol_g", say("Glycerol held"), with_unit(row["glycerol_g"], "g"), share)]
    if row["glycerol_batches_left"] is not None:
        basis = say("until it is full, by the inlet content assumed")
        left = significant(row["glycerol_batches_left"], "", 2)
        out.append(figure(CHARGES, row, "glycerol_batches_left", say("Batches to a rinse"), left, basis))
    return out


def cost_figures(row: Row, view: Shown) -> list[Figure]:
    """Medium per thousand litres or gallons, and what it cost."""
    standing = row["unloaded"] is None
    so_far = say("so far; it falls until the charge is unloaded") if standing else ""
    rate = with_unit(view.per_thousand_number(row["media_per_1000_l"]), view.per_thousand_unit, 1)
    out = [figure(CHARGES, row, "media_per_1000_l", say("Medium used"), rate, so_far)]
    if row["cost"] is None:
        lacks = said(row["cost_missing"] or "")
        return [*out, Figure(say("Cost of its medium"), unknown(), "", "media-cost", lacks)] if lacks else out
    over = (
        say(
            "over {expected}: {expected_basis}",
            expected=view.volume(row["expected_l"]),
            expected_basis=said(row["expected_basis"]),
        )
        if row["expected_l"] is not None
        else ""
    )
    estimate = say(", an estimate while in service") if standing else ""
    per_l = view.per_volume(row["cost_per_l"])
    rinses = (
        say(
            "{supplies_cost} more was used to rinse or regenerate it",
            supplies_cost=view.money(row["supplies_cost"]),
        )
        if row["supplies_cost"]
        else say("what its rinses used has no price")
        if row["supplies_cost"] is None
        else ""
    )
    out += [
        figure(CHARGES, row, "cost", say("Cost of its medium"), view.money(row["cost"]), rinses),
        figure(
            CHARGES,
            row,
            "cost_per_l",
            say("Per {volume_word}", volume_word=view.volume_word),
            per_l,
            f"{over}{estimate}",
        ),
        figure(CHARGES, row, "cost_booked", say("Booked to its runs"), view.money(row["cost_booked"])),
    ]
    if row["cost_correction"] is not None:
        basis = say(
            "booked at unloading, {unloaded}; what the batches before it were charged stays",
            unloaded=row["unloaded"],
        )
        out.append(
            figure(
                CHARGES, row, "cost_correction", say("Correction"), view.money(row["cost_correction"]), basis
            )
        )
    return out
