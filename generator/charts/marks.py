"""Words for the marks of charts whose rows pages tell apart by them; without the library of charts, which is slow to import."""

from __future__ import annotations

from generator.language import term

# of a value that control limits stand for
STATES = (
    term("limits frozen from it"),
    term("held to the limits"),
    term("only a bound"),
    term("something calls"),
)
# of a result: where it was found, or which way its bound lies
RESULTS = (term("bench"), term("laboratory"), term("less than"), term("more than"))
