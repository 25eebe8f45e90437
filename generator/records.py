"""The grammar of the logbook, format 1: one frozen class per kind of record.

Reading, checking and the documented format all come from these classes. A field without a default must be written; a
field that is None is unknown, never zero. Values keep the unit in which they were written.

Annotations are read as they stand, unlike in other modules: as texts each would be compiled anew at every start.
"""

import re
from collections.abc import Mapping
from datetime import date, datetime
from decimal import Decimal
from itertools import pairwise
from typing import Annotated, Any, Literal, NamedTuple, Self

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Field,
    ValidationInfo,
    field_validator,
    model_validator,
)

from generator.data import rows
from generator.fields import (
    AcidValue,
    Amount,
    BaseRate,
    BenchVolume,
    Burette,
    Capacity,
    Content,
    ContentLine,
    Date,
    Density,
    Distance,
    Duration,
    Energy,
    Id,
    Length,
    Locale,
    Mass,
    MassRatio,
    MethanolRate,
    Moment,
    Normality,
    Number,
    Pressure,
    Purity,
    Reading,
    Sample,
    Saponification,
    Share,
    SomeAmount,
    SomeDuration,
    SomeLength,
    SomeMass,
    SomeShare,
    SomeVolume,
    Strength,
    Temperature,
    TemperatureDifference,
    Text,
    Volume,
    Yes,
    Zone,
    choice,
    gallon_of,
    plainly,
    quantity_of,
    refuse,
    symbol_of,
)
from generator.formulas.constants import FREE_ACID_G_PER_MOL
from generator.language import ENGLISH
from generator.mending import same_word
from generator.pricing import AnyPrice, Currency
from generator.problems import did_you_mean
from generator.properties import properties
from generator.specifications import specifications
from generator.units import Price, Quantity, quantity

FORMAT = "1"
# host with at least one letter or digit, path of the signs that RFC 3986 lets stand as they are
ADDRESS = r"https?://[A-Za-z0-9][A-Za-z0-9.-]*(:[0-9]{1,5})?(/[A-Za-z0-9._~!$&'()*+,;=:@%-]*)*"
Base = Annotated[str, choice("KOH", "NaOH")]
Catalysts = Annotated[str, choice("KOH", "NaOH", "KOCH3", "NaOCH3")]
FATTY_ACIDS = ("12:0", "14:0", "16:0", "16:1", "18:0", "18:1", "18:2", "18:3", "20:0", "20:1", "22:0", "22:1")

_NO_KEYS: set[str] = set()  # of all records; a copy of a record has its own


class Record(BaseModel):
    """What all records share: nothing unknown is taken, nothing is changed after reading."""

    # a file's grammar is built when the first of its kind is read: building each class alone took a third of a check
    model_config = ConfigDict(
        extra="forbid", frozen=True, arbitrary_types_allowed=True, populate_by_name=False, defer_build=True
    )

    def model_post_init(self, context: Any, /) -> None:
        """Forget which keys were written: that stands in the file, and a set of them in each group took a sixth of all that a check holds."""
        object.__setattr__(self, "__pydantic_fields_set__", _NO_KEYS)


def _exactly_one(*names: str) -> ConfigDict:
    """Say in the schema what `_one_of` checks."""
    return ConfigDict(json_schema_extra={"oneOf": [{"required": [name]} for name in names]})


def _one_of(record: BaseModel, *names: str) -> None:
    given = [name for name in names if getattr(record, name) is not None]
    if len(given) != 1:
        keys = {name: type(record).model_fields[name].alias or name for name in names}
        found = f"{' and '.join(keys[name] for name in given)} are written" if given else "none is written"
        raise refuse(
            "one-of", f"one of {', '.join(keys.values())} is wanted, and {found}", "write exactly one of them"
        )


def _written_amount(volume: Quantity | None, mass: Quantity | None) -> Quantity:
    """The one of the two that was written; the grammar has seen to it that one was."""
    found = volume if volume is not None else mass
    assert found is not None
    return found


def _listed(value: Any) -> Any:
    if not isinstance(value, list):
        raise refuse("not-a-list", "a list is wanted here", "begin each entry with '- ', or write [one, two]")
    return value


ListOf = BeforeValidator(_listed)


# --- the workshop -----------------------------------------------------------------------------------------------------


class Display(Record):
    """The units in which the site shows figures."""

    volume: Annotated[str, symbol_of("volume")] = "L"
    mass: Annotated[str, symbol_of("mass")] = "kg"
    temperature: Annotated[str, symbol_of("temperature")] = "°C"
    pressure: Annotated[str, symbol_of("pressure")] = "bar"


def _colour(value: Any) -> Any:
    hint = 'write six digits of 0-9 and a-f behind a #, in quotes, as "#005a91"; without quotes a # begins a comment'
    if value == "":
        raise refuse("bad-colour", "no colour is written here", hint)
    if isinstance(value, str) and re.fullmatch(r"#[0-9A-Fa-f]{6}", value) is None:
        raise refuse("bad-colour", f"'{value[:40]}' is not a colour", hint)
    return value.lower() if isinstance(value, str) else value


Colour = Annotated[Text, BeforeValidator(_colour)]


def _address(value: Any) -> Any:
    if isinstance(value, str) and re.fullmatch(ADDRESS, value) is None:
        raise refuse(
            "bad-address",
            f"'{value[:80]}' is not the address of a site",
            "write it as in a browser, without blanks, ? and #, such as https://example.org/fuel/",
        )
    return f"{value.rstrip('/')}/" if isinstance(value, str) else value


Address = Annotated[Text, BeforeValidator(_address)]


class Colours(Record):
    """The colours of one scheme that a workshop sets; the others stay the project's own."""

    paper: Colour | None = None
    ink: Colour | None = None
    soft: Colour | None = None
    rule: Colour | None = None
    faint: Colour | None = None
    link: Colour | None = None
    accent: Colour | None = None

    def own(self) -> dict[str, str]:
        """What is set, by name."""
        return {name: value for name, value in self if value is not None}


class Theme(Record):
    """A workshop's own colours, for paper that is light and for a screen that is dark."""

    light: Colours = Colours.model_construct()
    dark: Colours = Colours.model_construct()


class SpecificationChoice(Record):
    """A standard, its edition and, where it has grades, the grade: results are held to it from a day on.

    The file of limits is the tool's own.
    """

    model_config = ConfigDict(json_schema_extra={"required": ["standard", "edition"]})

    standard: Text
    edition: Text | None = None
    grade: Text | None = None
    begins: Date | None = Field(None, alias="from")

    @model_validator(mode="after")
    def _edition(self) -> Self:
        if self.edition is None:
            known = sorted(edition for standard, edition in specifications() if standard == self.standard)
            named = f"with one of: {'; '.join(known)}" if known else "and say which one"
            raise refuse(
                "no-edition",
                f"'{self.standard}' without its edition says no limits",
                f"add 'edition:' {named}",
            )
        return self


def _one_or_more(value: Any) -> Any:
    """A single entry may be written without a list."""
    return _listed([value] if isinstance(value, Mapping) else value)


Specifications = Annotated[
    tuple[SpecificationChoice, ...],
    BeforeValidator(
        _one_or_more, json_schema_input_type=SpecificationChoice | tuple[SpecificationChoice, ...]
    ),
]


STAGES_SLACK_PCT = 0.1
LEAST_BASELINE, MOST_BASELINE = 12, 100


def _stages(shares: tuple[Quantity, ...]) -> tuple[Quantity, ...]:
    total = sum(share.value for share in shares)
    if shares and abs(total - 100) > STAGES_SLACK_PCT:
        raise refuse(
            "stages-sum", f"the stages add up to {total:g} %", "make them 100 %, such as [80 %, 20 %]"
        )
    return shares


# shares of the dose by stage, in their order
StageShares = Annotated[tuple[SomeShare, ...], ListOf, AfterValidator(_stages)]


class PretreatmentRule(Record):
    """The maker's own rule for an acid pre-treatment: pure methanol and pure acid per gram of free fatty acid."""

    methanol: MassRatio
    acid: MassRatio


class DoseRule(Record):
    """The maker's own rule: grams of pure base per litre of oil and of which base, methanol, stages, pre-treatment.

    Methanol is a molar ratio (`6 mol/mol`) or a share of the oil's volume (`22 %`), of pure methanol in both cases.
    """

    base: BaseRate
    of: Catalysts
    methanol: MethanolRate | None = None
    stages: StageShares = ()
    pretreatment: PretreatmentRule | None = None


_INSTRUMENTS = rows("instruments")["instruments"]


def _usual(name: str, kind: str) -> Quantity:
    """What an instrument is taken to show where the logbook does not say."""
    return quantity(_INSTRUMENTS[name]["default"], (kind,))


class Instruments(Record):
    """How well the workshop's instruments show; what each figure means and its source stand in `data/instruments.yaml`."""

    burette: SomeVolume = _usual("burette", "volume")
    sample_volume: Share = _usual("sample_volume", "share")
    strength: Share = _usual("strength", "share")
    normality: Share = _usual("normality", "share")
    balance: Mass = _usual("balance", "mass")
    scale: Mass = _usual("scale", "mass")
    volume: Share = _usual("volume", "share")
    thermometer: TemperatureDifference = _usual("thermometer", "temperature difference")
    dip: Length = _usual("dip", "length")


class Thresholds(Record):
    """The maker's own lines for advice about an oil before it is dosed."""

    water: ContentLine | None = None
    acid_value: AcidValue | None = Field(None, alias="acid value")


def _whole_price(price: Price) -> Price:
    if price.per is not None:
        raise refuse(
            "price-total",
            f"the whole amount is wanted here, and '{price.text}' is per unit",
            f"write what was paid, such as 12.00 {price.currency}",
        )
    return price


WholePrice = Annotated[AnyPrice, AfterValidator(_whole_price)]


class Costing(Record):
    """What is drawn of a material costs, from a day on: what its lot did, what the oldest did, or what all there do in the mean."""

    material: Id
    since: Date = Field(alias="from")
    method: Annotated[str, choice("named lot", "FIFO", "moving average")]


class Closed(Record):
    """Books that were closed: what all that was drawn until a day cost, as it stood when they were."""

    until: Date
    drawn: WholePrice | None = None


class OwnRate(Record):
    """What an hour or a kilometre of the workshop counts as, from a day on; without a day, as long as no other holds."""

    since: Date | None = Field(None, alias="from")
    value: AnyPrice


def _dated_or_not(value: Any) -> Any:
    """One rate for the whole logbook may be written as a price alone."""
    return _listed([{"value": value}] if isinstance(value, str) else value)


OwnRates = Annotated[
    tuple[OwnRate, ...], BeforeValidator(_dated_or_not, json_schema_input_type=AnyPrice | tuple[OwnRate, ...])
]


class Overhead(Record):
    """A cost that no batch has alone: equipment, insurance. Every litre of fuel from a day on bears its share of it.

    It is borne until so many litres have, or until a day.
    """

    what: Text = Field(alias="for")
    since: Date = Field(alias="from")
    until: Date | None = None
    paid: WholePrice
    over: SomeVolume


def _worth_something(price: Price) -> Price:
    if not price.amount:
        raise refuse(
            "out-of-range",
            f"'{price.text}' would make every price in it nothing",
            "write what one unit was worth",
        )
    return price


class Rate(Record):
    """What one unit of another currency was worth, from a day on."""

    currency: Currency
    since: Date = Field(alias="from")
    value: Annotated[WholePrice, AfterValidator(_worth_something)]


def _known_property(value: Any) -> str:
    name = str(value)
    if name not in properties():
        raise refuse(
            "unknown-property",
            f"'{name[:64]}' is not a property known here",
            did_you_mean(name, properties()) or f"known here: {', '.join(properties())}",
            same_word(name, properties()),
        )
    return name


PropertyName = Annotated[str, BeforeValidator(_known_property)]


def _result(name: str, value: Any, info: ValidationInfo) -> Quantity | str:
    """A result of a property, or a limit for it: a quantity of its kind, or one of its words."""
    row = properties()[name]
    if row.words:
        if value not in row.words:
            raise refuse(
                "not-a-choice",
                f"'{value[:40]}' is not a result of {name}",
                did_you_mean(value, row.words) or f"write one of: {', '.join(row.words)}",
                same_word(value, row.words),
            )
        return str(value)
    found = quantity_of(value, row.kinds, gallon_of(info))
    if found.value < row.lowest or found.value > row.highest:
        raise refuse(
            "out-of-range",
            f"{name} cannot be {found.text}",
            f"it lies between {plainly(row.lowest)} and {plainly(row.highest)} {row.unit}",
        )
    return found


def spread_kinds(name: str) -> tuple[str, ...]:
    """The kinds in which the spread of a property is written: its own, of a temperature the difference."""
    return tuple(
        "temperature difference" if kind == "temperature" else kind for kind in properties()[name].kinds
    )


class OwnLimit(Record):
    """A line the workshop holds its own fuel to: the least, the most, or the words that are within."""

    model_config = ConfigDict(
        json_schema_extra={
            "anyOf": [
                {"required": ["min"]},
                {"required": ["max"]},
                {"required": ["words"], "properties": {"words": {"minItems": 1}}},
            ],
        }
    )

    property: PropertyName
    low: Quantity | None = Field(None, alias="min")
    high: Quantity | None = Field(None, alias="max")
    words: Annotated[tuple[Text, ...], ListOf] = ()
    method: Text | None = None

    @field_validator("low", "high", mode="before", json_schema_input_type=Text)
    @classmethod
    def _typed(cls, value: Any, info: ValidationInfo) -> Quantity | None:
        name = info.data.get("property")
        if not isinstance(value, str):
            raise refuse("not-text", "one value is wanted here", "write one value with its unit")
        if name is None:
            return None
        if properties()[name].words:
            raise refuse(
                "limit-odd",
                f"{name} is told in words and has no least and no most",
                "write the words that are within, such as words: [clear and bright]",
            )
        found = _result(name, value, info)
        assert isinstance(found, Quantity)
        if found.sign:
            raise refuse("sign-unfit", f"'{found.text}': a limit has no < or >", "write min or max instead")
        return found

    @field_validator("words", mode="after")
    @classmethod
    def _known(cls, words: tuple[str, ...], info: ValidationInfo) -> tuple[str, ...]:
        name = str(info.data.get("property"))
        for word in words if name in properties() else ():
            if not properties()[name].words:
                raise refuse(
                    "limit-odd", f"{name} is a number and has no words", "write min or max with its unit"
                )
            _result(name, word, info)
        return words

    @model_validator(mode="after")
    def _some(self) -> Self:
        if self.low is None and self.high is None and not self.words:
            raise refuse("limit-odd", "a limit needs min, max or words", "write one of them")
        if self.low is not None and self.high is not None and self.low.value > self.high.value:
            raise refuse(
                "out-of-range", f"nothing lies between {self.low.text} and {self.high.text}", "swap the two"
            )
        return self


class OwnLimits(Record):
    """The workshop's own lines, with the edition they are known by and the day from which they hold."""

    model_config = ConfigDict(json_schema_extra={"required": ["edition", "limits"]})

    edition: Text | None = None
    begins: Date | None = Field(None, alias="from")
    limits: Annotated[tuple[OwnLimit, ...], ListOf]

    @model_validator(mode="after")
    def _edition(self) -> Self:
        if self.edition is None:
            raise refuse(
                "no-edition",
                "these limits have no edition",
                "name it, such as edition: 2026; a later change is a new edition, and older batches keep theirs",
            )
        return self


class Rhythm(Record):
    """When properties are to be tested: every so many batches and within so long, after something new, or while stored.

    `laboratory` says that only a laboratory's result will do.
    """

    model_config = ConfigDict(
        json_schema_extra={
            "oneOf": [
                {"anyOf": [{"required": ["every"]}, {"required": ["within"]}]},
                {"required": ["after"]},
                {"required": ["stored"]},
            ]
        }
    )

    properties: Annotated[tuple[PropertyName, ...], ListOf] = Field(json_schema_extra={"minItems": 1})
    every: Number | None = None
    within: SomeDuration | None = None
    after: Annotated[str, choice("new oil", "new charge")] | None = None
    stored: SomeDuration | None = None
    laboratory: Yes = False

    @field_validator("properties", mode="after")
    @classmethod
    def _some(cls, names: tuple[str, ...]) -> tuple[str, ...]:
        if not names:
            raise refuse("empty-value", "no property is written", "write at least one, such as [acid value]")
        return names

    @field_validator("every", mode="after")
    @classmethod
    def _whole(cls, every: Decimal | None) -> Decimal | None:
        if every is not None and (every != int(every) or every < 1):
            raise refuse(
                "out-of-range", f"every {every} batches cannot be", "write a whole number, 1 or more"
            )
        return every

    @model_validator(mode="after")
    def _kind(self) -> Self:
        given = [
            name
            for name, value in (
                ("every", self.every or self.within),
                ("after", self.after),
                ("stored", self.stored),
            )
            if value is not None
        ]
        if len(given) != 1:
            found = f"{' and '.join(given)} are written" if given else "none is written"
            raise refuse(
                "one-of",
                f"one of every (or within), after, stored is wanted, and {found}",
                "write an entry for each of them",
            )
        return self


class Drift(Record):
    """How control charts are made: the points that limits are frozen from, the changes after which a row begins anew."""

    baseline: Number = Decimal(12)
    broken_by: Annotated[tuple[Annotated[str, choice("oil", "media", "last bed")], ...], ListOf] = (
        "oil",
        "media",
        "last bed",
    )

    @field_validator("baseline", mode="after")
    @classmethod
    def _enough(cls, baseline: Decimal) -> Decimal:
        if baseline != int(baseline) or not LEAST_BASELINE <= baseline <= MOST_BASELINE:
            raise refuse(
                "out-of-range",
                f"{baseline} points cannot make limits",
                f"write a whole number from {LEAST_BASELINE} to {MOST_BASELINE}; fewer are swayed by every one of them",
            )
        return baseline


class Workshop(Record):
    """`logbook.yaml`: what holds for the whole logbook."""

    format: Annotated[str, choice(FORMAT)]
    title: Text
    notice: Text | None = None
    address: Address | None = None
    currency: Currency
    timezone: Zone
    locale: Locale = ENGLISH
    display: Display = Display.model_construct()
    reference_temperature: Temperature = quantity("15 °C", ("temperature",))
    assumed_temperature: Temperature = quantity("15 °C", ("temperature",))
    gallon: Annotated[str, choice("none", "US", "imperial")] = "none"
    specification: Specifications = ()
    own_limits: Annotated[tuple[OwnLimits, ...], ListOf] = ()
    dose: DoseRule | None = None
    instruments: Instruments = Instruments.model_construct()
    thresholds: Thresholds = Thresholds.model_construct()
    testing: Annotated[tuple[Rhythm, ...], ListOf] = ()
    drift: Drift = Drift.model_construct()
    labour_rate: OwnRates = ()
    collection_rate: OwnRates = ()
    overheads: Annotated[tuple[Overhead, ...], ListOf] = ()
    target_cost: AnyPrice | None = None
    ffa_as: Annotated[str, choice(*FREE_ACID_G_PER_MOL)] = "oleic"
    oil_storage: Volume | None = None
    stock_tolerance: Share = quantity("2 %", ("share",))
    costing: Annotated[tuple[Costing, ...], ListOf] = ()
    closed: Annotated[tuple[Closed, ...], ListOf] = ()
    rates: Annotated[tuple[Rate, ...], ListOf] = ()
    theme: Theme = Theme.model_construct()
    public: Annotated[tuple[Text, ...], ListOf] = ()


def _fatty_acid(value: Any) -> str:
    name = str(value)
    if name not in FATTY_ACIDS:
        raise refuse(
            "unknown-fatty-acid",
            f"'{name[:64]}' is not a fatty acid known here",
            f"known here: {', '.join(FATTY_ACIDS)}",
        )
    return name


FattyAcid = Annotated[str, BeforeValidator(_fatty_acid)]


# --- what can be bought -----------------------------------------------------------------------------------------------


class Oil(Record):
    """A feedstock: its fatty acids (mass %), saponification value and density, each with its source."""

    kind: Literal["oil"]
    name: Text | None = None
    profile: dict[FattyAcid, Share] | None = None
    saponification_value: Saponification | None = Field(None, alias="saponification value")
    density: Density | None = None
    source: Text | None = None

    @field_validator("profile", mode="after")
    @classmethod
    def _whole(cls, profile: dict[str, Quantity] | None) -> dict[str, Quantity] | None:
        if profile is None:
            return None
        total = sum(share.value for share in profile.values())
        if abs(total - 100) > 1:
            raise refuse("profile-sum", f"the profile adds up to {total:g} %", "make it 100 % (within 1 %)")
        return profile


class Catalyst(Record):
    """A base or a methoxide and its purity (mass %). Of a solution in methanol the rest counts as methanol."""

    kind: Literal["catalyst"]
    name: Text | None = None
    of: Catalysts
    purity: Purity
    solvent: Annotated[str, choice("methanol")] | None = None
    source: Text | None = None


class Acid(Record):
    """A mineral acid for pre-treatment and its purity (mass %); the density lets it be taken by volume."""

    kind: Literal["acid"]
    name: Text | None = None
    of: Annotated[str, choice("H2SO4")]
    purity: Purity
    density: Density | None = None
    source: Text | None = None


class Alcohol(Record):
    """Methanol, bought or recovered, and its purity (mass %)."""

    kind: Literal["alcohol"]
    name: Text | None = None
    of: Annotated[str, choice("methanol")]
    purity: Purity
    source: Text | None = None


class MediumLedger(Record):
    """One thing a medium takes up: what, how, how much at most, what resets it and how much that leaves, how sure it is."""

    of: Annotated[str, choice("soap", "glycerol")]
    by: Annotated[str, choice("holding", "exchange")]
    capacity: Capacity | None = None
    reset_by: Annotated[str, choice("rinse", "regenerate", "nothing")] = "nothing"
    leaves: Share = quantity("0 %", ("share",))
    confidence: Text | None = None
    source: Text | None = None


class Medium(Record):
    """A filling for a column. Only media of one type can change places; an absorbent guards, a resin polishes."""

    kind: Literal["medium"]
    name: Text | None = None
    type: Annotated[str, choice("absorbent", "resin")]
    void: Number
    particle: SomeLength | None = None
    sphericity: Number | None = None
    ledgers: Annotated[tuple[MediumLedger, ...], ListOf]
    source: Text | None = None

    @field_validator("void", mode="after")
    @classmethod
    def _fraction(cls, void: Decimal) -> Decimal:
        if not 0 < void < 1:
            raise refuse(
                "out-of-range",
                f"a void share of {void} cannot be",
                "write a fraction between 0 and 1, such as 0.38",
            )
        return void

    @field_validator("sphericity", mode="after")
    @classmethod
    def _round(cls, sphericity: Decimal | None) -> Decimal | None:
        if sphericity is not None and not 0 < sphericity <= 1:
            raise refuse(
                "out-of-range",
                f"a sphericity of {sphericity} cannot be",
                "write a fraction up to 1, which is a ball",
            )
        return sphericity


class Other(Record):
    """Anything else that is bought: filters, indicator, tape."""

    kind: Literal["other"]
    name: Text | None = None
    source: Text | None = None


Material = Annotated[Oil | Catalyst | Alcohol | Acid | Medium | Other, Discriminator("kind")]


class Materials(Record):
    """One file of `materials/`."""

    materials: dict[Id, Material]


# --- measured ---------------------------------------------------------------------------------------------------------


class Standardised(Record):
    """A titrant measured against potassium hydrogen phthalate: what was weighed, and what it took to neutralise it."""

    phthalate: SomeMass
    titrant: Burette
    blank: Burette = quantity("0 mL", ("volume",))
    purity: Purity = quantity("100 %", ("share",))


class Titrant(Record):
    """What stands in the burette: made from a lot (whose purity then counts), from pure base, or standardised.

    An alcoholic titrant shrinks in the cold: `at` is the temperature at which its strength holds.
    """

    model_config = ConfigDict(
        json_schema_extra={
            "oneOf": [
                {"required": ["lot"]},
                {"required": ["pure"], "properties": {"pure": {"enum": ["true", True]}}},
                {"required": ["standardised"]},
            ]
        }
    )

    strength: Strength
    of: Base
    lot: Id | None = None
    pure: Yes | None = None
    standardised: Standardised | None = None
    solvent: Annotated[str, choice("water", "alcohol")] = "water"
    at: Temperature | None = None

    @model_validator(mode="after")
    def _purity(self) -> Self:
        if [self.lot is not None, self.pure is True, self.standardised is not None].count(True) != 1:
            raise refuse(
                "titrant-purity",
                "the titrant's purity is not settled",
                "write 'lot: <id>' if it was made from a lot of base, 'pure: true' if from pure base, or 'standardised:'",
            )
        return self


class Titration(Record):
    """Acidity of an oil: titrant, sample by volume or mass, blank, and every reading."""

    titrant: Titrant
    temperature: Temperature | None = None
    sample: Sample
    blank: Burette
    readings: Annotated[tuple[Burette, ...], ListOf] = Field(json_schema_extra={"minItems": 1})

    @field_validator("readings", mode="after")
    @classmethod
    def _some(cls, readings: tuple[Quantity, ...]) -> tuple[Quantity, ...]:
        if not readings:
            raise refuse("empty-value", "no reading is written", "write at least one, such as [2.4 mL]")
        return readings


class Report(Record):
    """A laboratory's report: a file in `attachments/`, for the workshop alone unless it is marked public."""

    file: Text
    public: Yes = False


class Test(Record):
    """One result: a property with value and method, or a titration of an oil. A retest is a further entry."""

    model_config = ConfigDict(
        json_schema_extra={
            "anyOf": [{"required": ["titration"]}, {"required": ["property", "value"]}],
            "not": {"required": ["titration", "property"]},
        }
    )

    date: Date | None = None
    property: PropertyName | None = None
    value: Quantity | str | None = None
    repeatability: Quantity | None = None
    uncertainty: Quantity | None = None
    method: Text | None = None
    laboratory: Yes = False
    titration: Titration | None = None
    report: Report | None = None
    note: Text | None = None

    @field_validator("value", mode="before", json_schema_input_type=Text)
    @classmethod
    def _typed(cls, value: Any, info: ValidationInfo) -> Quantity | str:
        name = info.data.get("property")
        if not isinstance(value, str):
            raise refuse("not-text", "one value is wanted here", "write one value with its unit")
        return value if name is None else _result(name, value, info)

    @field_validator("repeatability", "uncertainty", mode="before", json_schema_input_type=Text)
    @classmethod
    def _spread(cls, value: Any, info: ValidationInfo) -> Quantity | None:
        """How far off a result can be, in the unit of its property; of a temperature, a difference."""
        name = info.data.get("property")
        if not isinstance(value, str):
            raise refuse("not-text", "one value is wanted here", "write one value with its unit")
        if name is None:
            return None
        if properties()[name].words:
            raise refuse("limit-odd", f"{name} is told in words and has no spread", "drop it")
        found = quantity_of(value, spread_kinds(name), gallon_of(info))
        if found.sign:
            raise refuse("sign-unfit", f"'{found.text}': a spread has no < or >", "write the number alone")
        if found.value <= 0:
            raise refuse("out-of-range", f"'{found.text}' is no spread", "write a number above zero")
        return found

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if self.titration is None and (self.property is None or self.value is None):
            raise refuse(
                "test-incomplete",
                "a test needs a property and a value, or a titration",
                "write 'property: water' and 'value: 300 mg/kg'",
            )
        if self.titration is not None and self.property is not None:
            raise refuse("one-of", "a test holds a property or a titration, not both", "write two tests")
        return self


# --- lots -------------------------------------------------------------------------------------------------------------


class Loss(Record):
    """What was poured off or thrown away before use: water, sludge, crumbs."""

    model_config = _exactly_one("volume", "mass")

    date: Date
    volume: Volume | None = None
    mass: Mass | None = None
    reason: Text | None = None

    @model_validator(mode="after")
    def _amount(self) -> Self:
        _one_of(self, "volume", "mass")
        return self


class Count(Record):
    """What was found to be there when somebody looked."""

    model_config = _exactly_one("volume", "mass")

    date: Date
    volume: Volume | None = None
    mass: Mass | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _amount(self) -> Self:
        _one_of(self, "volume", "mass")
        return self


class Collected(Record):
    """A way on which a lot was fetched by the workshop itself: kilometres driven in all, hours of all who went.

    Without a day it was the day on which the lot was received.
    """

    model_config = ConfigDict(
        json_schema_extra={"anyOf": [{"required": ["distance"]}, {"required": ["time"]}]}
    )

    date: Date | None = None
    distance: Distance | None = None
    time: Duration | None = None

    @model_validator(mode="after")
    def _something(self) -> Self:
        if self.distance is None and self.time is None:
            raise refuse(
                "missing-key",
                "neither 'distance' nor 'time' is written",
                "write what it took, such as distance: 34 km, time: 90 min",
            )
        return self


class Return(Record):
    """What went back to the seller, and the money that came back for it; without `refund` there was none."""

    model_config = _exactly_one("volume", "mass")

    date: Date
    volume: Volume | None = None
    mass: Mass | None = None
    refund: WholePrice | None = None
    reason: Text | None = None

    @model_validator(mode="after")
    def _amount(self) -> Self:
        _one_of(self, "volume", "mass")
        return self


class Filling(Record):
    """What was poured into a vat, and out of which lot."""

    model_config = _exactly_one("volume", "mass")

    date: Date
    lot: Id
    volume: SomeVolume | None = None
    mass: SomeMass | None = None

    @model_validator(mode="after")
    def _amount(self) -> Self:
        _one_of(self, "volume", "mass")
        return self

    @property
    def amount(self) -> Quantity:
        """The volume or the mass, whichever was written."""
        return _written_amount(self.volume, self.mass)


# what only a purchase can have, and only a vat
_BOUGHT = ("quantity", "paid", "collected", "returns")
_OF_VAT = ("holds", "filled")
_NO_VAT = (*_BOUGHT, "freight", "recovered", "value")


def _says(name: str) -> dict[str, Any]:
    """In the schema: a key that says yes."""
    return {"properties": {name: {"enum": ["true", True]}}, "required": [name]}


def _none_of(names: tuple[str, ...]) -> dict[str, Any]:
    """In the schema: none of these keys."""
    return {"not": {"anyOf": [{"required": [name]} for name in names]}}


class Lot(Record):
    """One purchase, the store of recovered methanol (`recovered: true`), or a vat into which lots are poured (`vat: true`)."""

    model_config = ConfigDict(
        json_schema_extra={
            "if": _says("vat"),
            "then": _none_of(tuple(name for name in _NO_VAT if name != "recovered")),
            "else": {
                **_none_of(_OF_VAT),
                "if": _says("recovered"),
                "then": _none_of(_BOUGHT),
                "else": {"required": ["quantity"]},
            },
        }
    )

    lot: Id
    material: Id
    received: Date
    source: Text | None = None
    code: Text | None = None
    quantity: Amount | None = None
    paid: AnyPrice | None = None
    freight: WholePrice | None = None
    collected: Annotated[
        tuple[Collected, ...],
        BeforeValidator(_one_or_more, json_schema_input_type=Collected | tuple[Collected, ...]),
    ] = ()
    recovered: Yes = False
    value: AnyPrice | None = None
    vat: Yes = False
    holds: SomeVolume | None = None
    filled: Annotated[tuple[Filling, ...], ListOf] = ()
    losses: Annotated[tuple[Loss, ...], ListOf] = ()
    returns: Annotated[tuple[Return, ...], ListOf] = ()
    counts: Annotated[tuple[Count, ...], ListOf] = ()
    tests: Annotated[tuple[Test, ...], ListOf] = ()
    note: Text | None = None
    public_note: Text | None = None

    @model_validator(mode="after")
    def _origin(self) -> Self:
        if self.recovered and (written := self._written(_BOUGHT)):
            raise refuse(
                "recovered-lot",
                "a recovered lot is filled by the batches, and nothing is paid for it",
                f"drop {written}; state 'value' if it has one",
            )
        if self.vat and (written := self._written(_NO_VAT)):
            raise refuse(
                "vat-lot",
                "a vat is filled from lots, and what is in it costs what they did",
                f"drop {written}; write under 'filled' what was poured in, and out of which lot",
            )
        if not self.vat and (written := self._written(_OF_VAT)):
            raise refuse(
                "vat-lot", "only a vat is filled from other lots", f"add 'vat: true', or drop {written}"
            )
        if not self.recovered and not self.vat and self.quantity is None:
            raise refuse(
                "missing-key",
                "'quantity' is missing",
                "write what was delivered, such as quantity: 410 L at 14 °C",
            )
        return self

    def _written(self, names: tuple[str, ...]) -> str:
        """Those of these keys that are written, as a hint names them."""
        return " and ".join(f"'{name}'" for name in names if getattr(self, name) not in (None, (), False))


# --- batches ----------------------------------------------------------------------------------------------------------


class Use(Record):
    """An amount taken from a lot."""

    model_config = _exactly_one("volume", "mass")

    lot: Id
    volume: SomeVolume | None = None
    mass: SomeMass | None = None

    @model_validator(mode="after")
    def _amount(self) -> Self:
        _one_of(self, "volume", "mass")
        return self

    @property
    def amount(self) -> Quantity:
        """The volume or the mass, whichever was written."""
        return _written_amount(self.volume, self.mass)


class WaterContent(Record):
    """Water in the oil and how it was found; a pass without its method is not comparable."""

    value: Content
    method: Text


class ConversionCheck(Record):
    """Fuel shaken into methanol: what drops out was not converted. Never turned into a percentage."""

    sample: BenchVolume
    methanol: BenchVolume
    dropout: Reading
    temperature: Temperature | None = None
    haze: Yes = False


class Stage(Record):
    """One stage of the reaction."""

    catalyst: Annotated[tuple[Use, ...], ListOf]
    methanol: Annotated[tuple[Use, ...], ListOf]
    temperature: Temperature | None = None
    time: Duration | None = None
    conversion: Annotated[tuple[ConversionCheck, ...], ListOf] = ()


class Pretreatment(Record):
    """An acid pre-treatment as it was done: what went in, the layer drawn off, the titration after it.

    `acid_drained` says whether the acid left with the layer. A titration afterwards counts acid that stayed as if it were
    free fatty acid.
    """

    acid: Annotated[tuple[Use, ...], ListOf]
    methanol: Annotated[tuple[Use, ...], ListOf]
    temperature: Temperature | None = None
    time: Duration | None = None
    drained: Mass | None = None
    acid_drained: Yes | None = None
    titration: Titration | None = None


class PlannedMethanol(Record):
    """A lot of methanol for a batch to come; the one without an amount takes the rest."""

    model_config = ConfigDict(json_schema_extra={"not": {"required": ["volume", "mass"]}})

    lot: Id
    volume: SomeVolume | None = None
    mass: SomeMass | None = None

    @model_validator(mode="after")
    def _amount(self) -> Self:
        if self.volume is not None and self.mass is not None:
            _one_of(self, "volume", "mass")
        return self

    @property
    def amount(self) -> Quantity | None:
        """The volume or the mass, where one was written."""
        return self.volume if self.volume is not None else self.mass


class PlannedPretreatment(Record):
    """A pre-treatment to come: the lot of acid, the acid value it is to reach, whether the acid layer will be drained."""

    acid: Id | None = None
    target: AcidValue | None = None
    acid_drained: Yes = False


def _lot_or_group(value: Any) -> Any:
    return {"lot": value} if isinstance(value, str) else value


def _yes_or_group(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    if value not in ("yes", "true"):
        raise refuse(
            "not-a-choice",
            f"'{value[:40]}' is not one of the words known here",
            "write yes, or {acid: <lot>, target: 2 mg KOH/g}; leave the key out for none",
        )
    return {}


OneLot = Annotated[
    PlannedMethanol, BeforeValidator(_lot_or_group, json_schema_input_type=Id | PlannedMethanol)
]
YesOrGroup = Annotated[
    PlannedPretreatment,
    BeforeValidator(
        _yes_or_group, json_schema_input_type=Annotated[str, choice("yes", "true")] | PlannedPretreatment
    ),
]
# only one lot can take the rest; behind `if`, as readers of older drafts know no `maxContains`
_REST = {"contains": {"not": {"anyOf": [{"required": ["volume"]}, {"required": ["mass"]}], "type": "object"}}}
ONE_REST: dict[str, Any] = {"if": _REST, "then": {**_REST, "maxContains": 1}}


class Plan(Record):
    """What a batch is to be made with. Until `reaction` is written the batch is planned, and draws nothing.

    `purifier` says which columns it will go through, where there are several.
    """

    catalyst: Id
    purifier: Id | None = None
    methanol: Annotated[tuple[OneLot, ...], ListOf] = Field((), json_schema_extra=ONE_REST)
    stages: StageShares = ()
    pretreatment: YesOrGroup | None = None

    @model_validator(mode="after")
    def _rest(self) -> Self:
        open_ended = [item.lot for item in self.methanol if item.amount is None]
        if len(open_ended) > 1:
            raise refuse(
                "missing-key",
                f"lots {' and '.join(open_ended)} have no amount, and only one can take the rest",
                "write {lot: ..., volume: ...} for all but one of them",
            )
        return self


class Glycerol(Record):
    """The layer that was drawn off, as it was: glycerol with soap, catalyst and methanol."""

    model_config = _exactly_one("volume", "mass")

    volume: Volume | None = None
    mass: Mass | None = None

    @model_validator(mode="after")
    def _amount(self) -> Self:
        _one_of(self, "volume", "mass")
        return self

    @property
    def amount(self) -> Quantity:
        """The volume or the mass, whichever was written."""
        return _written_amount(self.volume, self.mass)


class Settled(Record):
    """How long the batch stood and what was drained."""

    time: Duration | None = None
    glycerol: Glycerol | None = None
    emulsion: Yes = False


class Recovered(Record):
    """Methanol taken back, and the lot it went into."""

    volume: Volume
    into: Id


class GaugeReading(Record):
    """Inlet pressure of a vessel after so much fuel."""

    after: Volume
    vessel: Id
    inlet: Pressure
    temperature: Temperature | None = None


class CatalystEndPoint(Record):
    """The first end point of a soap titration with two indicators: acid used until phenolphthalein is colourless."""

    acid: Reading
    blank: Burette = quantity("0 mL", ("volume",))


class SoapSample(Record):
    """A soap titration: where, how much sample, how much acid of what strength, the blank.

    With two indicators `acid` is all acid used, to the second end point, and `catalyst` the first.
    """

    point: Text
    sample: Sample
    catalyst: CatalystEndPoint | None = None
    acid: Reading
    normality: Normality
    blank: Burette
    after: Volume | None = None
    retest: Yes = False


class FeedAcid(Record):
    """Acid value of the fuel before the columns, and how it was found."""

    value: AcidValue
    method: Text


class Polish(Record):
    """One run through the columns. A batch may take several: in parts, or once more what has run already (`again`).

    `through` names the vessels that were in line, where not all were; `bypassed` is the part of `volume` that went round
    them.
    """

    purifier: Id
    start: Moment
    end: Moment
    again: Yes = False
    through: Annotated[tuple[Id, ...], ListOf] = ()
    volume: SomeVolume | None = None
    bypassed: SomeVolume | None = None
    acid_value: FeedAcid | None = None
    readings: Annotated[tuple[GaugeReading, ...], ListOf] = ()
    soap: Annotated[tuple[SoapSample, ...], ListOf] = ()


Runs = Annotated[
    tuple[Polish, ...], BeforeValidator(_one_or_more, json_schema_input_type=Polish | tuple[Polish, ...])
]


class Fuel(Record):
    """What came out, and the tank it went into."""

    model_config = _exactly_one("volume", "mass")

    volume: Volume | None = None
    mass: Mass | None = None
    tank: Id | None = None

    @model_validator(mode="after")
    def _amount(self) -> Self:
        _one_of(self, "volume", "mass")
        return self

    @property
    def amount(self) -> Quantity:
        """The volume or the mass, whichever was written."""
        return _written_amount(self.volume, self.mass)


class OtherCost(Record):
    """A cost of this batch alone: laboratory, disposal."""

    what: Text = Field(alias="for")
    paid: WholePrice


class Credit(Record):
    """Money that this batch brought in beside its fuel: glycerol that was sold."""

    what: Text = Field(alias="for")
    amount: WholePrice


class Batch(Record):
    """One batch, in the order of the work. Fuel that is used as it is, without the columns, is `unpolished`."""

    model_config = ConfigDict(json_schema_extra={"if": _says("unpolished"), "then": _none_of(("polish",))})

    batch: Id
    date: Date
    private: Yes = False
    oil: Annotated[tuple[Use, ...], ListOf]
    titration: Titration | None = None
    water: WaterContent | None = None
    plan: Plan | None = None
    pretreatment: Pretreatment | None = None
    reaction: Annotated[tuple[Stage, ...], ListOf] = ()
    settled: Settled | None = None
    methanol_recovered: Recovered | None = None
    unpolished: Yes = False
    polish: Runs = ()
    fuel: Fuel | None = None
    tests: Annotated[tuple[Test, ...], ListOf] = ()
    energy: Energy | None = None
    labour: Duration | None = None
    other_costs: Annotated[tuple[OtherCost, ...], ListOf] = ()
    credits: Annotated[tuple[Credit, ...], ListOf] = ()
    note: Text | None = None
    public_note: Text | None = None

    def model_post_init(self, context: Any, /) -> None:
        """Keep which keys were written: a list of runs may be written and empty."""

    @model_validator(mode="after")
    def _run_or_none(self) -> Self:
        if self.unpolished and "polish" in self.model_fields_set:
            raise refuse(
                "one-of",
                "'unpolished' is said of a batch whose run through the columns is written",
                "leave one of the two out",
            )
        return self

    @property
    def is_planned(self) -> bool:
        """Whether the batch is still to come: a plan is written, and no reaction."""
        return self.plan is not None and not self.reaction

    @property
    def first_passes(self) -> tuple[Polish, ...]:
        """The runs in which fuel met the columns for the first time; together they are the batch."""
        return tuple(run for run in self.polish if not run.again)


# --- columns ----------------------------------------------------------------------------------------------------------


class Vessel(Record):
    """One vessel of a purifier; `glycerol_inlet` is the free glycerol assumed to reach it, whatever stands before it."""

    vessel: Id
    volume: SomeVolume
    diameter: SomeLength | None = None
    glycerol_inlet: ContentLine | None = None


class Pack(Record):
    """A vessel is filled: this begins a charge.

    `expected` is the fuel the maker counts on until a charge of this medium was unloaded; costs are spread over it.
    """

    date: Moment
    event: Literal["pack"]
    vessel: Id
    medium: Id
    lot: Id | None = None
    mass: SomeMass
    basis: Annotated[str, choice("as supplied", "dry")]
    bed: SomeVolume
    expected: Volume | None = None
    note: Text | None = None


class Rinse(Record):
    """A resin is rinsed with methanol; the rinsings are contaminated methanol and go somewhere."""

    date: Moment
    event: Literal["rinse"]
    vessel: Id
    used: Use | None = Field(None, alias="with")
    rinsings: Text | None = None
    note: Text | None = None


class Regenerate(Record):
    """A resin is brought back to its acid form, by someone who is trained for it."""

    date: Moment
    event: Literal["regenerate"]
    vessel: Id
    used: Use | None = Field(None, alias="with")
    spent: Yes = False
    note: Text | None = None


class Rest(Record):
    """The purifier stands idle: fuel stays in the beds, or is drained."""

    date: Moment
    event: Literal["rest"]
    until: Moment
    drained: SomeVolume | None = None
    note: Text | None = None


class Unload(Record):
    """A vessel is emptied: this ends its charge. Only a charge that was `spent` says how much its medium takes up.

    `drained` is fuel that ran out of it.
    """

    date: Moment
    event: Literal["unload"]
    vessel: Id
    reason: Text
    spent: Yes = False
    drained: SomeVolume | None = None
    note: Text | None = None


class Rotate(Record):
    """Two vessels change places in the line; only where both hold media of one type."""

    date: Moment
    event: Literal["rotate"]
    vessel: Id
    with_vessel: Id = Field(alias="with")
    note: Text | None = None


Event = Annotated[Pack | Rinse | Regenerate | Rest | Unload | Rotate, Discriminator("event")]


class Purifier(Record):
    """One purifier: its vessels in the order the fuel meets them, and what was done to them.

    `glycerol_inlet` is the free glycerol of the fuel that is fed to it, assumed until it is measured.
    """

    purifier: Id
    name: Text | None = None
    premises: Id | None = None
    glycerol_inlet: ContentLine | None = None
    vessels: Annotated[tuple[Vessel, ...], ListOf]
    history: Annotated[tuple[Event, ...], ListOf] = ()


# --- tanks ------------------------------------------------------------------------------------------------------------


class Cone(Record):
    """A cone: its point is the lowest place of a standing tank, and the outermost of a lying one."""

    kind: Literal["cone"]
    depth: SomeLength


class Hemispherical(Record):
    """Half a ball as wide as the cylinder."""

    kind: Literal["hemispherical"]


class Ellipsoidal(Record):
    """Half an ellipsoid as wide as the cylinder."""

    kind: Literal["ellipsoidal"]
    depth: SomeLength


class Torispherical(Record):
    """A dished end: part of a ball with a knuckle round it; a knuckle of 0 cm is none."""

    kind: Literal["torispherical"]
    dish: SomeLength
    knuckle: Length


End = Annotated[Cone | Hemispherical | Ellipsoidal | Torispherical, Discriminator("kind")]


def _fitting(end: End | None, diameter: Quantity) -> None:
    """A dished end has to meet its cylinder."""
    if isinstance(end, Torispherical) and not end.knuckle.value <= diameter.value / 2 <= end.dish.value:
        told = f"a dish of {end.dish.text} with a knuckle of {end.knuckle.text} does not meet a cylinder of {diameter.text}"
        hint = "write radii: that of the dish is half the diameter or more, that of the knuckle half of it or less"
        raise refuse("shape-impossible", told, hint)


class Cylinder(Record):
    """A standing cylinder, inner measures; flat below where no bottom is written. A dip counts from the lowest point."""

    diameter: SomeLength
    height: SomeLength
    bottom: End | None = None

    @model_validator(mode="after")
    def _meets(self) -> Self:
        _fitting(self.bottom, self.diameter)
        return self


class LyingCylinder(Record):
    """A lying cylinder, inner measures, with two heads alike; flat ones where none are written."""

    diameter: SomeLength
    length: SomeLength
    heads: End | None = None

    @model_validator(mode="after")
    def _meets(self) -> Self:
        _fitting(self.heads, self.diameter)
        return self


class DipPoint(Record):
    """What a tank holds up to a dip, by its own table."""

    dip: Length
    volume: Volume


def _rising(points: tuple[DipPoint, ...]) -> tuple[DipPoint, ...]:
    if len(points) < 2:
        raise refuse(
            "dip-table", "a table of dips has two lines or more", "write its first and its last line"
        )
    for before, point in pairwise(points):
        if not (before.dip.exact < point.dip.exact and before.volume.exact < point.volume.exact):
            told = f"{point.volume.text} at {point.dip.text} does not lie above {before.volume.text} at {before.dip.text}"
            raise refuse("dip-table", told, "write the lines from below upwards; dip and volume both rise")
    return points


class Shape(Record):
    """The shape of a tank: a cylinder that stands or lies, or the tank's own table of dips."""

    model_config = _exactly_one("vertical cylinder", "horizontal cylinder", "dip table")

    vertical_cylinder: Cylinder | None = Field(None, alias="vertical cylinder")
    horizontal_cylinder: LyingCylinder | None = Field(None, alias="horizontal cylinder")
    dip_table: Annotated[tuple[DipPoint, ...], ListOf, AfterValidator(_rising)] | None = Field(
        None, alias="dip table"
    )

    @model_validator(mode="after")
    def _kind(self) -> Self:
        _one_of(self, "vertical_cylinder", "horizontal_cylinder", "dip_table")
        return self


class TankEvent(Record):
    """One thing that happened to a tank: a draw, a dip, or a fill from elsewhere than a batch.

    A dip with `settle: true` sets the book to what was found; any other dip only stands beside it. `temperature` is that of
    the fuel that was dipped; the assumed one counts where it is not written.
    """

    model_config = _exactly_one("draw", "dip", "fill")

    date: Moment
    draw: Volume | None = None
    to: Text | None = None
    use: Text | None = None
    dip: Length | None = None
    temperature: Temperature | None = None
    settle: Yes = False
    fill: Volume | None = None
    source: Text | None = Field(None, alias="from")
    note: Text | None = None

    @model_validator(mode="after")
    def _kind(self) -> Self:
        _one_of(self, "draw", "dip", "fill")
        return self


class Tank(Record):
    """A storage tank, its shape and its history; batches fill it by name. What lies below its outlet is its heel."""

    tank: Id
    name: Text | None = None
    premises: Id | None = None
    shape: Shape
    outlet: Length | None = None
    history: Annotated[tuple[TankEvent, ...], ListOf] = ()


# --- offers and prices ------------------------------------------------------------------------------------------------


class Offer(Record):
    """Oil on offer. `bought_as` names the lot once it was bought, `declined` the day it was turned down."""

    offer: Id
    material: Id
    offered: Date
    valid_until: Date | None = None
    source: Text | None = None
    quantity: SomeAmount
    asked: AnyPrice
    distance: Distance | None = None
    tests: Annotated[tuple[Test, ...], ListOf] = ()
    bought_as: Id | None = None
    declined: Date | None = None
    note: Text | None = None


class PricePoint(Record):
    """A price from a day on, until the next one."""

    date: Date
    value: AnyPrice


SERIES = ("diesel", "electricity")


class PriceSeries(Record):
    """A dated reference price: pump diesel, electricity."""

    price: Annotated[str, choice(*SERIES)]
    source: Text | None = None
    series: Annotated[tuple[PricePoint, ...], ListOf]


# --- free pages -------------------------------------------------------------------------------------------------------


class PageHead(Record):
    """The head of a file in `pages/`, between two lines of three hyphens."""

    title: Text
    public: Yes = False


class Page(Record):
    """A free text of the logbook, in Markdown."""

    id: str
    title: str
    public: bool
    text: str


def day_of(moment: date | datetime) -> date:
    """The day of a date or of a date and time."""
    return moment.date() if isinstance(moment, datetime) else moment


# --- files ------------------------------------------------------------------------------------------------------------


class FileKind(NamedTuple):
    """What each file of a folder holds: a record, and the key of its id."""

    model: type[Record]
    key: str


# by folder, in the order in which they are read
KINDS: Mapping[str, FileKind] = {
    "lots": FileKind(Lot, "lot"),
    "batches": FileKind(Batch, "batch"),
    "columns": FileKind(Purifier, "purifier"),
    "tanks": FileKind(Tank, "tank"),
    "offers": FileKind(Offer, "offer"),
    "prices": FileKind(PriceSeries, "price"),
}
