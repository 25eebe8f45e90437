"""What a feed is likely to have been, and what share of it a bed usually takes, by the samples of other runs."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime
from statistics import median

from generator.ledger.charges import MEASURED, Run
from generator.ledger.interval import Interval
from generator.ledger.passes import Pass
from generator.ledger.soap import Soap

RECENT = 10
LEAST = 3  # feeds, or runs


class Feeds:
    """The feeds that were titrated, by time; what another one is likely to have been."""

    def __init__(self, passes: Sequence[Pass]) -> None:
        """Keep the measured feeds of one purifier, in time; one for each batch, the mean where it ran in parts."""
        lows, highs = _Means(), _Means()
        for one in passes:
            if (feed := interval_of(one.soap[0])) is not None and not one.again:
                lows.add(one.start, one.batch, feed.low)
                highs.add(one.start, one.batch, feed.high)
        self.starts = lows.starts
        self.found = [Interval(low, high) for low, high in zip(lows.found, highs.found, strict=True)]

    def around(self, start: datetime) -> list[Interval]:
        """The last ten before a moment; where these are fewer than three, the next ones too."""
        place = bisect_left(self.starts, start)
        before = self.found[max(place - RECENT, 0) : place]
        short = max(LEAST - len(before), 0)
        return before + self.found[place : place + short]


class Usual:
    """The share of what reaches it that a bed usually takes, by the measured runs before: its own in that place, else
    any bed's there; at the start of a logbook the first ones that came after.

    A share and no grams, so that half a batch counts as half. Runs before, so that a later sample leaves what was
    estimated as it is.
    """

    def __init__(self, passes: Sequence[Pass]) -> None:
        """Keep what measured runs of one purifier took: of a charge the last three count, of a place the last ten."""
        self.charges: dict[tuple[str, int], _Shares] = defaultdict(lambda: _Shares(LEAST))
        self.places: dict[tuple[int, int], _Shares] = defaultdict(lambda: _Shares(RECENT))
        for one in passes:
            points = points_of(one)
            for place, run in enumerate(one.runs):
                inlet, outlet = points[place], points[place + 1]
                sampled = place > 0 or one.feed_basis == MEASURED
                if inlet is None or outlet is None or not sampled or one.again or inlet.low <= 0:
                    continue
                share = min(max(1 - outlet.middle / inlet.middle, 0.0), 1.0)
                self.charges[run.charge, run.place].add(one.start, one.batch, share)
                self.places[len(one.runs), place].add(one.start, one.batch, share)

    def of(self, run: Run, beds: int) -> float | None:
        """None where neither the charge nor the place has a measured run."""
        own, any_bed = self.charges.get((run.charge, run.place)), self.places.get((beds, run.place))
        kept = [shares for shares in (own, any_bed) if shares is not None]
        before = (shares.before(run.start) for shares in kept)
        found = next((share for share in before if share is not None), None)
        return found if found is not None else next((shares.first() for shares in kept), None)

    def shares(self, runs: Sequence[Run], beds: int) -> list[float]:
        """How a sum over several beds is likely to be split; all of it to the first where nothing is known."""
        found = [self.of(run, beds) for run in runs]
        weights, rest = [], 1.0
        for share in found:
            weights.append(rest * (share or 0.0))
            rest -= weights[-1]
        if None in found or not sum(weights):
            return [1.0, *([0.0] * (len(runs) - 1))]
        return [weight / sum(weights) for weight in weights]


class _Means:
    """What was measured of each batch, by time; the mean where it ran in parts, so that parts count as one."""

    def __init__(self) -> None:
        self.starts: list[datetime] = []
        self.found: list[float] = []
        self.parts: list[int] = []
        self.batches: dict[str, int] = {}

    def add(self, start: datetime, batch: str, value: float) -> None:
        place = self.batches.setdefault(batch, len(self.found))
        if place == len(self.found):
            self.starts.append(start)
            self.found.append(value)
            self.parts.append(1)
            return
        self.parts[place] += 1
        self.found[place] += (value - self.found[place]) / self.parts[place]


class _Shares(_Means):
    """Shares that were measured, of which the last ones count."""

    def __init__(self, last: int) -> None:
        super().__init__()
        self.last = last

    def before(self, start: datetime) -> float | None:
        """The median of the last ones before a moment."""
        place = bisect_left(self.starts, start)
        return median(self.found[max(place - self.last, 0) : place]) if place else None

    def first(self) -> float:
        """The median of the first three."""
        return median(self.found[:LEAST])


def points_of(one: Pass) -> list[Interval | None]:
    """Soap at every point of the line, with the feed as found."""
    return [one.feed, *(interval_of(found) for found in one.soap[1:])]


def interval_of(result: Soap | None) -> Interval | None:
    """A soap result as an interval; None where nothing bounds it from above, as without a sample."""
    if result is None or result.high_mg_per_kg is None:
        return None
    return Interval(result.low_mg_per_kg, result.high_mg_per_kg)
