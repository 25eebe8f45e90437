"""How results are shown: with what they repeat, how well they are known, how they lie to a limit, and where they are from."""

from __future__ import annotations

from collections.abc import Sequence

from generator.formulas.uncertainty import expanded
from generator.language import said, say, term
from generator.pages.parts import Row, Show, batch_link, grouped, plain, table_view, worded
from generator.pages.view import Figure, TableView
from generator.pages.words import NARROW, decimals, limit_shown, number
from generator.tables import STANDING, TESTS

LIKE_LIMIT = 3  # digits of a result that is told in the unit of its limit
DIGIT_ALONE = term("its last digit alone")


def result_text(row: Row) -> str:
    """A result as it was written, and its ± (k = 2) where more than its last digit is known of it.

    Where its limit has another unit, it stands in that too.
    """
    written, unit = said(str(row["written"])), row["unit"]
    value = number(row["value"], decimals(row["value"], LIKE_LIMIT)) if _in_other_unit(row) else ""
    known = row["u"] is not None and row["u_from"] != DIGIT_ALONE and row["property"] != "soap"
    reach = expanded(row["u"]) if known else 0.0
    told = f"±{NARROW}{number(reach, decimals(reach, 2))}" if known else ""
    both = NARROW.join(filter(None, (value, told)))
    return f"{written} ({both}{NARROW}{unit})" if both else written


def _in_other_unit(row: Row) -> bool:
    """Whether the limit that a result is held to has the unit of the property, and the result another one: °F beside °C."""
    limit = row["limit"] or row["own_limit"] or ""
    if row["value"] is None or row["qualifier"] or not limit.endswith(f" {row['unit']}"):
        return False
    found, _, unit = str(row["written"]).partition(" ")
    return bool(unit) and unit != row["unit"] and found != f"{row['value']:g}"


def verdict_text(row: Row) -> str:
    """How a result lies to the limit of the edition; of a bench reading that it is one, of another method that it is."""
    verdict = row["verdict"]
    if verdict == "no limit":
        return say("no limit")
    if row["laboratory"] != "yes":
        return (
            say("bench reading {verdict}", verdict=said(verdict))
            if verdict != "cannot tell"
            else say("bench reading, cannot tell")
        )
    told = said(verdict)
    return told if row["by_method"] == "yes" else say("{verdict}, by another method", verdict=told)


def own_text(row: Row) -> str:
    """How a result lies to the workshop's own line."""
    limit = row["own_limit"]
    return f"{said(row['own_verdict'])} ({limit_shown(limit)})" if limit else say("none")


def property_text(row: Row) -> str:
    """The property; of a retest what it repeats."""
    return (
        say("{property}, retest of {repeats}", property=say(row["property"]), repeats=said(row["repeats"]))
        if row["repeats"]
        else say(row["property"])
    )


def where_text(row: Row) -> str:
    """Where a result is from."""
    return say("laboratory") if row["laboratory"] == "yes" else say("bench")


def report_text(row: Row) -> str:
    """What the laboratory's report is, where it is attached."""
    kind = (row["report"] or "").rpartition(".")[2]
    return {"": "–", "pdf": "PDF"}.get(kind, say("picture"))


def results_table(
    id_: str, caption: str, rows: Sequence[Row], *, of_batch: bool = False, filterable: bool = False
) -> TableView:
    """Results, one row each; on the page of a batch without its name."""
    own = any(row["own_limit"] for row in rows)
    up = "../" if of_batch else ""
    reports = any(row["report"] for row in rows)
    shows = [
        Show("property", say("Property"), property_text),
        Show("date", say("Date"), plain("date")),
        Show("value", say("Result"), result_text),
        Show("limit", say("Limit"), lambda row: limit_shown(row["limit"])),
        Show("verdict", say("Against the limit"), verdict_text),
        *([Show("own_verdict", say("Against our own"), own_text)] if own else []),
        Show("method", say("Method"), worded("method")),
        Show("laboratory", say("Where"), where_text),
        *(
            [Show("report", say("Report"), report_text, href=lambda row: f"{up}{row['report']}")]
            if reports
            else []
        ),
        Show("u_from", say("Known by"), worded("u_from")),
    ]
    named = Show("subject", say("Batch"), plain("subject"), href=lambda row: batch_link(row["subject"]))
    return table_view(
        TESTS, id_, caption, rows, shows if of_batch else [named, *shows], filterable=filterable
    )


def _bench_text(row: Row) -> str:
    """A bench reading beside the limit, in words that no laboratory's result has."""
    told = str(row["bench"])
    return said(told) if told in ("not tested", "no limit") else say("reading {told}", told=said(told))


def standing_table(rows: Sequence[Row]) -> TableView:
    """How every property of one batch stands: results, bench and laboratory apart, and what was not tested."""
    own = any(row["own_limit"] for row in rows)
    edition = next((row["edition"] for row in rows if row["edition"]), "")
    caption = (
        say("Every property of {edition}, and what else was tested", edition=said(edition))
        if edition
        else say("What was tested")
    )
    shows = [
        Show("property", say("Property"), worded("property")),
        Show("limit", say("Limit"), lambda row: limit_shown(row["limit"])),
        Show("written", say("Results"), lambda row: said(row["written"]) if row["written"] else say("none")),
        Show("laboratory", say("Laboratory"), worded("laboratory")),
        Show("bench", say("On the bench"), _bench_text),
        *(
            [
                Show(
                    "own",
                    say("Against our own"),
                    lambda row: (
                        f"{said(row['own'])} ({limit_shown(row['own_limit'])})" if row["own"] else say("none")
                    ),
                )
            ]
            if own
            else []
        ),
    ]
    return table_view(STANDING, "standing", caption, rows, shows)


def against_text(row: Row) -> str:
    """How a result lies to what it is held to: the limit of the edition, the workshop's own, or both."""
    if not row["own_limit"]:
        return verdict_text(row)
    own = say("our own: {verdict}", verdict=said(row["own_verdict"]))
    return f"{verdict_text(row)}; {own}" if row["limit"] else own


def limits_text(row: Row) -> str:
    """What a result is held to, in the same order."""
    own = say("our own: {limit}", limit=limit_shown(row["own_limit"])) if row["own_limit"] else ""
    return "; ".join(filter(None, (limit_shown(row["limit"]) if row["limit"] else "", own))) or "–"


def side_by_side(rows: Sequence[Row]) -> list[Figure]:
    """Results of one batch to be put beside those of another: by property and who found them, in the order written."""
    named = [
        (say("{property}, {where}", property=say(row["property"]), where=where_text(row)), row)
        for row in rows
    ]
    return [
        Figure(
            label,
            "; ".join(result_text(row) for name, row in named if name == label),
            "; ".join(against_text(row) for name, row in named if name == label),
        )
        for label in dict.fromkeys(name for name, _ in named)
    ]


def standing_text(rows: Sequence[Row]) -> str:
    """How one batch stands to the edition of its day and to the workshop's own limits, in numbers; nothing where none was in force."""
    return " ".join(filter(None, (_edition_text(rows), _own_text(rows))))


def _own_text(rows: Sequence[Row]) -> str:
    asked = [row for row in rows if row["own_limit"]]
    if not asked:
        return ""
    found = grouped(asked, "own_state")
    text = say(
        "Of {asked} limits of our own: {within} within, {outside} outside, {unclear} cannot tell, {untested} not tested.",
        asked=len(asked),
        within=len(found.get("within", [])),
        outside=len(found.get("outside", [])),
        unclear=len(found.get("cannot tell", [])),
        untested=len(found.get("not tested", [])),
    )
    if "outside" in found:
        text += " " + say(
            "Outside: {names}.", names=", ".join(say(row["property"]) for row in found["outside"])
        )
    return text


def _edition_text(rows: Sequence[Row]) -> str:
    asked = [row for row in rows if row["limit"]]
    if not asked:
        return ""
    found = {
        state: [say(row["property"]) for row in of_state]
        for state, of_state in grouped(asked, "state").items()
    }
    text = say(
        "Of {asked} properties of {edition}: by laboratories {within} within, {outside} outside, {unclear} cannot tell; {bench} on the bench alone; {untested} not tested.",
        asked=len(asked),
        edition=said(asked[0]["edition"]),
        within=len(found.get("within", [])),
        outside=len(found.get("outside", [])),
        unclear=len(found.get("cannot tell", [])),
        bench=len(found.get("bench only", [])),
        untested=len(found.get("not tested", [])),
    )
    if "outside" in found:
        text += " " + say("Outside: {names}.", names=", ".join(found["outside"]))
    return text
