"""Words of files and tables that pages say in the language in use, as `said` finds them; nothing else reads this list."""

from __future__ import annotations

from generator.language import tell, term

WORDS = (
    # yes, no, and what stands in place of a figure
    *(term("yes"), term("no"), term("none"), term("unknown"), term("all stages"), term("spent")),
    # where a vessel stands, what was done to it, how a run is known
    *(term("lead"), term("lag"), term("alone"), term("pack"), term("unload"), term("rinse"), term("rotate")),
    *(term("rest"), term("regenerate"), term("measured"), term("bounded"), term("predicted")),
    # tanks and offers
    *(
        term("fill"),
        term("filled"),
        term("drawn"),
        term("draw"),
        term("dip"),
        term("open"),
        term("bought"),
        term("declined"),
        term("expired"),
    ),
    # how a result stands
    *(term("within"), term("outside"), term("cannot tell"), term("no limit"), term("not tested")),
    *(term("not asked"), term("bench only"), term("its last digit alone"), term("its readings")),
    # the history of a batch
    *(term("recorded"), term("changed"), term("removed"), term("cannot be read")),
    # how a figure was made
    *(term("named lot"), term("moving average"), term("profile"), term("saponification value")),
    *(term("as predicted"), term("weighted mean"), term("cumulative sum"), term("titration")),
    *(term("what it treated"), term("median of the finished charges of this medium")),
    # parts of a batch and of a cost
    *(term("oil"), term("methanol"), term("catalyst"), term("acid"), term("energy"), term("media")),
    *(term("overheads"), term("credits")),
    *(term("labour"), term("other"), term("other costs"), term("fuel"), term("layer"), term("finished fuel")),
    *(term("layer drawn off"), term("methanol taken back"), term("acid layer"), term("glycerol")),
    *(
        term("cost with media"),
        term("cost of oil"),
        term("soap"),
        term("oleic"),
        term("palmitic"),
        term("lauric"),
    ),
    *(term("water"), term("acid value"), term("feed"), term("between"), term("product")),
    # what an uncertainty comes from
    *(term("fuel fed"), term("titration"), term("blank of the titration"), term("sample of oil")),
    *(term("titrant on phthalate"), term("blank on phthalate"), term("phthalate")),
    *(tell("acid to the first end point, {point}"), tell("blank to the first end point, {point}")),
    *(tell("acid, {point}"), tell("blank, {point}"), tell("sample, {point}"), tell("after {vessel}")),
    *(tell("purity of the {of}"), tell("density of the {of}"), term("the uncertainty written (k = 2)")),
    *(term("a typical used oil"), term("first stage"), term("the logbook"), term("its own")),
    *(term("lower than predicted"), term("higher than predicted"), term("new oil"), term("new charge")),
    *(term("what the maker expects"), term("its own soap so far against the capacity")),
    *(term("not known"), term("earlier lots"), term("an older version cannot be read by this tool")),
    *(term("acid layer"), term("fuel before the columns")),
    # an amount as it was written, a method of the bench
    *(term("fuel fed once more"), term("fuel that went round the columns"), term("planned methanol")),
    *(term("layer drawn off after the pre-treatment"), term("energy used"), term("hours worked")),
    *(tell("{amount} at {temperature}"), term("titration of the product"), term("haze")),
)
