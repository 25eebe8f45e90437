"""The workshop's settings name a specification and public fields that exist."""

from __future__ import annotations

from collections.abc import Iterator

from generator.log import Log
from generator.problems import Problem, did_you_mean
from generator.specifications import specifications
from generator.tables import widenable


def check(log: Log) -> Iterator[Problem]:
    """Name what the settings point at and the tool does not have."""
    settings = log.settings
    chosen = settings.specification
    if chosen is not None and (chosen.standard, chosen.edition) not in specifications():
        known = [f"{standard}, edition {edition}" for standard, edition in specifications()]
        yield Problem(
            "unknown-specification",
            log.workshop.at("specification"),
            f"no limits are stored for {chosen.standard}, edition {chosen.edition}",
            f"stored: {'; '.join(sorted(known))}",
        )
    for number, name in enumerate(settings.public):
        if name not in widenable():
            place = log.workshop.at("public", number)
            yield Problem(
                "unknown-public-field",
                place,
                f"'{name}' is not a field that can be made public",
                did_you_mean(name, widenable()),
            )
    for key, unit in (("labour_rate", "h"), ("collection_rate", "km"), ("target_cost", "L")):
        rate = getattr(settings, key)
        kinds = {"h": "duration", "km": "distance", "L": "volume"}
        if rate is not None and (rate.per is None or rate.per.kind != kinds[unit]):
            yield Problem(
                "price-unit",
                log.workshop.at(key),
                f"'{rate.text}' is not per {kinds[unit]}",
                f"write it like 0.50 {rate.currency}/{unit}",
            )
