"""Words of files and tables that pages say in the language in use, as `said` finds them; nothing else reads this list."""

from __future__ import annotations

from generator.language import term

WORDS = (
    # yes, no, and what stands in place of a figure
    *(term("yes"), term("no"), term("none"), term("unknown"), term("all stages"), term("spent")),
    # where a vessel stands, what was done to it, how a run is known
    *(term("lead"), term("lag"), term("alone"), term("pack"), term("unload"), term("rinse"), term("rotate")),
    *(term("rest"), term("regenerate"), term("measured"), term("bounded"), term("predicted")),
    # tanks and offers
    *(
        term("fill"),
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
)
