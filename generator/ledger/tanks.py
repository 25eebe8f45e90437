"""What is in each tank: fills by batches, draws and dips folded in time, in exact decimals."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, time
from decimal import Decimal

from generator.formulas.density import volume_at_reference_l
from generator.ledger.basis import FUEL, amount, density_line
from generator.ledger.shells import Shell, shell_of
from generator.log import Entry, Log
from generator.problems import Place
from generator.records import Tank, TankEvent
from generator.units import Quantity, to_exact


@dataclass(frozen=True, slots=True)
class Movement:
    """One event of a tank; litres at the reference temperature."""

    moment: datetime
    event: str
    litres: Decimal
    content: Decimal
    place: Place
    batch: str = ""
    to: str = ""
    use: str = ""
    dipped: Decimal | None = None
    dipped_u: float | None = None
    difference: Decimal | None = None
    settles: bool = False


@dataclass(slots=True)
class TankBook:
    """A tank's shell, its volume, what lies below its outlet where that is known, and its movements."""

    tank: str
    shell: Shell
    capacity: Decimal
    heel: Decimal | None = None
    movements: list[Movement] = field(default_factory=list)

    @property
    def content(self) -> Decimal:
        """What the book says is in it."""
        return self.movements[-1].content if self.movements else Decimal(0)

    @property
    def last_dip(self) -> Movement | None:
        """The last dip, if any."""
        return next((item for item in reversed(self.movements) if item.event == "dip"), None)


def books(log: Log) -> dict[str, TankBook]:
    """Fold all tanks."""
    return {name: _fold(log, entry) for name, entry in log.tanks.items()}


def _litres(log: Log, quantity: Quantity) -> Decimal:
    if quantity.kind == "volume" and quantity.at_c == log.reference_c:
        return quantity.exact
    return to_exact(amount(log, quantity, density_line(log, FUEL)).litres)


def _fold(log: Log, entry: Entry[Tank]) -> TankBook:
    shell, outlet = shell_of(entry.record.shape), entry.record.outlet
    heel = to_exact(shell.litres(outlet.value)) if outlet is not None else None
    book = TankBook(entry.id, shell, to_exact(shell.capacity_l), heel)
    content = Decimal(0)
    for moment, _, _, step in sorted(_steps(log, entry, shell), key=lambda item: item[:3]):
        before = content
        content += (
            step.litres if step.event == "fill" else -step.litres if step.event == "draw" else Decimal(0)
        )
        if step.settles and step.dipped is not None:
            content = step.dipped
        book.movements.append(
            Movement(
                moment,
                step.event,
                step.litres,
                content,
                step.place,
                step.batch,
                step.to,
                step.use,
                step.dipped,
                step.dipped_u,
                None if step.dipped is None else step.dipped - before,
                step.settles,
            )
        )
    return book


def _steps(log: Log, entry: Entry[Tank], shell: Shell) -> list[tuple[datetime, int, str, Movement]]:
    """Fills by batches at the end of their run (or their day), then draws, then dips of the same moment."""
    out = []
    for batch in log.batches.values():
        fuel = batch.record.fuel
        if fuel is None or fuel.tank != entry.id:
            continue
        name = "volume" if fuel.volume is not None else "mass"
        ends = [run.end for run in batch.record.polish]
        moment = max(ends, default=datetime.combine(batch.record.date, time.min))
        step = Movement(
            moment, "fill", _litres(log, fuel.amount), Decimal(0), batch.at("fuel", name), batch=batch.id
        )
        out.append((_end_of_day(step.moment, 0), 0, batch.id, step))
    for number, event in enumerate(entry.record.history):
        if event.draw is not None:
            place = entry.at("history", number, "draw")
            step = Movement(
                event.date,
                "draw",
                _litres(log, event.draw),
                Decimal(0),
                place,
                to=event.to or "",
                use=event.use or "",
            )
            out.append((_end_of_day(event.date, 1), 1, f"{number:06}", step))
        elif event.fill is not None:
            place = entry.at("history", number, "fill")
            step = Movement(
                event.date, "fill", _litres(log, event.fill), Decimal(0), place, to="", use=event.source or ""
            )
            out.append((_end_of_day(event.date, 0), 0, f"{number:06}", step))
        elif event.dip is not None:
            place = entry.at("history", number, "dip")
            step = Movement(
                event.date,
                "dip",
                Decimal(0),
                Decimal(0),
                place,
                dipped=_dipped(log, event, shell.litres(event.dip.value)),
                dipped_u=shell.standard_l(event.dip.value, log.settings.instruments.dip.value),
                settles=event.settle and shell.holds(event.dip.value),
            )
            out.append((_end_of_day(event.date, 2), 2, f"{number:06}", step))
    return out


def _end_of_day(moment: datetime, rank: int) -> datetime:
    """An event written without a time is taken after the fills of its day: draws late, dips last."""
    if rank and moment.time() == time.min:
        return datetime.combine(moment.date(), time(23, 58 + rank - 1))
    return moment


def _dipped(log: Log, event: TankEvent, litres: float) -> Decimal:
    """Litres below a dip at the reference temperature, from that of the fuel or the assumed one."""
    line = density_line(log, FUEL)
    at_c = (event.temperature or log.settings.assumed_temperature).value
    return to_exact(volume_at_reference_l(litres, line.at(at_c), line.at(log.reference_c)))
