"""The rules that look across files: one rule a module, its docstring is its documentation."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from generator.ledger.ledgers import Ledgers
from generator.problems import Problem
from generator.validate.checks import (
    acid,
    attachments,
    closed,
    columns,
    dates,
    figures,
    habits,
    limits,
    materials,
    methods,
    offers,
    oil,
    plan_rule,
    plan_stock,
    planned,
    polish,
    poured,
    pretreatments,
    prices,
    references,
    runs,
    samples,
    settings,
    stock,
    tanks,
    temperatures,
    theme,
    titrants,
)

Check = Callable[[Ledgers], Iterator[Problem]]

# each record, and what it names
RECORD_CHECKS: tuple[Check, ...] = (
    settings.check,
    limits.check,
    methods.check,
    attachments.check,
    theme.check,
    materials.check,
    references.check,
    dates.check,
    prices.check,
    offers.check,
    oil.check,
    figures.check,
    plan_rule.check,
    poured.check,
    planned.check,
    polish.check,
    pretreatments.check,
    samples.check,
    temperatures.check,
    titrants.check,
    habits.check,
)
# balances over all records: one that is wrong by itself would only make them wrong
BALANCE_CHECKS: tuple[Check, ...] = (
    stock.check,
    closed.check,
    plan_stock.check,
    columns.check,
    runs.check,
    acid.check,
    tanks.check,
)
