"""The types of money in the grammar: a currency by its code, a price in that of the logbook or in one with a rate."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import PlainValidator, ValidationInfo

from generator.fields import gallon_of, refuse, text_of
from generator.units import NotAQuantity, Price, price


def _currency(value: Any) -> str:
    text = text_of(value)
    if re.fullmatch(r"[A-Z]{3}", text) is None:
        told = f"'{text[:40]}' is not a currency code"
        raise refuse("price-currency", told, "write its three letters, such as EUR or USD", text.upper())
    return text


def _price(value: Any, info: ValidationInfo) -> Price:
    own = str((info.context or {}).get("currency", ""))
    try:
        found = price(text_of(value), gallon_of(info), own)
    except NotAQuantity as error:
        raise refuse(error.code, error.message, error.hint) from None
    if own and found.currency not in (own, *(info.context or {}).get("rates", "").split()):
        told = f"'{found.text}' is in {found.currency}, the logbook is kept in {own}"
        raise refuse("price-currency", told, without_rate(found.currency, own))
    if found.amount < 0:
        hint = "write it without the minus; what was paid back is a refund, what a batch brought in a credit"
        raise refuse("out-of-range", f"'{found.text}' is below zero", hint)
    return found


def without_rate(currency: str, own: str, day: str = "YYYY-MM-DD") -> str:
    """What to do about a price in a currency without a rate."""
    line = f"rates: [{{currency: {currency}, from: {day}, value: ... {own}}}]"
    return f"convert it and write {own}, or write in logbook.yaml what 1 {currency} was worth: {line}"


Currency = Annotated[str, PlainValidator(_currency)]
AnyPrice = Annotated[Price, PlainValidator(_price)]
