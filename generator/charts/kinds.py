"""Rows -> chart specifications: one theme, one module a family of kinds. Specifications hold no row of a logbook.

To add a kind: a function from `params` to a specification in one of the modules, and its name in that module's `SPECS`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from generator.charts import columns, costs, drift, quality, stores, yields
from generator.language import Language, spoken

Spec = dict[str, Any]
KINDS: Mapping[str, Callable[[Mapping[str, Any]], Spec]] = {
    **columns.SPECS,
    **costs.SPECS,
    **drift.SPECS,
    **quality.SPECS,
    **stores.SPECS,
    **yields.SPECS,
}


def spec(kind: str, params: Mapping[str, Any]) -> Spec:
    """The Vega-Lite specification of a kind, reading rows named `table`; KeyError for a kind that is not known.

    It is made once for the same `params` and language, and shared: whoever adds rows does so in a copy.
    """
    return _made(kind, json.dumps(params, sort_keys=True, allow_nan=False), spoken())


@cache
def _made(kind: str, params: str, _: Language) -> Spec:
    return KINDS[kind](json.loads(params))
