"""The tables of figures, declared before they are filled: name, unit, meaning, needs, and who may see them.

Computation, pages, charts, exports and the data dictionary all use these declarations. `needs` names the columns a
figure is made from; where a figure is unknown, those of them that are empty tell the reader what is missing. `public`
is the allowlist of the shared site: a column without it never reaches that site.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """One column: name, unit (empty for words), meaning, what it is made from, its entry on the methods page.

    An `uncertain` column has a companion `u_NAME` with the standard uncertainty of each value.
    """

    name: str
    unit: str
    meaning: str
    public: bool = False
    needs: tuple[str, ...] = ()
    method: str = ""
    uncertain: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """One table: name, what a row stands for, its columns in order."""

    name: str
    row: str
    columns: tuple[Column, ...]

    def column(self, name: str) -> Column:
        """The declaration of one column; KeyError for a name that is not declared."""
        return self.by_name[name]

    @property
    def by_name(self) -> Mapping[str, Column]:
        """All declarations, by name."""
        return _by_name(self)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the columns, in order."""
        return tuple(column.name for column in self.columns)


@functools.cache
def _by_name(table: Table) -> Mapping[str, Column]:
    return {column.name: column for column in table.columns}


def _with_uncertainties(*columns: Column) -> tuple[Column, ...]:
    """The columns, each uncertain one with its companion behind it."""
    out: list[Column] = []
    for column in columns:
        out.append(column)
        if column.uncertain:
            meaning = f"standard uncertainty of {column.name}"
            needs = (column.name,)
            out.append(Column(f"u_{column.name}", column.unit, meaning, column.public, needs, "uncertainty"))
    return tuple(out)


CURRENCY = "currency of the logbook"
PER_L = "currency of the logbook per L"

BATCHES = Table(
    "batches",
    "one batch",
    _with_uncertainties(
        Column("batch", "", "id of the batch", public=True),
        Column("date", "", "day of the batch", public=True),
        Column(
            "oil_l",
            "L",
            "oil put in, at the reference temperature",
            public=True,
            method="volume-at-reference",
            uncertain=True,
        ),
        Column(
            "oil_kg",
            "kg",
            "oil put in",
            public=True,
            needs=("oil_l",),
            method="volume-at-reference",
            uncertain=True,
        ),
        Column("oil_lots", "", "lots of oil used"),
        Column(
            "oil_sources",
            "",
            "where the oil came from, by the maker's own public aliases; empty without any",
            public=True,
        ),
        Column(
            "acid_value_mg_koh_per_g",
            "mg KOH/g",
            "acid value of the oil, from the titration",
            public=True,
            needs=("titration",),
            method="acid-value",
            uncertain=True,
        ),
        Column(
            "ffa_pct",
            "%",
            "free fatty acid of the oil, counted as the acid the settings name (oleic unless set)",
            public=True,
            needs=("titration",),
            method="free-fatty-acid",
            uncertain=True,
        ),
        Column(
            "treated_acid_value_mg_koh_per_g",
            "mg KOH/g",
            "acid value after an acid pre-treatment, mineral acid that stayed counted too",
            public=True,
            method="acid-value",
            uncertain=True,
        ),
        Column(
            "titration_spread_pct",
            "%",
            "range of the titration readings over their mean",
            public=True,
            needs=("titration",),
            method="acid-value",
        ),
        Column("oil_water_mg_per_kg", "mg/kg", "water in the oil before the reaction", public=True),
        Column(
            "triglyceride_g_per_mol",
            "g/mol",
            "mean molar mass of the oil, as triglyceride",
            public=True,
            needs=("oil_profile",),
            method="molar-mass",
            uncertain=True,
        ),
        Column(
            "oil_basis",
            "",
            "where the molar mass comes from: profile, saponification value, or a typical used oil",
            public=True,
            needs=(),
            method="",
            uncertain=False,
        ),
        Column("catalyst_of", "", "the base or methoxide used", public=True),
        Column("catalyst_g", "g", "catalyst as weighed, all stages", public=True),
        Column(
            "dose_neutralising_g",
            "g",
            "catalyst that neutralises the free acid, as weighed",
            public=True,
            needs=("acid_value_mg_koh_per_g", "oil_kg"),
            method="dose",
            uncertain=True,
        ),
        Column(
            "dose_base_g",
            "g",
            "catalyst by the maker's base rate, as weighed",
            public=True,
            needs=("dose_rule", "oil_l"),
            method="dose",
            uncertain=True,
        ),
        Column(
            "dose_g",
            "g",
            "catalyst by the maker's rule, both terms, as weighed",
            public=True,
            needs=("dose_neutralising_g", "dose_base_g"),
            method="dose",
            uncertain=True,
        ),
        Column(
            "dose_difference_pct",
            "%",
            "catalyst weighed against the rule: the first stage against its share where the rule is split, else all stages",
            public=True,
            needs=("dose_g", "catalyst_g"),
            method="dose",
        ),
        Column("dose_compared", "", "what that difference is about: first stage, or all stages", public=True),
        Column(
            "methanol_l",
            "L",
            "methanol put in, at the reference temperature",
            public=True,
            method="volume-at-reference",
        ),
        Column(
            "methanol_kg",
            "kg",
            "methanol put in, with the water it carries",
            public=True,
            needs=("methanol_l",),
            method="volume-at-reference",
        ),
        Column(
            "methanol_pct_v_v",
            "% vol",
            "methanol by volume of oil",
            public=True,
            needs=("methanol_l", "oil_l"),
            method="methanol-ratio",
            uncertain=True,
        ),
        Column(
            "methanol_molar_ratio",
            "mol/mol",
            "methanol to triglyceride",
            public=True,
            needs=("methanol_kg", "oil_kg", "oil_profile"),
            method="methanol-ratio",
            uncertain=True,
        ),
        Column("stages", "", "stages of the reaction", public=True),
        Column("first_dropout_ml", "mL", "drop-out at the first conversion check", public=True),
        Column("last_dropout_ml", "mL", "drop-out at the last conversion check", public=True),
        Column("emulsion", "", "whether an emulsion was noted", public=True),
        Column(
            "ester_theory_kg",
            "kg",
            "ester that the neutral part of the oil could give",
            public=True,
            needs=("oil_kg", "ffa_pct", "oil_profile"),
            method="ester-in-theory",
            uncertain=True,
        ),
        Column(
            "glycerol_theory_kg",
            "kg",
            "pure glycerol that the neutral part of the oil could give",
            public=True,
            needs=("oil_kg", "ffa_pct", "oil_profile"),
            method="glycerol-in-theory",
            uncertain=True,
        ),
        Column(
            "methanol_consumed_kg",
            "kg",
            "methanol that would end in the ester at full conversion",
            public=True,
            needs=("oil_kg", "ffa_pct", "oil_profile"),
            method="methanol-consumed",
            uncertain=True,
        ),
        Column(
            "soap_theory_kg",
            "kg",
            "soap that the free acid of the oil makes",
            public=True,
            needs=("oil_kg", "ffa_pct"),
            method="soap-from-acid",
            uncertain=True,
        ),
        Column(
            "water_theory_kg",
            "kg",
            "water that comes of neutralising the free acid; none with a methoxide",
            public=True,
            needs=("oil_kg", "ffa_pct"),
            method="soap-from-acid",
            uncertain=True,
        ),
        Column(
            "glycerol_layer_kg",
            "kg",
            "layer drawn off: glycerol with soap, catalyst and methanol",
            public=True,
            uncertain=True,
            method="volume-at-reference",
        ),
        Column(
            "methanol_recovered_l",
            "L",
            "methanol taken back, at the reference temperature",
            public=True,
            method="volume-at-reference",
        ),
        Column(
            "fed_l",
            "L",
            "fuel fed to the columns, at the reference temperature",
            public=True,
            uncertain=True,
            method="volume-at-reference",
        ),
        Column(
            "fuel_l",
            "L",
            "finished fuel, at the reference temperature",
            public=True,
            needs=("finished volume",),
            method="volume-at-reference",
            uncertain=True,
        ),
        Column(
            "fuel_kg",
            "kg",
            "finished fuel",
            public=True,
            needs=("fuel_l",),
            method="volume-at-reference",
            uncertain=True,
        ),
        Column(
            "heel_before_l",
            "L",
            "fuel of other batches that stood in the beds when this one came",
            public=True,
            method="column-heel",
        ),
        Column("heel_before_of", "", "whose it was", public=True),
        Column(
            "media_kg_per_1000_l",
            "kg per 1000 L",
            "medium that its runs used per 1000 L fed, by what each charge was expected to treat",
            public=True,
            needs=("fed_l",),
            method="media-consumption",
        ),
        Column(
            "heel_l",
            "L",
            "fuel left in the columns by this run (fed minus finished); below zero: released",
            public=True,
            needs=("fed_l", "fuel_l"),
            method="column-heel",
            uncertain=True,
        ),
        Column(
            "heel_fresh_l",
            "L",
            "fuel that beds that were fresh, rinsed or drained should keep: void share times bed volume",
            public=True,
            needs=("medium of each bed",),
            method="column-heel",
        ),
        Column(
            "made_kg",
            "kg",
            "fuel before the columns: what was fed to them, or the finished fuel where no run is written",
            public=True,
            needs=("fed_l", "fuel_l"),
            method="volume-at-reference",
        ),
        Column(
            "yield_volume_pct",
            "%",
            "finished fuel by volume of oil, both at the reference temperature",
            public=True,
            needs=("fuel_l", "oil_l"),
            method="yield",
            uncertain=True,
        ),
        Column(
            "yield_ceiling_pct",
            "%",
            "volume yield at full conversion without any loss",
            public=True,
            needs=("oil_l", "ffa_pct"),
            method="yield-ceiling",
            uncertain=True,
        ),
        Column(
            "yield_mass_pct",
            "%",
            "fuel before the columns by mass of oil",
            public=True,
            needs=("made_kg", "oil_kg"),
            method="yield",
            uncertain=True,
        ),
        Column(
            "yield_theory_pct",
            "%",
            "fuel before the columns against the ester in theory",
            public=True,
            needs=("made_kg", "ester_theory_kg"),
            method="yield",
            uncertain=True,
        ),
        Column(
            "settling_loss_kg",
            "kg",
            "ester in theory that did not reach the columns",
            public=True,
            needs=("ester_theory_kg", "made_kg"),
            method="settling-loss",
            uncertain=True,
        ),
        Column(
            "closure_pct",
            "%",
            "mass out (fuel before the columns, layer, methanol taken back) over mass in (oil, methanol, catalyst)",
            public=True,
            needs=("made_kg", "glycerol_layer_kg", "methanol_kg", "catalyst_g", "oil_kg"),
            method="mass-closure",
            uncertain=True,
        ),
        Column(
            "unaccounted_kg",
            "kg",
            "mass in less mass out",
            public=True,
            needs=("closure_pct",),
            method="mass-closure",
            uncertain=True,
        ),
        Column(
            "soap_feed_mg_per_kg",
            "mg/kg",
            "soap fed to the columns",
            public=True,
            needs=("soap sample of the feed",),
            method="soap",
            uncertain=True,
        ),
        Column(
            "soap_feed_limit_mg_per_kg",
            "mg/kg",
            "detection limit of that titration",
            public=True,
            method="soap-detection-limit",
        ),
        Column(
            "soap_feed_detected",
            "",
            "yes; no: below the detection limit; at least, at most, between: a bound, as its readings are",
            public=True,
        ),
        Column(
            "soap_feed_low_mg_per_kg",
            "mg/kg",
            "soap fed to the columns, at least",
            public=True,
            method="soap",
        ),
        Column(
            "soap_feed_high_mg_per_kg",
            "mg/kg",
            "soap fed to the columns, at most; unknown where nothing bounds it",
            public=True,
            method="soap",
        ),
        Column(
            "soap_between_mg_per_kg",
            "mg/kg",
            "soap between the columns",
            public=True,
            needs=("soap sample between the columns",),
            method="soap",
            uncertain=True,
        ),
        Column(
            "soap_between_limit_mg_per_kg",
            "mg/kg",
            "detection limit of that titration",
            public=True,
            method="soap-detection-limit",
        ),
        Column(
            "soap_between_detected",
            "",
            "yes; no: below the detection limit; at least, at most, between: a bound, as its readings are",
            public=True,
        ),
        Column(
            "soap_between_low_mg_per_kg",
            "mg/kg",
            "soap between the columns, at least",
            public=True,
            method="soap",
        ),
        Column(
            "soap_between_high_mg_per_kg",
            "mg/kg",
            "soap between the columns, at most; unknown where nothing bounds it",
            public=True,
            method="soap",
        ),
        Column(
            "soap_product_mg_per_kg",
            "mg/kg",
            "soap in the product",
            public=True,
            needs=("soap sample of the product",),
            method="soap",
            uncertain=True,
        ),
        Column(
            "soap_product_limit_mg_per_kg",
            "mg/kg",
            "detection limit of that titration",
            public=True,
            method="soap-detection-limit",
        ),
        Column(
            "soap_product_detected",
            "",
            "yes; no: below the detection limit; at least, at most, between: a bound, as its readings are",
            public=True,
        ),
        Column(
            "soap_product_low_mg_per_kg", "mg/kg", "soap in the product, at least", public=True, method="soap"
        ),
        Column(
            "soap_product_high_mg_per_kg",
            "mg/kg",
            "soap in the product, at most; unknown where nothing bounds it",
            public=True,
            method="soap",
        ),
        Column(
            "soap_whole_low_mg_per_kg",
            "mg/kg",
            "soap in all of the fuel, with what went round the columns or ran in another part, at least",
            public=True,
            method="soap-whole",
        ),
        Column(
            "soap_whole_high_mg_per_kg",
            "mg/kg",
            "soap in all of the fuel, at most; unknown where a part has no sample",
            public=True,
            method="soap-whole",
        ),
        Column("round_kg", "kg", "fuel that met no bed", public=True, method="soap-whole"),
        Column(
            "catalyst_feed_mg_per_kg",
            "mg/kg",
            "catalyst left in the feed, as the base of the batch; needs a titration with two indicators",
            public=True,
            needs=(),
            method="residual-catalyst",
            uncertain=True,
        ),
        Column(
            "catalyst_feed_limit_mg_per_kg",
            "mg/kg",
            "detection limit of that titration",
            public=True,
            needs=(),
            method="soap-detection-limit",
            uncertain=False,
        ),
        Column(
            "catalyst_feed_detected",
            "",
            "yes; no: below the detection limit; at least, at most, between: a bound, as its readings are",
            public=True,
            needs=(),
            method="",
            uncertain=False,
        ),
        Column(
            "catalyst_feed_low_mg_per_kg",
            "mg/kg",
            "catalyst left in the feed, at least",
            public=True,
            needs=(),
            method="residual-catalyst",
        ),
        Column(
            "catalyst_feed_high_mg_per_kg",
            "mg/kg",
            "catalyst left in the feed, at most; unknown where nothing bounds it",
            public=True,
            needs=(),
            method="residual-catalyst",
        ),
        Column(
            "catalyst_product_mg_per_kg",
            "mg/kg",
            "catalyst left in the product, as the base of the batch; needs a titration with two indicators",
            public=True,
            needs=(),
            method="residual-catalyst",
            uncertain=True,
        ),
        Column(
            "catalyst_product_limit_mg_per_kg",
            "mg/kg",
            "detection limit of that titration",
            public=True,
            needs=(),
            method="soap-detection-limit",
            uncertain=False,
        ),
        Column(
            "catalyst_product_detected",
            "",
            "yes; no: below the detection limit; at least, at most, between: a bound, as its readings are",
            public=True,
            needs=(),
            method="",
            uncertain=False,
        ),
        Column(
            "catalyst_product_low_mg_per_kg",
            "mg/kg",
            "catalyst left in the product, at least",
            public=True,
            needs=(),
            method="residual-catalyst",
        ),
        Column(
            "catalyst_product_high_mg_per_kg",
            "mg/kg",
            "catalyst left in the product, at most; unknown where nothing bounds it",
            public=True,
            needs=(),
            method="residual-catalyst",
        ),
        Column(
            "acid_before_mg_koh_per_g",
            "mg KOH/g",
            "acid value of the fuel fed to the columns",
            public=True,
            needs=(),
            method="acid-value",
            uncertain=True,
        ),
        Column(
            "acid_rise_low_mg_koh_per_g",
            "mg KOH/g",
            "rise of the acid value from soap exchanged by the resin, at least",
            public=True,
            needs=("samples before and behind each resin",),
            method="acid-rise",
            uncertain=False,
        ),
        Column(
            "acid_rise_high_mg_koh_per_g",
            "mg KOH/g",
            "the same, at most",
            public=True,
            needs=("samples before and behind each resin",),
            method="acid-rise",
            uncertain=False,
        ),
        Column(
            "acid_predicted_low_mg_koh_per_g",
            "mg KOH/g",
            "acid value to expect behind the columns, at least; without one of the feed, the rise alone",
            public=True,
            needs=("acid_rise_low_mg_koh_per_g",),
            method="acid-rise",
            uncertain=False,
        ),
        Column(
            "acid_predicted_high_mg_koh_per_g",
            "mg KOH/g",
            "the same, at most; unknown without an acid value of the feed",
            public=True,
            needs=("acid_before_mg_koh_per_g", "acid_rise_high_mg_koh_per_g"),
            method="acid-rise",
            uncertain=False,
        ),
        Column(
            "acid_measured_mg_koh_per_g",
            "mg KOH/g",
            "acid value of the finished fuel, last result",
            public=True,
            needs=(),
            method="acid-value",
            uncertain=True,
        ),
        Column(
            "acid_agreement",
            "",
            "measured against predicted: as predicted, higher, lower",
            public=True,
            needs=("acid_measured_mg_koh_per_g", "acid_predicted_low_mg_koh_per_g"),
            method="acid-rise",
            uncertain=False,
        ),
        Column("tank", "", "tank the fuel went into"),
        Column("energy_kwh", "kWh", "energy used"),
        Column("labour_h", "h", "hours worked"),
        Column(
            "assumed_temperatures",
            "",
            "entries whose volume was taken at the assumed temperature",
            public=True,
        ),
        Column("public_note", "", "note shown to everyone", public=True),
        Column("note", "", "private note"),
    ),
)

LOTS = Table(
    "lots",
    "one lot",
    (
        Column("lot", "", "id of the lot"),
        Column("material", "", "id of the material"),
        Column("kind", "", "oil, catalyst, alcohol, medium, other"),
        Column("received", "", "day of receipt"),
        Column("source", "", "where it came from"),
        Column("code", "", "the maker's public alias"),
        Column("vat", "", "yes: a vat, into which lots are poured"),
        Column("unit", "", "L at the reference temperature, or kg"),
        Column("quantity", "L or kg", "as received", method="volume-at-reference"),
        Column("lost", "L or kg", "losses before use"),
        Column("counted_difference", "L or kg", "counted minus book, all counts"),
        Column("drawn", "L or kg", "drawn by batches, columns and titrants", method="volume-at-reference"),
        Column("poured", "L or kg", "poured into vats", method="volume-at-reference"),
        Column("returned", "L or kg", "went back to the seller", method="volume-at-reference"),
        Column(
            "left", "L or kg", "what the book says is left", needs=("quantity",), method="volume-at-reference"
        ),
        Column("paid_total", CURRENCY, "paid, without freight", needs=("paid",)),
        Column("freight", CURRENCY, "freight that was paid"),
        Column("fetched_km", "km", "driven by the workshop to fetch it"),
        Column("driving", CURRENCY, "what that cost at the rate of its day", needs=("collection_rate",)),
        Column("fetched_h", "h", "hours of fetching it; they count in the labour of its batches alone"),
        Column(
            "returned_cost",
            CURRENCY,
            "what it cost that went back",
            needs=("paid", "quantity"),
            method="unit-cost",
        ),
        Column("refunded", CURRENCY, "paid back for what went back to the seller"),
        Column(
            "returned_gain",
            CURRENCY,
            "paid back less what it cost that went back, below zero a loss; in no batch's cost",
            needs=("returned_cost",),
            method="unit-cost",
        ),
        Column(
            "rate_days", "d", "age of the oldest rate of exchange that its cost rests on, on the day it came"
        ),
        Column(
            "unit_cost",
            "currency per L or kg",
            "paid, freight and driving over what was usable (received minus losses); of a vat the mean of what is in it",
            needs=("paid", "quantity"),
            method="unit-cost",
        ),
        Column(
            "acid_value_mg_koh_per_g",
            "mg KOH/g",
            "acid value on arrival; of a vat, of what is in it",
            needs=("titration",),
            method="acid-value",
        ),
        Column("water_mg_per_kg", "mg/kg", "water, last result"),
        Column("batches", "", "batches that an oil went into", needs=("batches",)),
        Column(
            "compared_per_l",
            PER_L,
            "by which lots of oil are compared: oil, methanol, catalyst and energy of the batches it went into, weighted by its share of their oil",
            needs=("batches",),
            method="lots-compared",
        ),
        Column("rank", "", "place of a lot of oil by that, the cheapest first", method="lots-compared"),
        Column(
            "single_per_l",
            PER_L,
            "costs and credits written for single batches among these, weighted likewise",
            needs=("batches",),
            method="lots-compared",
        ),
        Column(
            "fuel_cost_per_l",
            PER_L,
            "mean cost with media per litre of the batches it went into, weighted by its share of their oil",
            needs=("batches",),
            method="cost-per-litre",
        ),
        Column(
            "yield_volume_pct",
            "%",
            "mean volume yield of the batches it went into, weighted likewise",
            needs=("batches",),
            method="yield",
        ),
        Column("note", "", "private note"),
    ),
)

CHARGES = Table(
    "charges",
    "one filling of one vessel",
    (
        Column("charge", "", "id: purifier, vessel, number", public=True),
        Column("purifier", "", "id of the purifier", public=True),
        Column("vessel", "", "vessel", public=True),
        Column("position", "", "lead, lag, or the place in the line", public=True),
        Column("medium", "", "id of the medium", public=True),
        Column("type", "", "absorbent or resin", public=True),
        Column("lot", "", "lot of the medium"),
        Column("packed", "", "day it was packed", public=True),
        Column("unloaded", "", "day it was unloaded; empty while in service", public=True),
        Column("reason", "", "why it was unloaded", public=False),
        Column("mass_kg", "kg", "medium, on the basis written", public=True),
        Column("bed_l", "L", "bed volume in service", public=True),
        Column("runs", "", "runs through it", public=True),
        Column(
            "fuel_l",
            "L",
            "fuel treated, at the reference temperature",
            public=True,
            needs=("fed_l",),
            method="bed-volumes",
        ),
        Column("fuel_kg", "kg", "fuel treated", public=True, needs=("fed_l",), method="volume-at-reference"),
        Column(
            "passed_l", "L", "all that went through it, fuel that was fed again counted again", public=True
        ),
        Column(
            "bed_volumes",
            "",
            "all that went through it in bed volumes",
            public=True,
            needs=("passed_l", "bed_l"),
            method="bed-volumes",
        ),
        Column("soap_low_g", "g", "soap taken up, at least", public=True, method="soap-held"),
        Column(
            "soap_high_g",
            "g",
            "soap taken up, at most; empty where a feed sample is missing",
            public=True,
            needs=("soap_feed",),
            method="soap-held",
        ),
        Column(
            "soap_estimate_g",
            "g",
            "soap taken up, runs without samples estimated by the share the bed usually takes",
            public=True,
            method="soap-held",
        ),
        Column("capacity_confidence", "", "how sure the medium's row is of its capacities", public=True),
        Column("runs_estimated", "", "runs estimated in that way", public=True),
        Column("runs_predicted", "", "of them runs whose feed was predicted", public=True),
        Column(
            "soap_per_kg", "g/kg", "soap taken up per kg of medium, estimate", public=True, method="soap-held"
        ),
        Column(
            "exchanged_mol", "mol", "soap exchanged by a resin, estimate", public=True, method="soap-held"
        ),
        Column("kg_per_kg", "kg/kg", "fuel treated per kg of medium", public=True, needs=("fuel_kg",)),
        Column("void_l", "L", "fuel that the bed holds between its grains", public=True),
        Column("drained_l", "L", "fuel that ran out of it when it was unloaded", public=True),
        Column("regenerations", "", "regenerations so far", public=True),
        Column("life", "", "which life it is in: 1, and one more behind every regeneration", public=True),
        Column("since", "", "date when that life began: packed, or last regenerated", public=True),
        Column("since_l", "L", "fuel treated since then", public=True),
        Column("soap_capacity_low_g", "g", "capacity, at least", public=True, method="soap-held"),
        Column(
            "soap_capacity_g",
            "g",
            "capacity: learnt from finished charges, or by the medium's row",
            public=True,
            method="soap-held",
        ),
        Column("soap_capacity_high_g", "g", "capacity, at most", public=True, method="soap-held"),
        Column(
            "capacity_at_least_g",
            "g",
            "the most that a charge of this medium took up, scaled to this one, where it lies above its capacity",
            public=True,
        ),
        Column(
            "capacity_lives", "", "finished charges it was learnt from; 0 for the medium's row", public=True
        ),
        Column(
            "soap_share_low_pct",
            "%",
            "least taken up over the highest capacity",
            public=True,
            needs=("soap_estimate_g", "soap_capacity_g"),
            method="soap-held",
        ),
        Column(
            "soap_share_pct",
            "%",
            "estimate over capacity",
            public=True,
            needs=("soap_estimate_g", "soap_capacity_g"),
            method="soap-held",
        ),
        Column(
            "soap_share_high_pct",
            "%",
            "most taken up over the lowest capacity",
            public=True,
            needs=("soap_estimate_g", "soap_capacity_g"),
            method="soap-held",
        ),
        Column(
            "passing_low_pct",
            "%",
            "soap behind it over soap before it, in its last measured run, at least",
            public=True,
            method="soap-held",
        ),
        Column("passing_high_pct", "%", "the same, at most", public=True, method="soap-held"),
        Column(
            "glycerol_g",
            "g",
            "glycerol taken up since packing or rinsing, from the assumed inlet content",
            public=True,
            needs=("glycerol_inlet",),
            method="glycerol-held",
        ),
        Column(
            "glycerol_capacity_g", "g", "capacity by the medium's row", public=True, method="glycerol-held"
        ),
        Column(
            "glycerol_share_pct",
            "%",
            "taken up over capacity",
            public=True,
            needs=("glycerol_g", "glycerol_capacity_g"),
            method="glycerol-held",
        ),
        Column("rinses", "", "methanol rinses so far", public=True),
        Column("last_rinse", "", "day of the last rinse", public=True),
        Column(
            "media_per_1000_l",
            "kg per 1000 L",
            "medium per 1000 L of fuel treated, so far",
            public=True,
            needs=("mass_kg", "fuel_l"),
            method="media-consumption",
        ),
        Column(
            "left_g_low",
            "g",
            "soap it can still take up: low",
            public=True,
            needs=("soap_share_pct",),
            method="bed-forecast",
        ),
        Column(
            "left_g_middle",
            "g",
            "soap it can still take up: middle",
            public=True,
            needs=("soap_share_pct",),
            method="bed-forecast",
        ),
        Column(
            "left_g_high",
            "g",
            "soap it can still take up: high; empty where nothing bounds it",
            public=True,
            needs=("soap_share_pct",),
            method="bed-forecast",
        ),
        Column(
            "per_batch_g_low",
            "g",
            "soap that a batch leaves in this place, of the last batches: low",
            public=True,
            method="bed-forecast",
        ),
        Column(
            "per_batch_g_middle",
            "g",
            "soap that a batch leaves in this place, of the last batches: middle",
            public=True,
            method="bed-forecast",
        ),
        Column(
            "per_batch_g_high",
            "g",
            "soap that a batch leaves in this place, of the last batches: high; empty where nothing bounds it",
            public=True,
            method="bed-forecast",
        ),
        Column(
            "batches_left_low",
            "",
            "batches it will still treat: low",
            public=True,
            needs=("soap_share_pct",),
            method="bed-forecast",
        ),
        Column(
            "batches_left_middle",
            "",
            "batches it will still treat: middle",
            public=True,
            needs=("soap_share_pct",),
            method="bed-forecast",
        ),
        Column(
            "batches_left_high",
            "",
            "batches it will still treat: high; empty where nothing bounds it",
            public=True,
            needs=("soap_share_pct",),
            method="bed-forecast",
        ),
        Column(
            "litres_left_low",
            "L",
            "fuel it will still treat: low",
            public=True,
            needs=("soap_share_pct",),
            method="bed-forecast",
        ),
        Column(
            "litres_left_middle",
            "L",
            "fuel it will still treat: middle",
            public=True,
            needs=("soap_share_pct",),
            method="bed-forecast",
        ),
        Column(
            "litres_left_high",
            "L",
            "fuel it will still treat: high; empty where nothing bounds it",
            public=True,
            needs=("soap_share_pct",),
            method="bed-forecast",
        ),
        Column(
            "until_low",
            "",
            "day it is used up at the recent pace: earliest",
            public=True,
            method="bed-forecast",
        ),
        Column(
            "until_middle",
            "",
            "day it is used up at the recent pace: usual",
            public=True,
            method="bed-forecast",
        ),
        Column(
            "until_high",
            "",
            "day it is used up at the recent pace: latest; empty where nothing bounds it",
            public=True,
            method="bed-forecast",
        ),
        Column(
            "glycerol_batches_left",
            "",
            "batches until its glycerol ledger is full, by the inlet content assumed",
            public=True,
            method="glycerol-held",
        ),
        Column("planned", "", "planned batches that will go through it"),
        Column(
            "planned_g", "g", "soap that they leave in it, estimate by their volume", method="bed-forecast"
        ),
        Column("like_flow_l_per_h", "L/h", "median flow of its runs", public=True, method="bed-volumes"),
        Column(
            "drop_rise",
            "",
            "drop of the last runs over that of the first, at like flow and temperature",
            public=True,
            method="pressure-drop",
        ),
        Column("drop_missing", "", "what that needs and does not have", public=True),
        Column("fouled", "", "yes where that is two or more", public=True),
        Column(
            "clean_low_kpa",
            "kPa",
            "drop of a clean bed at that flow: low",
            public=True,
            method="pressure-drop",
        ),
        Column(
            "clean_high_kpa",
            "kPa",
            "drop of a clean bed at that flow: high",
            public=True,
            method="pressure-drop",
        ),
        Column(
            "half_low_g", "g", "held when half of the soap passes: low", public=True, method="breakthrough"
        ),
        Column(
            "half_g",
            "g",
            "held when half of the soap passes, by the curve",
            public=True,
            method="breakthrough",
        ),
        Column(
            "half_high_g", "g", "held when half of the soap passes: high", public=True, method="breakthrough"
        ),
        Column("steepness_per_g", "1/g", "steepness of the curve", public=True, method="breakthrough"),
        Column("curve_points", "", "runs the curve was fitted to", public=True),
        Column("curve_missing", "", "why there is no curve", public=True),
        Column("state", "", "in words", public=True),
        Column("action", "", "what its state asks for", public=True),
        Column("harder", "", "yes where its last run left far more in it than most do", public=True),
        Column("cost", CURRENCY, "medium of this charge", needs=("lot",), method="media-cost"),
        Column("cost_missing", "", "what its cost needs and does not have"),
        Column("supplies_cost", CURRENCY, "what its rinses and regenerations used", method="media-cost"),
        Column(
            "expected_l",
            "L",
            "fuel it treated (unloaded) or is expected to treat (in service)",
            needs=("fuel_l",),
            method="media-cost",
        ),
        Column("expected_basis", "", "why that much"),
        Column(
            "cost_per_l",
            PER_L,
            "cost over that fuel; an estimate while in service",
            needs=("cost", "expected_l"),
            method="media-cost",
        ),
        Column(
            "cost_booked",
            CURRENCY,
            "cost charged to its runs, by what was expected at each",
            needs=("cost",),
            method="media-cost",
        ),
        Column(
            "cost_correction",
            CURRENCY,
            "cost less what was booked, at unloading; empty while in service",
            needs=("cost",),
            method="media-cost",
        ),
    ),
)

WHAT_IF = Table(
    "what_if",
    "one bed in service, were the feed lower in soap",
    (
        Column("charge", "", "charge in service, first in its line", public=True),
        Column("lower_mg_per_kg", "mg/kg", "soap less in every feed than in the last ones", public=True),
        Column(
            "batches_left_low", "", "batches it would still treat: low", public=True, method="bed-forecast"
        ),
        Column(
            "batches_left_middle",
            "",
            "batches it would still treat: middle",
            public=True,
            method="bed-forecast",
        ),
        Column(
            "batches_left_high", "", "batches it would still treat: high", public=True, method="bed-forecast"
        ),
        Column("litres_left_low", "L", "fuel it would still treat: low", public=True, method="bed-forecast"),
        Column(
            "litres_left_middle", "L", "fuel it would still treat: middle", public=True, method="bed-forecast"
        ),
        Column(
            "litres_left_high", "L", "fuel it would still treat: high", public=True, method="bed-forecast"
        ),
        Column("life_l", "L", "fuel of a whole life at that feed", public=True, method="bed-forecast"),
        Column(
            "media_per_1000_l",
            "kg per 1000 L",
            "medium per 1000 L over that life",
            public=True,
            method="media-consumption",
        ),
        Column("cost_per_l", PER_L, "cost of the medium over that life", method="media-cost"),
    ),
)
COMING = Table(
    "coming",
    "one planned batch through one bed in service",
    (
        Column("batch", "", "id of the planned batch"),
        Column("charge", "", "charge in service"),
        Column("vessel", "", "vessel"),
        Column("position", "", "lead, lag, or the place in the line"),
        Column("litres", "L", "its oil, taken for as much fuel"),
        *(
            Column(f"{name}_{end}", "g", f"{meaning}: {end}", method="bed-forecast")
            for name, meaning in (
                ("brings_g", "soap that it will leave in the bed, by the recent batches"),
                ("left_g", "soap that the bed can still take"),
            )
            for end in ("low", "middle", "high")
        ),
        Column("cost", CURRENCY, "medium for it, at what a litre costs in this charge", method="media-cost"),
    ),
)
OFFER_BEDS = Table(
    "offer_beds",
    "one open offer through one bed in service",
    (
        Column("offer", "", "id of the offer"),
        Column("charge", "", "charge in service"),
        Column("vessel", "", "vessel"),
        Column("position", "", "lead, lag, or the place in the line"),
        Column("fuel_l", "L", "fuel to expect of the offer", method="offer"),
        *(
            Column(f"{name}_{end}", unit, f"{meaning}: {end}", needs=("fuel_l",), method="bed-forecast")
            for name, unit, meaning in (
                ("litres_left", "L", "fuel that the bed can still treat, by its last batches"),
                (
                    "share_pct",
                    "%",
                    "the offer's part of that; above 100 the bed is spent before its fuel is through",
                ),
            )
            for end in ("low", "middle", "high")
        ),
        Column(
            "charge_share_pct",
            "%",
            "the offer's part of all the fuel that the charge is spread over",
            needs=("fuel_l",),
            method="media-cost",
        ),
        Column("cost", CURRENCY, "medium for it, at what a litre costs in this charge", method="media-cost"),
    ),
)
EVENTS = Table(
    "events",
    "one thing done to a purifier",
    (
        Column("date", "", "day", public=True),
        Column("purifier", "", "id of the purifier", public=True),
        Column("event", "", "pack, rinse, regenerate, rotate, rest or unload", public=True),
        Column("vessel", "", "vessel; empty for a rest", public=True),
        Column("charge", "", "charge it was done to", public=True),
        Column("position", "", "where the charge stands after it", public=True),
        Column(
            "spent",
            "",
            "whether the charge had taken up what it could, for unload and regenerate",
            public=True,
        ),
        Column("until", "", "last day of a rest", public=True),
        Column("drained_l", "L", "fuel that ran out of the beds", public=True),
        Column("reason", "", "why it was unloaded"),
        Column("used", "", "what it was rinsed or regenerated with, and its lot"),
        Column("note", "", "note in the purifier's file"),
    ),
)
RUNS = Table(
    "runs",
    "one batch through one vessel",
    (
        Column("batch", "", "id of the batch", public=True),
        Column("number", "", "which run of the batch", public=True),
        Column("purifier", "", "id of the purifier", public=True),
        Column("vessel", "", "vessel", public=True),
        Column("position", "", "lead, lag, or the place in the line", public=True),
        Column("charge", "", "charge in service", public=True),
        Column("start", "", "begin, workshop's time", public=True),
        Column("hours", "h", "duration of the run", public=True),
        Column(
            "fed_l", "L", "fuel fed, at the reference temperature", public=True, method="volume-at-reference"
        ),
        Column(
            "flow_l_per_h", "L/h", "mean flow", public=True, needs=("fed_l", "hours"), method="bed-volumes"
        ),
        Column(
            "bed_volumes_per_h",
            "1/h",
            "mean flow over bed volume",
            public=True,
            needs=("flow_l_per_h",),
            method="bed-volumes",
        ),
        Column(
            "contact_min",
            "min",
            "empty-bed contact time",
            public=True,
            needs=("flow_l_per_h",),
            method="contact-time",
        ),
        Column("inlet_kpa", "kPa", "highest inlet pressure read", public=True),
        Column("drop_kpa", "kPa", "largest drop of pressure across the bed, to the next gauge", public=True),
        Column(
            "like_drop_kpa",
            "kPa",
            "that drop carried to the charge's usual flow and 20 °C",
            public=True,
            needs=("drop_kpa", "gauge_temperature", "flow_l_per_h"),
            method="pressure-drop",
        ),
        Column("velocity_m_per_h", "m/h", "velocity in the empty vessel", public=True, method="contact-time"),
        Column("soap_in_low_mg_per_kg", "mg/kg", "soap in, at least", public=True, method="soap"),
        Column("soap_in_high_mg_per_kg", "mg/kg", "soap in, at most", public=True, method="soap"),
        Column("soap_out_low_mg_per_kg", "mg/kg", "soap out, at least", public=True, method="soap"),
        Column("soap_out_high_mg_per_kg", "mg/kg", "soap out, at most", public=True, method="soap"),
        Column(
            "soap_low_g",
            "g",
            "soap taken up, at least",
            public=True,
            needs=("soap_feed", "fed_l"),
            method="soap-held",
        ),
        Column(
            "soap_high_g",
            "g",
            "soap taken up, at most",
            public=True,
            needs=("soap_feed", "fed_l"),
            method="soap-held",
        ),
        Column(
            "glycerol_g",
            "g",
            "glycerol taken up, from the assumed inlet content",
            public=True,
            needs=("glycerol_inlet", "fed_l"),
            method="glycerol-held",
        ),
        Column("estimate_g", "g", "soap taken up, estimate", public=True, method="soap-held"),
        Column(
            "basis",
            "",
            "measured; bounded by samples further off; predicted from the feeds of other batches; unknown",
            public=True,
        ),
        Column("life", "", "life of the charge that the run belongs to", public=True),
        Column("load_g", "g", "soap in this charge after the run, estimate", public=True, method="soap-held"),
        Column("load_share_pct", "%", "that over the capacity", public=True, method="soap-held"),
        Column(
            "glycerol_load_g",
            "g",
            "glycerol in this charge after the run",
            public=True,
            method="glycerol-held",
        ),
    ),
)

# Results are public: an honest record of what was measured, by what method, is what the shared site is for. So are the
# limits they are held to, the workshop's own among them: without them a reader could not judge the comparison.
TESTS = Table(
    "tests",
    "one result",
    (
        Column("subject", "", "batch", public=True),
        Column("date", "", "day of the result, or of the batch", public=True),
        Column("property", "", "property", public=True),
        Column(
            "value", "", "number in `unit`; for a censored result its bound; empty for words", public=True
        ),
        Column("qualifier", "", "< or > for a censored result", public=True),
        Column("word", "", "result in words", public=True),
        Column("written", "", "result as it was written", public=True),
        Column("unit", "", "unit of value and limits", public=True),
        Column(
            "u", "", "standard uncertainty of the value, in `unit`", public=True, method="result-uncertainty"
        ),
        Column("u_from", "", "what the uncertainty was taken from", public=True),
        Column("method", "", "method written", public=True),
        Column(
            "laboratory",
            "",
            "yes for a laboratory's result; a bench test is not a standard's method",
            public=True,
        ),
        Column("by_method", "", "yes where the method is one that the limit names", public=True),
        Column("report", "", "where the laboratory's report lies on this site"),
        Column(
            "repeat",
            "",
            "1 for the first result of this property on the bench, or by a laboratory, 2 for the retest ...",
            public=True,
        ),
        Column("repeats", "", "the results before it that it repeats, as they were written", public=True),
        Column("edition", "", "standard, edition and grade in force on the day of the batch", public=True),
        Column("limit", "", "limit of the specification, in its own unit", public=True),
        Column("limit_low", "", "lowest value allowed by the specification", public=True),
        Column("limit_high", "", "highest value allowed by the specification", public=True),
        Column("verdict", "", "within, outside, cannot tell, or no limit", public=True, method="verdict"),
        Column("own_edition", "", "the workshop's own limits in force on the day of the batch", public=True),
        Column("own_limit", "", "the workshop's own limit", public=True),
        Column("own_low", "", "lowest value it allows", public=True),
        Column("own_high", "", "highest value it allows", public=True),
        Column("own_verdict", "", "the same against the workshop's own limit", public=True, method="verdict"),
    ),
)

# Public for the same reason; made of the tests, the limits and the public batches alone, and of nothing private.
STANDING = Table(
    "standing",
    "one property of one batch",
    (
        Column("batch", "", "id of the batch", public=True),
        Column("date", "", "day of the batch", public=True),
        Column("property", "", "property", public=True),
        Column("edition", "", "standard, edition and grade in force on that day", public=True),
        Column("limit", "", "limit of the specification, in its own unit", public=True),
        Column("results", "", "how many results are written", public=True),
        Column("written", "", "all of them, in the order written", public=True),
        Column(
            "laboratory",
            "",
            "the laboratory's results against the limit, each in its order; not tested; or no limit",
            public=True,
            method="verdict",
        ),
        Column(
            "bench",
            "",
            "the bench readings beside the limit, which are no standard's method; not tested; or no limit",
            public=True,
            method="verdict",
        ),
        Column("own_limit", "", "the workshop's own limit", public=True),
        Column(
            "own",
            "",
            "all results against the workshop's own limit, each in its order",
            public=True,
            method="verdict",
        ),
        Column(
            "own_state",
            "",
            "in one word, the worst of its results against the workshop's own limit: outside, cannot tell, within, not tested; empty without one",
            public=True,
            method="verdict",
        ),
        Column(
            "state",
            "",
            "in one word, the worst of its results: outside, cannot tell, within, bench only, not tested, not asked",
            public=True,
            method="verdict",
        ),
    ),
)

# Public: a share of what is public, and above all what was not tested.
COVERAGE = Table(
    "coverage",
    "one property",
    (
        Column("property", "", "property", public=True),
        Column("limit", "", "limit of the edition in force for the newest batch", public=True),
        Column("own_limit", "", "the workshop's own limit in force for the newest batch", public=True),
        Column("results", "", "how many results are written", public=True),
        Column("batches", "", "batches that are written", public=True),
        Column("bench", "", "batches with a bench reading of it", public=True),
        Column("bench_pct", "%", "their share", public=True),
        Column("laboratory", "", "batches with a laboratory's result of it", public=True),
        Column("laboratory_pct", "%", "their share", public=True),
        Column("last_bench", "", "day of the last bench reading", public=True),
        Column("last_laboratory", "", "day of the last laboratory's result", public=True),
        Column(
            "since_laboratory", "", "batches since the last one that a laboratory tested for it", public=True
        ),
    ),
)

# Public: made of results that are public.
AGREEMENT = Table(
    "agreement",
    "one property that was measured on the bench and by a laboratory on the same batch",
    (
        Column("property", "", "property", public=True),
        Column("unit", "", "unit of the differences", public=True),
        Column("pairs", "", "batches with both, each the first result that is a number", public=True),
        Column("median", "", "median of bench less laboratory", public=True, method="agreement"),
        Column(
            "low", "", "lower end of the median, 95 %; empty under six pairs", public=True, method="agreement"
        ),
        Column(
            "high",
            "",
            "upper end of the median, 95 %; empty under six pairs",
            public=True,
            method="agreement",
        ),
        Column("least", "", "smallest difference", public=True),
        Column("most", "", "largest difference", public=True),
        Column("above", "", "pairs in which the bench is above", public=True),
        Column("below", "", "pairs in which the bench is below", public=True),
        Column("by_chance", "", "how likely chance makes it so one-sided", public=True, method="agreement"),
        Column("bounds", "", "pairs of which one is only a bound", public=True),
        Column("contradicted", "", "of these, pairs that cannot both be right", public=True),
    ),
)

# Private: they count from the latest day of the whole logbook, and from lots, charges and tanks.
DUE = Table(
    "due",
    "one property of a rule for testing",
    (
        Column("property", "", "property"),
        Column("rule", "", "rule of the logbook"),
        Column(
            "asked", "", "how often the rule asked: whole rows of batches, first batches, or parts of tanks"
        ),
        Column("done", "", "of these, how often it was tested"),
        Column("last", "", "last batch that was tested"),
        Column("last_day", "", "day of the last result"),
        Column("batches_since", "", "batches since then"),
        Column("days_since", "d", "days since then"),
        Column("due", "", "why it is due; empty where it is not"),
    ),
)

STORED = Table(
    "stored",
    "one batch in one tank, first in, first out",
    (
        Column("tank", "", "tank"),
        Column("batch", "", "id of the batch"),
        Column("filled", "", "day it was filled in"),
        Column("volume_l", "L", "what is left of it, at the reference temperature"),
        Column("age_days", "d", "days since it was filled in"),
        Column("acid_value", "", "last acid value, as written"),
        Column("acid_day", "", "its day"),
        Column("stability", "", "last oxidation stability, as written"),
        Column("retests", "", "results of this batch from after it was filled in"),
    ),
)

# Public: facts of published standards with how sure they are, and the workshop's own lines that results are held to.
LIMITS = Table(
    "limits",
    "one limit of an edition that the logbook chooses",
    (
        Column("edition", "", "standard, edition and grade, or the workshop's own edition", public=True),
        Column("own", "", "yes for the workshop's own limits", public=True),
        Column("from", "", "day from which batches are held to it; empty from the beginning", public=True),
        Column("until", "", "the last day on which it holds; empty for the one in force", public=True),
        Column("property", "", "property", public=True),
        Column("limit", "", "the limit, in its own unit", public=True),
        Column("low", "", "lowest value allowed, in `unit`", public=True),
        Column("high", "", "highest value allowed, in `unit`", public=True),
        Column("unit", "", "unit of low and high", public=True),
        Column("methods", "", "methods that the standard names", public=True),
        Column("condition", "", "condition it holds at", public=True),
        Column("instead", "", "what stands in for a result of this property", public=True),
        Column("confidence", "", "how sure the figure is", public=True),
        Column("source", "", "where it was read", public=True),
        Column("note", "", "what else is to be known of it", public=True),
    ),
)

# Private: rows begin anew where the oil or a bed changed, which tells of lots, and values of private oil stand behind them.
DRIFT = Table(
    "drift",
    "one point of a control chart",
    (
        Column("series", "", "figure that is followed"),
        Column("purifier", "", "purifier of the batch; empty for none"),
        Column("method", "", "method of the values"),
        Column("piece", "", "number of the piece between two changes"),
        Column("begins", "", "change after which the piece begins, at its first point"),
        Column("batch", "", "id of the batch"),
        Column("date", "", "day of the batch"),
        Column("value", "", "value, or its bound"),
        Column("qualifier", "", "< or > for a bound"),
        Column("unit", "", "unit of the value and its limits"),
        Column("first", "", "yes for a point that the limits were frozen from"),
        Column("centre", "", "centre line", method="control-chart"),
        Column(
            "lower", "", "lower control limit, which is no limit of a specification", method="control-chart"
        ),
        Column(
            "upper", "", "upper control limit, which is no limit of a specification", method="control-chart"
        ),
        Column(
            "moving_range",
            "",
            "difference to the point before, of natural logarithms where the series has them",
            method="control-chart",
        ),
        Column("range_upper", "", "upper control limit of the difference", method="control-chart"),
        Column("average", "", "weighted mean so far", method="weighted-mean"),
        Column("average_lower", "", "lower limit of the weighted mean", method="weighted-mean"),
        Column("average_upper", "", "upper limit of the weighted mean", method="weighted-mean"),
        Column(
            "sum_high", "", "cumulative sum above the centre, in standard deviations", method="cumulative-sum"
        ),
        Column(
            "sum_low", "", "cumulative sum below the centre, in standard deviations", method="cumulative-sum"
        ),
        Column("signals", "", "what calls at this point", method="run-rules"),
    ),
)

PIECES = Table(
    "pieces",
    "one piece of a control chart, between two changes",
    (
        Column("series", "", "figure that is followed"),
        Column("purifier", "", "purifier of the batches; empty for none"),
        Column("method", "", "method of the values"),
        Column("piece", "", "number of the piece"),
        Column("begins", "", "change after which it begins"),
        Column("from", "", "first batch"),
        Column("until", "", "last batch"),
        Column("points", "", "points"),
        Column("bounds", "", "points that are only a bound"),
        Column("unit", "", "unit of centre, limits and mean"),
        Column("centre", "", "centre line", method="control-chart"),
        Column("lower", "", "lower control limit", method="control-chart"),
        Column("upper", "", "upper control limit", method="control-chart"),
        Column("basis", "", "how centre and limits were found, or why there are none"),
        Column(
            "mean", "", "mean of all its points, bounds counted by Kaplan and Meier", method="not-detected"
        ),
        Column("called", "", "points at which something calls"),
        Column("first_call", "", "batch of the first of them"),
    ),
)

COSTS = Table(
    "costs",
    "one batch",
    (
        Column("batch", "", "id of the batch"),
        Column("date", "", "day of the batch"),
        Column(
            "fuel_l",
            "L",
            "finished fuel, at the reference temperature",
            needs=("finished volume",),
            method="volume-at-reference",
        ),
        Column("oil", CURRENCY, "oil, from the lots named", needs=("oil price",), method="cost-per-litre"),
        Column(
            "methanol",
            CURRENCY,
            "methanol, from the lots named, less what was recovered at the value stated for it",
            needs=("methanol price",),
            method="cost-per-litre",
        ),
        Column(
            "catalyst",
            CURRENCY,
            "catalyst, from the lots named",
            needs=("catalyst price",),
            method="cost-per-litre",
        ),
        Column(
            "energy",
            CURRENCY,
            "energy at the electricity price in force",
            needs=("kWh of the batch", "electricity price"),
            method="cost-per-litre",
        ),
        Column("other", CURRENCY, "costs written in the batch; zero where none is", method="cost-per-litre"),
        Column(
            "credits",
            CURRENCY,
            "what the batch brought in beside its fuel, below zero; zero where nothing is written",
            method="cost-per-litre",
        ),
        Column(
            "media",
            CURRENCY,
            "share of the charges it ran through; 0 where it is said to be unpolished, or no column is described",
            needs=("its run, or the word that there was none", "price and expected life of each bed"),
            method="media-cost",
        ),
        Column(
            "overheads",
            CURRENCY,
            "share of costs that all fuel bears; zero where none is of its time",
            needs=("fuel_l",),
            method="overheads",
        ),
        Column(
            "labour",
            CURRENCY,
            "hours at the workshop's rate, those of fetching what it drew counted in",
            needs=("hours of the batch", "labour rate"),
            method="cost-per-litre",
        ),
        Column(
            "fetching",
            CURRENCY,
            "of that, the hours of fetching what it drew",
            needs=("labour rate",),
            method="unit-cost",
        ),
        Column("oil_per_l", PER_L, "oil", needs=("oil", "fuel_l"), method="cost-per-litre"),
        Column("methanol_per_l", PER_L, "methanol", needs=("methanol", "fuel_l"), method="cost-per-litre"),
        Column("catalyst_per_l", PER_L, "catalyst", needs=("catalyst", "fuel_l"), method="cost-per-litre"),
        Column("energy_per_l", PER_L, "energy", needs=("energy", "fuel_l"), method="cost-per-litre"),
        Column("other_per_l", PER_L, "other", needs=("other", "fuel_l"), method="cost-per-litre"),
        Column("credits_per_l", PER_L, "credits, below zero", needs=("fuel_l",), method="cost-per-litre"),
        Column("media_per_l", PER_L, "media", needs=("media", "fuel_l"), method="cost-per-litre"),
        Column("overheads_per_l", PER_L, "overheads", needs=("fuel_l",), method="overheads"),
        Column("labour_per_l", PER_L, "labour", needs=("labour", "fuel_l"), method="cost-per-litre"),
        Column(
            "cash_per_l",
            PER_L,
            "oil, methanol, catalyst, energy and other, less credits",
            needs=("oil_per_l", "methanol_per_l", "catalyst_per_l", "energy_per_l", "other_per_l"),
            method="cost-per-litre",
        ),
        Column(
            "with_media_per_l",
            PER_L,
            "cash, media and overheads",
            needs=("cash_per_l", "media_per_l", "overheads_per_l"),
            method="cost-per-litre",
        ),
        Column(
            "with_labour_per_l",
            PER_L,
            "cash, media, overheads and labour",
            needs=("with_media_per_l", "labour_per_l"),
            method="cost-per-litre",
        ),
        Column(
            "known_per_l",
            PER_L,
            "the parts that are known: with media it cost no less",
            needs=("fuel_l",),
            method="cost-per-litre",
        ),
        Column(
            "known_cost",
            CURRENCY,
            "the parts with media that are known, in money; of a batch without fuel all that is told of it",
            method="failed-batches",
        ),
        Column("failed", "", "yes where it gave no fuel at all", method="failed-batches"),
        Column("missing", "", "what the unknown parts lack"),
        Column("media_estimated", "", "yes while a charge it ran through is in service"),
        Column("electricity_days", "d", "age of the price of electricity in force"),
        Column("diesel_per_l", PER_L, "pump diesel in force"),
        Column("diesel_days", "d", "age of that price"),
        Column(
            "per_diesel_l",
            "currency of the logbook per L of diesel equivalent",
            "cash, media and overheads, by net heat",
            needs=("with_media_per_l",),
            method="diesel-equivalent",
        ),
        Column(
            "per_mj",
            "currency of the logbook per MJ",
            "cash, media and overheads, per megajoule of net heat",
            needs=("with_media_per_l",),
            method="diesel-equivalent",
        ),
        Column(
            "odd_parts",
            "",
            "parts that are under 0.5 % or over 80 % of the cost with media, with their share; none of nothing",
            needs=("with_media_per_l",),
        ),
        Column("hours", "h", "hours worked on the batch"),
        Column("fetching_hours", "h", "hours of fetching what it drew", method="unit-cost"),
        Column(
            "saving_per_l",
            PER_L,
            "price of the diesel with the same net heat, less the cost with media",
            needs=("with_media_per_l", "diesel_per_l"),
            method="saving",
        ),
        Column(
            "saving_per_h",
            "currency of the logbook per hour",
            "that of the batch over the hours worked and those of fetching",
            needs=("saving_per_l", "hours"),
            method="saving",
        ),
    ),
)

OVERHEADS = Table(
    "overheads",
    "one cost that all fuel bears",
    (
        Column("overhead", "", "what it is for"),
        Column("since", "", "first day on which fuel bears it"),
        Column("until", "", "last day on which fuel bears it, where one is written"),
        Column("cost", CURRENCY, "the whole of it"),
        Column("over_l", "L", "finished fuel that is to bear it"),
        Column("per_l", PER_L, "what a litre bears", method="overheads"),
        Column("borne_l", "L", "finished fuel that has borne it", method="overheads"),
        Column("borne", CURRENCY, "what the batches have borne", method="overheads"),
        Column(
            "left",
            CURRENCY,
            "what no batch has borne yet; behind its last day it stays in no batch's cost",
            method="overheads",
        ),
    ),
)

ACID_YIELD = Table(
    "acid_yield",
    "one batch with a titration and a yield",
    (
        Column("batch", "", "id of the batch"),
        Column("purifier", "", "purifier behind it, that of its last first run"),
        Column("catalyst_of", "", "its base"),
        Column("stages", "", "stages of its reaction"),
        Column("pretreated", "", "yes where acid went before the base"),
        Column("acid_value_mg_koh_per_g", "mg KOH/g", "acid value of its oil", method="acid-value"),
        Column("yield_mass_pct", "%", "fuel before the columns by mass of oil", method="yield"),
    ),
)
ACID_SLOPES = Table(
    "acid_slopes",
    "batches that were worked alike",
    (
        Column("purifier", "", "purifier behind them, that of the last first run"),
        Column("catalyst_of", "", "the base"),
        Column("stages", "", "stages of the reaction"),
        Column("pretreated", "", "yes where acid went before the base"),
        Column("batches", "", "batches with a titration and a yield"),
        Column(
            "pct_per_mg",
            "% by mass per mg KOH/g",
            "slope: the median of the slopes between any two",
            method="acid-and-yield",
        ),
        Column(
            "pct_per_mg_low",
            "% by mass per mg KOH/g",
            "lower end of the slope, by ranks in 95 of 100 cases",
            method="acid-and-yield",
        ),
        Column("pct_per_mg_high", "% by mass per mg KOH/g", "upper end of it", method="acid-and-yield"),
        Column(
            "by_chance", "", "how likely that much or more comes of chance alone", method="acid-and-yield"
        ),
    ),
)
OFFERS = Table(
    "offers",
    "one offer of oil",
    (
        Column("offer", "", "id of the offer"),
        Column("material", "", "id of the material"),
        Column("offered", "", "day it was made"),
        Column("valid_until", "", "last day it stands"),
        Column(
            "state", "", "open, expired, bought, declined, to come where the pages count from an earlier day"
        ),
        Column("lot", "", "lot it was bought as"),
        Column("quantity_l", "L", "oil offered, at the reference temperature", method="volume-at-reference"),
        Column("asked_per_l", PER_L, "price asked, at the reference temperature", method="offer"),
        Column(
            "haulage",
            CURRENCY,
            "there and back at the collection rate",
            needs=("distance", "collection_rate"),
            method="offer",
        ),
        Column(
            "acid_value_mg_koh_per_g", "mg KOH/g", "acid value", needs=("titration",), method="acid-value"
        ),
        Column(
            "ffa_pct",
            "%",
            "free fatty acid, counted as the acid the settings name (oleic unless set)",
            needs=("titration",),
            method="free-fatty-acid",
        ),
        Column("water_mg_per_kg", "mg/kg", "water, last result"),
        Column(
            "usable_l",
            "L",
            "oil after what lots lost in preparation, all together, or after the water and solids found where these are more",
            needs=("quantity_l",),
            method="offer",
        ),
        Column("lost_by", "", "which of the two it is, and how much"),
        Column(
            "per_usable_kg",
            "currency per kg",
            "price asked and haulage, for a kilogram that can be used",
            needs=("asked_per_l",),
            method="offer",
        ),
        Column(
            "soap_kg",
            "kg",
            "soap that neutralising its acid makes, in all layers",
            needs=("titration", "dose_rule"),
            method="soap-from-acid",
        ),
        Column(
            "dose_g_per_l",
            "g/L",
            "catalyst per litre of oil by the maker's rule, as pure base",
            needs=("titration", "dose_rule"),
            method="dose",
        ),
        Column("fuel_low_l", "L", "fuel to expect, low", needs=("usable_l",), method="offer"),
        Column("fuel_l", "L", "fuel to expect", needs=("usable_l",), method="offer"),
        Column("fuel_high_l", "L", "fuel to expect, high", needs=("usable_l",), method="offer"),
        Column("yield_basis", "", "own record, or chemistry"),
        Column(
            "other_cost_per_l",
            PER_L,
            "what a litre of fuel costs beside the oil: median of recent batches, the catalyst by this oil's dose",
            needs=("batches",),
            method="offer",
        ),
        Column(
            "cost_low_per_l",
            PER_L,
            "cost of a litre of fuel with media, low",
            needs=("fuel_high_l", "other_cost_per_l"),
            method="offer",
        ),
        Column(
            "cost_per_l",
            PER_L,
            "cost of a litre of fuel with media",
            needs=("fuel_l", "other_cost_per_l"),
            method="offer",
        ),
        Column(
            "cost_high_per_l",
            PER_L,
            "cost of a litre of fuel with media, high",
            needs=("fuel_low_l", "other_cost_per_l"),
            method="offer",
        ),
        Column(
            "holds_pct",
            "%",
            "in how many of a hundred offers that range of the cost should hold",
            needs=("cost_low_per_l", "cost_high_per_l"),
            method="offer-range",
        ),
        Column(
            "cash_low_per_l", PER_L, "the same without media, low", needs=("cost_low_per_l",), method="offer"
        ),
        Column(
            "cash_per_l",
            PER_L,
            "cost of a litre of fuel without media",
            needs=("cost_per_l",),
            method="offer",
        ),
        Column(
            "cash_high_per_l",
            PER_L,
            "the same without media, high",
            needs=("cost_high_per_l",),
            method="offer",
        ),
        Column(
            "labour_low_per_l",
            PER_L,
            "the same with media and labour, low",
            needs=("cost_low_per_l", "labour_rate"),
            method="offer",
        ),
        Column(
            "labour_per_l",
            PER_L,
            "cost of a litre of fuel with media and labour",
            needs=("cost_per_l", "labour_rate"),
            method="offer",
        ),
        Column(
            "labour_high_per_l",
            PER_L,
            "the same with media and labour, high",
            needs=("cost_high_per_l", "labour_rate"),
            method="offer",
        ),
        Column(
            "lasts_days",
            "d",
            "how long all oil lasts with it, at the use of the last 90 days; of an open offer",
            needs=("usable_l",),
            method="cover",
        ),
        Column(
            "room_l",
            "L",
            "what the vessels for oil still hold with it; below zero it does not fit; of an open offer",
            needs=("oil_storage",),
            method="cover",
        ),
        Column(
            "cost_per_mj",
            "currency per MJ",
            "cost of a megajoule of net heat, with media",
            needs=("cost_per_l",),
            method="diesel-equivalent",
        ),
        Column(
            "cost_per_diesel_l",
            PER_L,
            "cost of as much fuel as has the net heat of a litre of diesel, with media",
            needs=("cost_per_l",),
            method="diesel-equivalent",
        ),
        Column("target_per_l", PER_L, "the workshop's target for a litre of fuel"),
        Column(
            "highest_price_per_l",
            PER_L,
            "price per litre offered at which a litre of fuel costs the target",
            needs=("target_per_l", "fuel_l", "other_cost_per_l"),
            method="highest-price",
        ),
        Column(
            "highest_low_per_l",
            PER_L,
            "price at which even the high end of the cost with media is the target",
            needs=("target_per_l", "fuel_low_l"),
            method="highest-price",
        ),
        Column(
            "highest_high_per_l",
            PER_L,
            "price at which the low end of the cost with media is the target",
            needs=("target_per_l", "fuel_high_l"),
            method="highest-price",
        ),
        Column("diesel_per_l", PER_L, "price of diesel at the pump, in force on the day it is judged by"),
        Column("diesel_days", "d", "age of that price on that day"),
        Column(
            "rate_days",
            "d",
            "age of the rate of exchange at which the price asked was carried, on the day of the offer",
        ),
        Column(
            "highest_at_pump_per_l",
            PER_L,
            "price per litre offered at which the fuel costs what diesel of the same net heat does",
            needs=("diesel_per_l", "fuel_l", "other_cost_per_l"),
            method="highest-price",
        ),
        Column(
            "saving_per_l",
            PER_L,
            "what a litre of the fuel would save against the pump, no labour counted",
            needs=("diesel_per_l", "cost_per_l"),
            method="saving",
        ),
        Column("advice", "", "drying or pre-treatment by the workshop's own thresholds"),
        Column("unknown", "", "what was not tested"),
        Column(
            "came_cost_per_l", PER_L, "what fuel made of the lot bought did cost, with media", method="offer"
        ),
        Column(
            "came_single_per_l",
            PER_L,
            "of it costs and credits of single batches, as a bill of a laboratory",
            method="offer",
        ),
        Column("came_yield_pct", "%", "yield by volume of the batches with it", method="yield"),
        Column(
            "missed_by_per_l", PER_L, "that cost less the forecast of the day it was bought", method="offer"
        ),
        Column("missed_price_per_l", PER_L, "of it by price, way and loss in preparation", method="offer"),
        Column("missed_yield_per_l", PER_L, "of it by the yield", method="offer"),
        Column(
            "missed_others_per_l",
            PER_L,
            "of it by other oil in the same batches, or by the method oil is costed by",
            method="offer",
        ),
        Column(
            "missed_beside_per_l",
            PER_L,
            "of it by methanol, catalyst, energy, media and overheads of its batches",
            method="offer",
        ),
        Column(
            "missed_single_per_l",
            PER_L,
            "of it by costs and credits of single batches, as a bill of a laboratory",
            method="offer",
        ),
        Column(
            "guess_per_l",
            PER_L,
            "plain guess of that day: the mean cost with media of all batches before, whatever the oil",
            method="offer-score",
        ),
        Column(
            "guess_median_per_l",
            PER_L,
            "the same by the median of all batches before",
            method="offer-score",
        ),
        Column(
            "guess_without_per_l",
            PER_L,
            "the mean of all batches before without costs and credits of single batches",
            method="offer-score",
        ),
        Column("unlike", "", "what forecast and outcome do not share"),
        Column("within", "", "yes where that cost lies in the range that was told"),
    ),
)

TANKS = Table(
    "tanks",
    "one event of one tank",
    (
        Column("tank", "", "id of the tank"),
        Column("date", "", "when"),
        Column("event", "", "fill, draw or dip"),
        Column("batch", "", "batch that filled it"),
        Column("volume_l", "L", "amount, at the reference temperature", method="volume-at-reference"),
        Column("content_l", "L", "content after the event, by the book", method="volume-at-reference"),
        Column("dipped_l", "L", "content by the dip", method="dip"),
        Column(
            "u_dipped_l",
            "L",
            "standard uncertainty of that, from reading the stick alone",
            needs=("dipped_l",),
            method="dip",
        ),
        Column("difference_l", "L", "dip minus book", needs=("dipped_l",), method="dip"),
        Column("capacity_l", "L", "volume of the shell", method="dip"),
        Column("heel_l", "L", "what lies below the outlet", method="dip"),
        Column("to", "", "who drew"),
        Column("use", "", "what for"),
    ),
)

DIPS = Table(
    "dips",
    "one dip of one tank, and what lies below it",
    (
        Column("tank", "", "id of the tank"),
        Column("shape", "", "its shape as written, inner measures"),
        Column("dip", "", "the dip from the lowest point inside, in the unit the tank is measured in"),
        Column("dip_cm", "cm", "the same", method="dip"),
        Column(
            "below_l", "L", "what lies below it, at the temperature of the fuel in the tank", method="dip"
        ),
        Column("share_pct", "%", "of the volume of the shell", method="dip"),
    ),
)

TANK_LOTS = Table(
    "tank_lots",
    "one lot of a tank: what it holds from one fill to the next",
    (
        Column("tank_lot", "", "the tank and the day of the fill"),
        Column("tank", "", "id of the tank"),
        Column("filled", "", "day of the fill"),
        Column("by", "", "batch that filled it, or where the fuel came from"),
        Column("before_l", "L", "what was in the tank before the fill, by the book", method="tank-blend"),
        Column("content_l", "L", "what was in it behind the fill, by the book", method="tank-blend"),
        Column("drawn_l", "L", "drawn until the next fill", method="volume-at-reference"),
        Column("left_l", "L", "what the book says is left, of the last lot of a tank", method="tank-blend"),
        Column(
            "cloud_point_c",
            "°C",
            "estimate from the cloud points of its batches; empty where they are not known of 99 % of it",
            method="blend-cloud-point",
        ),
        Column("cloud_low_c", "°C", "lowest cloud point among its parts", method="blend-cloud-point"),
        Column("cloud_high_c", "°C", "highest cloud point among its parts", method="blend-cloud-point"),
        Column(
            "cloud_known_pct", "%", "share of it whose cloud point was measured", method="blend-cloud-point"
        ),
    ),
)
BLENDS = Table(
    "blends",
    "one part of one lot of a tank",
    (
        Column("tank_lot", "", "the tank and the day of the fill"),
        Column("tank", "", "id of the tank"),
        Column("filled", "", "day of the fill"),
        Column("part", "", "a batch; or fuel from elsewhere, not written, or of batches too small to name"),
        Column("volume_l", "L", "what was in it behind the fill", method="tank-blend"),
        Column("share_pct", "%", "share by litres, which is that by mass", method="tank-blend"),
    ),
)
TRACES = Table(
    "traces",
    "one oil lot in one lot of a tank",
    (
        Column("oil_lot", "", "id of the oil lot"),
        Column("tank_lot", "", "the tank and the day of the fill"),
        Column("tank", "", "id of the tank"),
        Column("filled", "", "day of the fill"),
        Column("batches", "", "batches that brought it"),
        Column("share_pct", "%", "share of the fuel that was made of it", method="tank-blend"),
        Column("volume_l", "L", "fuel made of it, behind the fill", method="tank-blend"),
        Column("drawn_l", "L", "of that, drawn until the next fill", method="tank-blend"),
        Column("draws", "", "draws until the next fill"),
        Column("to", "", "who drew"),
    ),
)
FLOWS = Table(
    "flows",
    "one oil lot in one batch in the lot that a tank holds now",
    (
        Column("tank_lot", "", "the tank and the day of the fill"),
        Column("tank", "", "id of the tank"),
        Column("batch", "", "the batch"),
        Column("oil_lot", "", "id of the oil lot"),
        Column("volume_l", "L", "fuel of that batch made of it, behind the fill", method="tank-blend"),
    ),
)
ROLLING = Table(
    "rolling",
    "twelve months of one place, up to the end of a month",
    (
        Column("premises", "", "the place that purifiers and tanks share"),
        Column("month", "", "last of the twelve months"),
        Column("made_l", "L", "finished fuel of batches that wrote a volume", method="rolling"),
        Column("not_known", "", "batches that wrote none", method="rolling"),
        Column("drawn_l", "L", "drawn from tanks", method="rolling"),
    ),
)
# Public: what was public, and is not what it was; figures of the batches' table and results, which are public themselves.
CHANGES = Table(
    "changes",
    "one figure or result of a batch that a version of its file moved, by the history in git",
    (
        Column("batch", "", "id of the batch", public=True),
        Column("date", "", "day on which the version came to the main line", public=True),
        Column("what", "", "recorded, changed or removed", public=True),
        Column("figure", "", "the column of the batch, or the property; empty where none moved", public=True),
        Column("before", "", "what it was", public=True),
        Column("after", "", "what it became", public=True),
        Column(
            "late",
            "",
            "yes where it had stood otherwise since an earlier day; a result beside what stood there is no change of it",
            public=True,
        ),
        Column("result", "", "whether it is a result"),
    ),
)

BRIDGE = Table(
    "bridge",
    "one part of the difference of what a litre cost in two periods, with media; the parts of a bridge add up to it",
    (
        Column(
            "bridge", "", "last: the last batches against those before; year: a year against the one before"
        ),
        Column("before_from", "", "first batch of the earlier period"),
        Column("before_until", "", "last batch of the earlier period"),
        Column("before_batches", "", "batches of the earlier period whose cost is known"),
        Column("before_per_l", PER_L, "cost of a litre in it, all cost over all fuel", method="cost-bridge"),
        Column("after_from", "", "first batch of the later period"),
        Column("after_until", "", "last batch of the later period"),
        Column("after_batches", "", "batches of the later period whose cost is known"),
        Column("after_per_l", PER_L, "cost of a litre in it", method="cost-bridge"),
        Column(
            "part",
            "",
            "price of oil, mix of oils, yield, prices and amounts of the rest, media, overheads, other costs, credits, batches without fuel",
        ),
        Column("change_per_l", PER_L, "what the part did to the cost of a litre", method="cost-bridge"),
        Column(
            "by_chance",
            "",
            "how likely two groups of batches of one kind lie as far apart by their order alone",
            method="cost-bridge",
        ),
    ),
)
TRENDS = Table(
    "trends",
    "how one cost of a litre moved through the batches",
    (
        Column("of", "", "which cost"),
        Column("from", "", "first batch"),
        Column("until", "", "last batch"),
        Column("batches", "", "batches in which it is known"),
        Column(
            "per_l_per_year",
            "currency of the logbook per L and year",
            "slope: the median of the slopes between any two",
            method="trend",
        ),
        Column(
            "z",
            "",
            "rises less falls between any two, in standard deviations without a trend",
            method="trend",
        ),
        Column("by_chance", "", "how likely that much or more comes of chance alone", method="trend"),
    ),
)
STOCK = Table(
    "stock",
    "what is there of one kind of material, kept in one unit; fuel in tanks; oil and fuel together",
    (
        Column("kind", "", "oil, alcohol, catalyst, acid or medium; fuel, oil and fuel"),
        Column("unit", "", "L at the reference temperature, or kg"),
        Column("left", "L or kg", "what the book says is left of all lots", method="cover"),
        Column("used_per_day", "L or kg per day", "drawn in the last 90 days, a day", method="cover"),
        Column("cover_days", "d", "how long it lasts at that use", needs=("used_per_day",), method="cover"),
        Column(
            "room_l",
            "L",
            "what the vessels for oil, or the tanks for fuel, still hold",
            needs=("oil_storage",),
            method="cover",
        ),
        Column(
            "vessels_l",
            "L",
            "what those vessels hold when they are full: oil_storage, and the whole shells of the tanks",
            needs=("oil_storage",),
            method="cover",
        ),
        Column(
            "oldest",
            "",
            "the lot, or of fuel the batch, that has stood longest, of lots those with a twentieth or more left",
        ),
        Column("oldest_days", "d", "how long it has stood"),
    ),
)
INVENTORY = Table(
    "inventory",
    "all lots of one material kept in one unit, or what is in one vat",
    (
        Column("material", "", "id of the material"),
        Column("kind", "", "oil, alcohol, catalyst, acid or medium"),
        Column("unit", "", "L at the reference temperature, or kg"),
        Column("vat", "", "the vat, where it is what is in one"),
        Column(
            "method", "", "how what is drawn is costed: named lot, FIFO or moving average", method="costing"
        ),
        Column("since", "", "first day of that method; empty for the whole log"),
        Column(
            "came",
            "L or kg",
            "bought or recovered, less what was lost in preparation; poured into a vat",
            method="costing",
        ),
        Column(
            "came_cost",
            CURRENCY,
            "what that cost with freight and driving",
            needs=("came",),
            method="costing",
        ),
        Column("used", "L or kg", "drawn by batches and columns", method="costing"),
        Column("used_cost", CURRENCY, "what that cost", needs=("came_cost",), method="costing"),
        Column("poured", "L or kg", "poured into vats", method="costing"),
        Column("poured_cost", CURRENCY, "what that cost", needs=("came_cost",), method="costing"),
        Column("returned", "L or kg", "went back to the seller", method="costing"),
        Column("returned_cost", CURRENCY, "what that cost", needs=("came_cost",), method="costing"),
        Column("refunded", CURRENCY, "what was paid back for it"),
        Column(
            "returned_gain",
            CURRENCY,
            "paid back less that cost, below zero a loss; in no batch's cost",
            needs=("returned_cost",),
            method="costing",
        ),
        Column(
            "lost", "L or kg", "found missing by counts; below zero where more was found", method="costing"
        ),
        Column("lost_cost", CURRENCY, "what that cost", needs=("came_cost",), method="costing"),
        Column("left", "L or kg", "what the book says is left", method="costing"),
        Column("left_cost", CURRENCY, "what that cost", needs=("came_cost",), method="costing"),
        Column(
            "unit_cost",
            "currency per L or kg",
            "cost of a unit of what is left",
            needs=("left_cost",),
            method="costing",
        ),
        Column(
            "acid_value_mg_koh_per_g",
            "mg KOH/g",
            "of oils, mean of what is left by mass, by the tests of its lots",
            needs=("titration",),
            method="costing",
        ),
        Column(
            "water_mg_per_kg",
            "mg/kg",
            "of oils, mean of what is left by mass, by the tests of its lots",
            needs=("water",),
            method="costing",
        ),
    ),
)
VATS = Table(
    "vats",
    "one line in the account of a vat",
    (
        Column("vat", "", "id of the vat"),
        Column("date", "", "day"),
        Column("event", "", "filled, drawn, lost or counted"),
        Column("by", "", "the lot that was poured in, or who drew"),
        Column("amount", "L", "how much; of a count, counted minus book", method="volume-at-reference"),
        Column("content", "L", "what is in it then", method="vat"),
        Column("holds", "L", "what the vat holds", needs=("holds",)),
        Column("parts", "", "the lots in it then, by volume", method="vat"),
        Column(
            "acid_value_mg_koh_per_g",
            "mg KOH/g",
            "of what is in it, by the tests of its lots and by mass, or by a test of the vat itself",
            needs=("titration",),
            method="vat",
        ),
        Column("water_mg_per_kg", "mg/kg", "of what is in it, likewise", needs=("water",), method="vat"),
        Column(
            "unit_cost",
            "currency per L",
            "what a litre that was drawn cost: the mean of what was in it",
            method="costing",
        ),
        Column(
            "titrated_mg_koh_per_g",
            "mg KOH/g",
            "what the batch that drew found by its own titration",
            method="acid-value",
        ),
    ),
)
ALL = (
    BATCHES,
    LOTS,
    STOCK,
    INVENTORY,
    VATS,
    CHARGES,
    WHAT_IF,
    COMING,
    OFFER_BEDS,
    EVENTS,
    RUNS,
    TESTS,
    STANDING,
    COVERAGE,
    AGREEMENT,
    DUE,
    STORED,
    LIMITS,
    DRIFT,
    PIECES,
    COSTS,
    OVERHEADS,
    BRIDGE,
    TRENDS,
    ACID_YIELD,
    ACID_SLOPES,
    OFFERS,
    TANKS,
    DIPS,
    TANK_LOTS,
    BLENDS,
    TRACES,
    FLOWS,
    ROLLING,
    CHANGES,
)


def public_columns(table: Table, widened: tuple[str, ...] = ()) -> tuple[str, ...]:
    """The columns of a table that the shared site may hold; `widened` are `table.column` names from the settings."""
    return tuple(
        column.name for column in table.columns if column.public or f"{table.name}.{column.name}" in widened
    )


def widenable() -> tuple[str, ...]:
    """What the setting `public` may name: private columns, as `table.column`."""
    return tuple(
        f"{table.name}.{column.name}" for table in ALL for column in table.columns if not column.public
    )
