"""One row per event of a tank."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from generator.compute.frames import frame
from generator.ledger.tanks import TankBook
from generator.tables import TANKS


def tanks(books: Mapping[str, TankBook]) -> pd.DataFrame:
    """All events of all tanks, by tank and time; one row each."""
    return frame(
        TANKS,
        [
            {
                "tank": name,
                "date": move.moment.date().isoformat(),
                "event": move.event,
                "batch": move.batch or None,
                "volume_l": float(move.litres) if move.event != "dip" else None,
                "content_l": float(move.content),
                "dipped_l": float(move.dipped) if move.dipped is not None else None,
                "u_dipped_l": move.dipped_u,
                "difference_l": float(move.difference) if move.difference is not None else None,
                "capacity_l": float(book.capacity),
                "heel_l": float(book.heel) if book.heel is not None else None,
                "to": move.to or None,
                "use": move.use or None,
            }
            for name, book in books.items()
            for move in book.movements
        ],
    )
