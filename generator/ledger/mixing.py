"""The parts of what counts as mixed through, in litres: what goes out takes of each its share, and too little to name goes together."""

from __future__ import annotations

from collections.abc import Mapping

NAMED_SHARE = 0.001


def scaled(parts: Mapping[str, float], content_l: float) -> dict[str, float]:
    """The same parts of another content; none of an empty one."""
    total = sum(parts.values())
    if content_l <= 0 or not total:
        return {}
    return {name: litres * content_l / total for name, litres in parts.items()}


def together(parts: Mapping[str, float], found: Mapping[str, float], earlier: str) -> dict[str, float]:
    """Both together, in their order; what is too little to name goes together as `earlier`."""
    whole = dict(parts)
    for name, litres in found.items():
        whole[name] = whole.get(name, 0.0) + litres
    least = sum(whole.values()) * NAMED_SHARE
    small = sum(litres for name, litres in whole.items() if litres < least)
    out = {name: litres for name, litres in whole.items() if litres >= least}
    if small:
        out[earlier] = out.get(earlier, 0.0) + small
    return out
