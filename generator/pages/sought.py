"""Other words by which a page is looked for, beside its title and what stands on it by name; nobody needs to read them."""

from __future__ import annotations

from collections.abc import Mapping

from generator.language import term

SOUGHT: Mapping[str, str] = {
    "index.html": term("start overview now next todo help"),
    "batches.html": term(
        "list all yield yields mass balance production produced made amount total litres per year lowest highest worst best bad low failed"
    ),
    "compare.html": term("comparison beside against difference"),
    "quality.html": term(
        "test tests result results laboratory lab report reports bench limit limits specification norm standard fit car engine due missing outside sample"
    ),
    "drift.html": term("control chart charts trend signal alarm drifting"),
    "columns.html": term("bed beds vessel life change replace rinse media resin spent pressure dry wash"),
    "costs.html": term("cost price money litre liter expensive cheaper target summer winter month season"),
    "oil.html": term(
        "stock left inventory lots material methanol catalyst price offers buy pay worth worst supplier vat"
    ),
    "tanks.html": term(
        "tank full level dip content fuel left delivery deliveries drawn member members road heating"
    ),
    "tracing.html": term(
        "trace recall origin came went who got fuel drew delivery deliveries member members winter threshold year tax taxes duty road heating"
    ),
    "downloads.html": term(
        "download csv json parquet excel spreadsheet table export data feed rss news digest"
    ),
    "problems.html": term("error errors warning warnings mistake mistakes check wrong"),
    "explained.html": term("error errors warning message code mend"),
    "glossary.html": term("word words meaning explain help abbreviation"),
    "methods.html": term(
        "formula formulas calculation calculated computed source sources standard limits dose recipe uncertainty accuracy plus minus danger dangerous hazard poison toxic chemical chemicals neighbour neighbours fire"
    ),
}
# of pages that there is one of for each batch
SHEET = term("print paper pdf sheet page")
OWN = term("who contact address people workshop about")
BLANK = term("print paper blank empty sheet form bench")
LABEL = term("print label drum can jerrycan container bottle garage sticker qr code")
PLAN = term("plan planned next weigh out dose recipe sheet print")
