"""What is left of a bed, as a range: soap, batches, fuel and days."""

from __future__ import annotations

from generator.language import say
from generator.ledger.forecast import MOST_DAYS
from generator.pages.parts import Row, figure
from generator.pages.view import Figure
from generator.pages.words import NARROW, Shown, count, number, significant, unknown, with_unit
from generator.tables import CHARGES

MANY = 100  # batches: more of them say that something else will end the bed
YEARS = round(MOST_DAYS / 365)  # beyond them no day is told


def ahead_figures(row: Row, view: Shown) -> list[Figure]:
    """What is left of a bed in service, as ranges."""
    per_batch = [row[f"per_batch_g_{end}"] for end in ("low", "middle", "high")]
    leaves = (
        say("a batch leaves {range_text}{narrow}g in it", range_text=range_text(*per_batch), narrow=NARROW)
        if per_batch[1] is not None
        else ""
    )
    out = [
        figure(
            CHARGES,
            row,
            "left_g_middle",
            say("Soap it can take"),
            ranged(row, "left_g", "g"),
            f"{leaves}{if_held(row)}",
        ),
        figure(CHARGES, row, "batches_left_middle", say("Batches left"), batches_text(row)),
        figure(CHARGES, row, "litres_left_middle", say("Fuel left"), _litres(row, view)),
        figure(CHARGES, row, "until_middle", say("Until"), _until(row), _days(row)),
    ]
    if row["planned"]:
        basis = say("in {batch}", batch=count(int(row["planned"]), "planned batch", "planned batches"))
        out.append(figure(CHARGES, row, "planned_g", say("Coming"), with_unit(row["planned_g"], "g"), basis))
    return out


def if_held(row: Row) -> str:
    """What a figure made from a row's capacity hangs on; nothing where the capacity was learnt."""
    return say("; if the capacity in the medium's row holds") if row["capacity_lives"] == 0 else ""


def ranged(row: Row, name: str, unit: str = "") -> str:
    """A range of a row with its unit."""
    text = range_text(*(row[f"{name}_{end}"] for end in ("low", "middle", "high")))
    return f"{text}{NARROW}{unit}" if unit and text != unknown() else text


def range_text(low: float | None, middle: float | None, high: float | None) -> str:
    """A range as read: its middle, and its ends in brackets."""
    if middle is None:
        return unknown()
    least, most = significant(low, "", 2), significant(high, "", 2)
    ends = (
        say("{least} or more", least=least)
        if high is None
        else say("{least} to {most}", least=least, most=most)
    )
    return significant(middle, "", 2) if least == most else f"{significant(middle, '', 2)} ({ends})"


def batches_text(row: Row) -> str:
    """The batches left with their range; where these are hundreds, soap is not what ends the bed."""
    low = row["batches_left_low"]
    if row["harder"] == "yes" and low is not None:
        return say("{rounded_down} at the rate of its last run", rounded_down=rounded_down(low))
    return (
        say("more than {many}", many=MANY) if low is not None and low > MANY else ranged(row, "batches_left")
    )


def _until(row: Row) -> str:
    if row["harder"] == "yes":
        return say("not told")
    far = row["until_middle"] is None and row["batches_left_middle"] is not None
    return say("over {years} years", years=YEARS) if far else row["until_middle"] or unknown()


def _litres(row: Row, view: Shown) -> str:
    if row["harder"] == "yes" and row["litres_left_low"] is not None:
        hard = rounded_down(view.volume_number(row["litres_left_low"]))
        return say(
            "{hard}{narrow}{volume} at the rate of its last run",
            hard=hard,
            narrow=NARROW,
            volume=view.display["volume"],
        )
    if row["batches_left_low"] is not None and row["batches_left_low"] > MANY:
        least = view.volume_number(row["litres_left_low"])
        return say(
            "more than {rounded_down}{narrow}{volume}",
            rounded_down=rounded_down(least),
            narrow=NARROW,
            volume=view.display["volume"],
        )
    ends = [view.volume_number(row[f"litres_left_{end}"]) for end in ("low", "middle", "high")]
    text = range_text(*ends)
    return f"{text}{NARROW}{view.display['volume']}" if text != unknown() else text


def rounded_down(value: float | None) -> str:
    """A bound in its first two figures, never above what it was."""
    if value is None:
        return unknown()
    step = 10 ** max(len(str(int(value))) - 2, 0)
    return number(value // step * step)


def _days(row: Row) -> str:
    if row["harder"] == "yes":
        return say("the bed before it lets more through than it did, and how long it will is not known")
    if row["until_low"] is None:
        return "" if row["batches_left_middle"] is None else say("at the recent pace")
    if row["until_low"] == row["until_high"]:
        return say("at the recent pace")
    return say(
        "at the recent pace, from {until_low} to {value}",
        until_low=row["until_low"],
        value=row["until_high"] or say("no end that can be told"),
    )
