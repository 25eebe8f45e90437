"""The figures of one charge: fuel, soap, what is left, glycerol, medium."""

from __future__ import annotations

from collections.abc import Sequence

from generator.ledger.forecast import MOST_DAYS
from generator.pages.parts import Row, figure
from generator.pages.view import Figure
from generator.pages.words import NARROW, UNKNOWN, Shown, count, interval, number, significant, with_unit
from generator.tables import CHARGES

MANY = 100  # batches: more of them say that something else will end the bed
YEARS = round(MOST_DAYS / 365)  # beyond them no day is told
SPENT_MEDIA = "Spent media, filters and rags wet with fuel heat themselves: closed metal container, outdoors."
VESSEL_LIMITS = "Pressure limits are the vessel maker's; nothing here is an allowable pressure."
RINSE = "Rinsing a resin makes litres of contaminated methanol: toxic, and its vapour ignites easily."


def cautions(charges: Sequence[Row]) -> list[str]:
    """What to mind where these charges are told of; of rinses where one of them is a resin."""
    resin = any(row["type"] == "resin" for row in charges)
    return [SPENT_MEDIA, *([RINSE] if resin else []), VESSEL_LIMITS]


def fuel_figures(row: Row, view: Shown) -> list[Figure]:
    """What it treated."""
    again = (
        row["passed_l"] - row["fuel_l"] if row["passed_l"] is not None and row["fuel_l"] is not None else 0.0
    )
    once_more = f"; {view.volume(again)} of it once more, counted once" if again else ""
    runs = f"in {count(row['runs'], 'run')}{once_more}"
    treated = figure(CHARGES, row, "fuel_l", "Fuel treated", view.volume(row["fuel_l"]), runs)
    volumes = significant(row["bed_volumes"], "", 3)
    per_kg = (
        f"{significant(row['kg_per_kg'], 'kg', 3)} per kg of medium" if row["kg_per_kg"] is not None else ""
    )
    out = [treated, figure(CHARGES, row, "bed_volumes", "Bed volumes", volumes, per_kg)]
    if row["life"] > 1:
        told = f"since it was regenerated on {row['since']}"
        out.append(figure(CHARGES, row, "since_l", "Of that", view.volume(row["since_l"]), told))
    if row["void_l"] is not None:
        basis = "fuel held between its grains: the next batch's first litres are the last one's"
        out.append(Figure("Held back", view.volume(row["void_l"]), basis))
    if row["drained_l"] is not None:
        out.append(
            Figure("Drained at the end", view.volume(row["drained_l"]), "fuel that ran out of the bed")
        )
    return out


def soap_figures(row: Row) -> list[Figure]:
    """What it took up, of what it can."""
    taken = figure(
        CHARGES,
        row,
        "soap_estimate_g",
        "Soap taken up",
        with_unit(row["soap_estimate_g"], "g"),
        taken_basis(row),
    )
    share = share_text(row)
    out = [taken, figure(CHARGES, row, "soap_share_pct", "Of capacity", share, capacity_basis(row))]
    if row["exchanged_mol"] is not None:
        out.append(
            figure(
                CHARGES,
                row,
                "exchanged_mol",
                "Exchanged",
                significant(row["exchanged_mol"], "mol", 2),
                "of its acid sites; only regeneration by someone trained brings them back",
            )
        )
    elif row["soap_per_kg"] is not None:
        out.append(
            figure(
                CHARGES, row, "soap_per_kg", "Per kg of medium", significant(row["soap_per_kg"], "g/kg", 2)
            )
        )
    if row["passing_low_pct"] is not None:
        basis = "of the soap before it, in its last measured run"
        out.append(figure(CHARGES, row, "passing_high_pct", "Passes it", passing_text(row), basis))
    return out


def passing_text(row: Row) -> str:
    """What share of the soap passes a bed, as far as its two samples tell."""
    low, high = row["passing_low_pct"], row["passing_high_pct"]
    most = significant(high, "%", 2)
    if low <= 0:
        return f"below {most}"
    least = significant(low, "", 2)
    return most if least == significant(high, "", 2) else f"{least} to {most}"


def curve_figures(row: Row) -> list[Figure]:
    """The curve by which it lets soap through, or why there is none."""
    if row["half_g"] is None:
        return [Figure("Curve", "none", row["curve_missing"] or "", "breakthrough")]
    ends = range_text(row["half_low_g"], row["half_g"], row["half_high_g"])
    basis = f"held when half of the soap passes; one logistic through {number(row['curve_points'])} runs, its range by bootstrap (90 %)"
    return [figure(CHARGES, row, "half_g", "Half passes at", f"{ends}{NARROW}g", basis)]


def share_text(row: Row) -> str:
    """The share of capacity with its range."""
    middle, low, high = (row[f"soap_share{end}_pct"] for end in ("", "_low", "_high"))
    if middle is None:
        return UNKNOWN
    text = significant(middle, "%", 2)
    if low is None or high is None:
        return text
    ends = f"{significant(low, '', 2)} to {significant(high, '%', 2)}"
    return text if significant(low, "%", 2) == significant(high, "%", 2) else f"{text} ({ends})"


def taken_basis(row: Row) -> str:
    """How well the sum is known."""
    sampled = row["runs"] - row["runs_estimated"]
    bounded = row["runs_estimated"] - row["runs_predicted"]
    parts = [f"{interval(row['soap_low_g'], row['soap_high_g'])}{NARROW}g by the samples"]
    if row["runs_estimated"]:
        parts.append(f"{sampled} of {count(row['runs'], 'run')} measured")
    if bounded:
        parts.append(f"{bounded} bounded by samples further off")
    if row["runs_predicted"]:
        parts.append(f"{row['runs_predicted']} from a predicted feed")
    return "; ".join(parts)


def capacity_basis(row: Row) -> str:
    """Where the capacity comes from."""
    if row["soap_capacity_g"] is None:
        return "the medium's row gives no capacity, and too few charges were spent to learn it"
    if row["capacity_lives"]:
        ends = interval(row["soap_capacity_low_g"], row["soap_capacity_high_g"])
        return f"of {number(row['soap_capacity_g'])}{NARROW}g, learnt from {row['capacity_lives']} spent charges ({ends}{NARROW}g)"
    sure = (
        f" ({row['capacity_confidence']})"
        if row["capacity_confidence"]
        else ", which says nothing of how sure it is"
    )
    beyond = (
        f"; a charge of it has taken up {number(row['capacity_at_least_g'])}{NARROW}g"
        if row["capacity_at_least_g"] is not None
        else ""
    )
    return f"of {number(row['soap_capacity_g'])}{NARROW}g by the medium's row{sure}{beyond}"


def ahead_figures(row: Row, view: Shown) -> list[Figure]:
    """What is left of a bed in service, as ranges."""
    per_batch = [row[f"per_batch_g_{end}"] for end in ("low", "middle", "high")]
    leaves = f"a batch leaves {range_text(*per_batch)}{NARROW}g in it" if per_batch[1] is not None else ""
    out = [
        figure(
            CHARGES,
            row,
            "left_g_middle",
            "Soap it can take",
            ranged(row, "left_g", "g"),
            f"{leaves}{if_held(row)}",
        ),
        figure(CHARGES, row, "batches_left_middle", "Batches left", batches_text(row)),
        figure(CHARGES, row, "litres_left_middle", "Fuel left", _litres(row, view)),
        figure(CHARGES, row, "until_middle", "Until", _until(row), _days(row)),
    ]
    if row["planned"]:
        basis = f"in {count(int(row['planned']), 'planned batch', 'planned batches')}"
        out.append(figure(CHARGES, row, "planned_g", "Coming", with_unit(row["planned_g"], "g"), basis))
    return out


def if_held(row: Row) -> str:
    """What a figure made from a row's capacity hangs on; nothing where the capacity was learnt."""
    return "; if the capacity in the medium's row holds" if row["capacity_lives"] == 0 else ""


def ranged(row: Row, name: str, unit: str = "") -> str:
    """A range of a row with its unit."""
    text = range_text(*(row[f"{name}_{end}"] for end in ("low", "middle", "high")))
    return f"{text}{NARROW}{unit}" if unit and text != UNKNOWN else text


def range_text(low: float | None, middle: float | None, high: float | None) -> str:
    """A range as read: its middle, and its ends in brackets."""
    if middle is None:
        return UNKNOWN
    least, most = significant(low, "", 2), significant(high, "", 2)
    ends = f"{least} or more" if high is None else f"{least} to {most}"
    return significant(middle, "", 2) if least == most else f"{significant(middle, '', 2)} ({ends})"


def batches_text(row: Row) -> str:
    """The batches left with their range; where these are hundreds, soap is not what ends the bed."""
    low = row["batches_left_low"]
    if row["harder"] == "yes" and low is not None:
        return f"{rounded_down(low)} at the rate of its last run"
    return f"more than {MANY}" if low is not None and low > MANY else ranged(row, "batches_left")


def _until(row: Row) -> str:
    if row["harder"] == "yes":
        return "not told"
    far = row["until_middle"] is None and row["batches_left_middle"] is not None
    return f"over {YEARS} years" if far else row["until_middle"] or UNKNOWN


def _litres(row: Row, view: Shown) -> str:
    if row["harder"] == "yes" and row["litres_left_low"] is not None:
        hard = rounded_down(view.volume_number(row["litres_left_low"]))
        return f"{hard}{NARROW}{view.display['volume']} at the rate of its last run"
    if row["batches_left_low"] is not None and row["batches_left_low"] > MANY:
        least = view.volume_number(row["litres_left_low"])
        return f"more than {rounded_down(least)}{NARROW}{view.display['volume']}"
    ends = [view.volume_number(row[f"litres_left_{end}"]) for end in ("low", "middle", "high")]
    text = range_text(*ends)
    return f"{text}{NARROW}{view.display['volume']}" if text != UNKNOWN else text


def rounded_down(value: float | None) -> str:
    """A bound in its first two figures, never above what it was."""
    if value is None:
        return UNKNOWN
    step = 10 ** max(len(str(int(value))) - 2, 0)
    return number(value // step * step)


def _days(row: Row) -> str:
    if row["harder"] == "yes":
        return "the bed before it lets more through than it did, and how long it will is not known"
    if row["until_low"] is None:
        return "" if row["batches_left_middle"] is None else "at the recent pace"
    return f"at the recent pace, from {row['until_low']} to {row['until_high'] or 'no end that can be told'}"


def glycerol_leads(row: Row) -> bool:
    """Whether the glycerol ledger is the fuller one."""
    soap, glycerol = row["soap_share_pct"], row["glycerol_share_pct"]
    return glycerol is not None and glycerol > (soap or 0.0)


def glycerol_figures(row: Row) -> list[Figure]:
    """The glycerol ledger of a medium that keeps one."""
    if row["glycerol_capacity_g"] is None:
        return []
    since = f"since the rinse of {row['last_rinse']}" if row["last_rinse"] else "since it was packed"
    share = (
        f"{significant(row['glycerol_share_pct'], '%', 2)} of capacity {since}, by the inlet content assumed"
    )
    out = [figure(CHARGES, row, "glycerol_g", "Glycerol held", with_unit(row["glycerol_g"], "g"), share)]
    if row["glycerol_batches_left"] is not None:
        basis = "until it is full, by the inlet content assumed"
        left = significant(row["glycerol_batches_left"], "", 2)
        out.append(figure(CHARGES, row, "glycerol_batches_left", "Batches to a rinse", left, basis))
    return out


def cost_figures(row: Row, view: Shown) -> list[Figure]:
    """Medium per 1000 L, and what it cost."""
    standing = row["unloaded"] is None
    so_far = "so far; it falls until the charge is unloaded" if standing else ""
    rate = with_unit(row["media_per_1000_l"], "kg", 1)
    out = [figure(CHARGES, row, "media_per_1000_l", "Medium per 1000 L", rate, so_far)]
    if row["cost"] is None:
        lacks = row["cost_missing"]
        return [*out, Figure("Cost of its medium", UNKNOWN, "", "media-cost", lacks)] if lacks else out
    over = (
        f"over {view.volume(row['expected_l'])}: {row['expected_basis']}"
        if row["expected_l"] is not None
        else ""
    )
    estimate = ", an estimate while in service" if standing else ""
    per_l = view.per_volume(row["cost_per_l"])
    rinses = (
        f"{view.money(row['supplies_cost'])} more was used to rinse or regenerate it"
        if row["supplies_cost"]
        else "what its rinses used has no price"
        if row["supplies_cost"] is None
        else ""
    )
    out += [
        figure(CHARGES, row, "cost", "Cost of its medium", view.money(row["cost"]), rinses),
        figure(CHARGES, row, "cost_per_l", f"Per {view.volume_word}", per_l, f"{over}{estimate}"),
        figure(CHARGES, row, "cost_booked", "Booked to its runs", view.money(row["cost_booked"])),
    ]
    if row["cost_correction"] is not None:
        basis = f"booked at unloading, {row['unloaded']}; what the batches before it were charged stays"
        out.append(
            figure(CHARGES, row, "cost_correction", "Correction", view.money(row["cost_correction"]), basis)
        )
    return out
