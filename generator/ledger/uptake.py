"""What each bed took up in a run, from the samples there are: exact, bounded, or from a feed that had to be predicted.

Between two samples with one bed the uptake is their difference. Between two samples with several beds each took from
nothing to all of it, and what is estimated of each adds up to the whole. Without a sample of the feed, the feed is taken
to be like this purifier's last ten before that day, and every figure made from it is marked `predicted`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise
from statistics import median

from generator.formulas.columns import equivalents_mol, taken_up_g
from generator.ledger.batch_facts import known
from generator.ledger.charges import BOUNDED, MEASURED, PREDICTED, Charge, Held, Life, Run, plus
from generator.ledger.interval import Interval
from generator.ledger.passes import Pass, Taken
from generator.ledger.usual import Feeds, Usual, interval_of, points_of
from generator.ledger.whole import fed_again
from generator.records import Purifier
from generator.units import Quantity


def attribute(passes: Sequence[Pass], purifier: Purifier) -> None:
    """Write into every run of one purifier what its bed took up of soap and glycerol; passes come in time."""
    feeds = Feeds(passes)
    earlier: dict[str, list[Pass]] = defaultdict(list)
    for one in passes:
        _find_feed(one, earlier[one.batch], feeds)
        earlier[one.batch].append(one)
    usual, glycerol = Usual(passes), _Glycerol(purifier)
    for one in passes:
        _soap(one, usual)
        glycerol.through(one)


def _find_feed(one: Pass, before: list[Pass], feeds: Feeds) -> None:
    """The soap of what was fed: titrated, that of the same fuel's other run, or like those before it."""
    own = interval_of(one.soap[0])
    if own is not None:
        one.feed = own
    elif one.again:
        one.feed = fed_again(before, one.fed_kg)
    elif before and not before[-1].again and before[-1].feed_basis == MEASURED:
        one.feed = before[-1].feed
    elif around := feeds.around(one.start):
        one.feed = Interval(min(feed.low for feed in around), max(feed.high for feed in around))
        one.feed_basis, one.feed_estimate = PREDICTED, median(feed.middle for feed in around)
        return
    if one.feed is not None:
        one.feed_basis, one.feed_estimate = MEASURED, one.feed.middle


def _difference_g(before: Interval, behind: Interval, kg: float) -> Interval:
    """What stayed between two points, g; below zero only where the outlet lies above the inlet beyond doubt."""
    gave_back = behind.low > before.high
    stayed = (
        Interval(before.low - behind.high, before.high - behind.low) if gave_back else before.minus(behind)
    )
    return Interval(taken_up_g(stayed.low, 0.0, kg), taken_up_g(stayed.high, 0.0, kg))


def _soap(one: Pass, usual: Usual) -> None:
    points, beds = points_of(one), len(one.runs)
    for place, run in enumerate(one.runs):
        run.soap_in = points[place] if place or one.feed_basis == MEASURED else None
        run.soap_out = points[place + 1]
    kg = one.fed_kg
    known = [place for place, point in enumerate(points) if point is not None]
    if kg is None or not known:
        return
    for first, last in pairwise([*known, beds]):
        if first == last:
            continue
        runs, inlet, outlet = one.runs[first:last], points[first], points[last]
        assert inlet is not None
        predicted = first == 0 and one.feed_basis == PREDICTED
        middle = one.feed_estimate if first == 0 else inlet.middle
        assert middle is not None
        alone = len(runs) == 1 and outlet is not None
        basis = PREDICTED if predicted else MEASURED if alone else BOUNDED
        if outlet is None:  # nothing was sampled behind them
            whole = Interval(0.0, taken_up_g(inlet.high, 0.0, kg))
            _open_ended(runs, whole.high, taken_up_g(middle, 0.0, kg), usual, beds)
        else:
            whole = _difference_g(inlet, outlet, kg)
            guess = _difference_g(Interval(middle, middle), outlet, kg).middle if predicted else whole.middle
            _between(runs, whole, guess, usual, beds)
        one.taken.append(Taken(range(first, last), whole, basis))
        for run in runs:
            run.basis = basis


def _between(runs: Sequence[Run], whole: Interval, guess: float, usual: Usual, beds: int) -> None:
    """One bed took the whole; several took from nothing to all of it each, and what is estimated adds up to it."""
    if len(runs) == 1:
        runs[0].soap_g, runs[0].estimate_g = whole, whole.held(guess)
        return
    for run, share in zip(runs, usual.shares(runs, beds), strict=True):
        run.soap_g = Interval(min(whole.low, 0.0), max(whole.high, 0.0))
        run.estimate_g = share * guess


def _open_ended(runs: Sequence[Run], most_g: float, middle_g: float, usual: Usual, beds: int) -> None:
    """No sample behind: each took from nothing to all that came; its usual share of it, or all where none is known."""
    rest = middle_g
    for place, run in enumerate(runs):
        run.soap_g = Interval(0.0, most_g)
        share = usual.of(run, beds)
        run.estimate_g = rest * (share if share is not None else 1.0 if place == 0 else 0.0)
        rest -= run.estimate_g


class _Glycerol:
    """Glycerol through the beds, from the content assumed. A bed takes all that reaches it; where a bed behind it takes
    glycerol too, only until it is full.
    """

    def __init__(self, purifier: Purifier) -> None:
        self.inlet = purifier.glycerol_inlet
        self.held: dict[str, float] = defaultdict(float)
        self.reset: dict[str, int] = defaultdict(int)

    def through(self, one: Pass) -> None:
        rest = self._reaching(self.inlet, one)
        for place, (charge, run) in enumerate(zip(one.line, one.runs, strict=True)):
            if charge.vessel.glycerol_inlet is not None:
                rest = self._reaching(charge.vessel.glycerol_inlet, one)
            if charge.ledger("glycerol") is None:
                run.glycerol_g = 0.0
                continue
            capacity = charge.capacity_g("glycerol")
            behind = any(other.ledger("glycerol") is not None for other in one.line[place + 1 :])
            run.glycerol_g = rest
            if rest is not None and behind and capacity is not None:
                run.glycerol_g = min(rest, max(capacity - self._held(charge, run), 0.0))
            rest = rest - run.glycerol_g if rest is not None and run.glycerol_g is not None else None
            self.held[charge.id] += run.glycerol_g or 0.0

    def _reaching(self, content: Quantity | None, one: Pass) -> float | None:
        if content is None or one.fed_kg is None:
            return None
        return taken_up_g(content.value, 0.0, one.fed_kg)

    def _held(self, charge: Charge, run: Run) -> float:
        for reset in charge.resets[self.reset[charge.id] :]:
            if reset.at > run.start:
                break
            self.reset[charge.id] += 1
            left = charge.left_by("glycerol", reset.by)
            self.held[charge.id] *= 1.0 if left is None else left
        return self.held[charge.id]


def accumulate(charge: Charge) -> None:
    """Add up the ledgers of a charge run by run, with what its rinses and regenerations take out of them."""
    charge.soap, charge.glycerol, charge.exchanged_mol, charge.lives = Held(), Held(), 0.0, []
    resets = list(charge.resets)
    for place, run in enumerate([*charge.runs, None]):
        while resets and resets[0].runs <= place:
            reset = resets.pop(0)
            if charge.left_by("soap", reset.by) is not None:
                charge.lives.append(_life(charge, reset.at, reset.spent))
            _reset(charge, reset.by)
        if run is None:
            break
        run.life = 1 + len(charge.lives)
        low, high = (run.soap_g.low, run.soap_g.high) if run.soap_g is not None else (0.0, None)
        _add(charge.soap, low, run.estimate_g, high)
        _add(charge.glycerol, run.glycerol_g, run.glycerol_g, run.glycerol_g)
        mol = known(equivalents_mol, run.estimate_g, run.soap_g_per_mol)
        charge.exchanged_mol = plus(charge.exchanged_mol, mol)
        run.load_g, run.glycerol_load_g = charge.soap.estimate, charge.glycerol.estimate
    if charge.unloaded is not None:
        charge.lives.append(_life(charge, charge.unloaded, charge.spent))


def _life(charge: Charge, ended: datetime, spent: bool) -> Life:
    soap = charge.soap
    return Life(charge.id, ended, spent, soap.low, soap.estimate, soap.high)


def _reset(charge: Charge, by: str) -> None:
    for of, held in (("soap", charge.soap), ("glycerol", charge.glycerol)):
        share = charge.left_by(of, by)
        if share is None:
            continue
        for name in ("low", "estimate", "high"):
            value = getattr(held, name)
            # emptied, a ledger is known again
            setattr(held, name, 0.0 if share == 0 else value * share if value is not None else None)
        if of == "soap":
            mol = charge.exchanged_mol
            charge.exchanged_mol = 0.0 if share == 0 else mol * share if mol is not None else None


def _add(held: Held, low: float | None, estimate: float | None, high: float | None) -> None:
    """A bed never holds less than nothing; what is unknown once stays unknown."""
    held.low = max(held.low + low, 0.0) if held.low is not None and low is not None else None
    held.estimate = (
        max(held.estimate + estimate, 0.0) if held.estimate is not None and estimate is not None else None
    )
    held.high = max(held.high + high, 0.0) if held.high is not None and high is not None else None
