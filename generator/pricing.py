"""The types of money in the grammar: a currency by its code, a price in that of the logbook or in one with a rate."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import PlainValidator, ValidationInfo

from generator.fields import gallon_of, refuse, text_of
from generator.mending import coded
from generator.units import NotAQuantity, Price, price


def _currency(value: Any) -> str:
    text = text_of(value)
    if re.fullmatch(r"[A-Z]{3}", text) is None:
        told = f"'{text[:40]}' is not a currency code"
        raise refuse("price-currency", told, "write its three letters, such as EUR or USD", text.upper())
    return text


def _price(value: Any, info: ValidationInfo) -> Price:
    own = str((info.context or {}).get("currency", ""))
    known = (own, *(info.context or {}).get("rates", "").split())
    try:
        found = price(text_of(value), gallon_of(info), own)
    except NotAQuantity as error:
        meant = _currency_of(coded(str(value))) if error.code == "price-currency" else ""
        hint = without_rate(meant, own) if own and meant and meant not in known else error.hint
        raise refuse(error.code, error.message, hint) from None
    if own and found.currency not in known:
        told = f"'{found.text}' is in {found.currency}, the logbook is kept in {own}"
        raise refuse("price-currency", told, without_rate(found.currency, own))
    if found.amount < 0:
        hint = "write it without the minus; what was paid back is a refund, what a batch brought in a credit"
        raise refuse("out-of-range", f"'{found.text}' is below zero", hint)
    return found


def _currency_of(text: str) -> str:
    """The three letters in a price; nothing where there are none."""
    found = re.search(r"[A-Z]{3}", text)
    return found[0] if found else ""


def without_rate(currency: str, own: str, day: str = "YYYY-MM-DD") -> str:
    """What to do about a price in a currency without a rate."""
    line = f"rates: [{{currency: {currency}, from: {day}, value: ... {own}}}]"
    return f"convert it and write {own}, or write in logbook.yaml what 1 {currency} was worth: {line}"


Currency = Annotated[str, PlainValidator(_currency)]
AnyPrice = Annotated[Price, PlainValidator(_price)]
