"""An address as a picture to scan: a QR code (ISO/IEC 18004) as SVG, black on white in every scheme of colours."""

from __future__ import annotations

from functools import lru_cache

from markupsafe import Markup

from generator.language import say

QUIET = 4  # modules of white around it, as the standard asks
SIDE = 5  # of a module, in whole px: a browser would blur the edges of another size


def code_svg(address: str) -> Markup:
    """The code of an address, level M, as one element that names itself to a screen reader; ValueError for a too long one."""
    label = say("QR code of the address below")
    named = f'<svg role="img" aria-label="{label}"'
    return Markup(_drawn(address).replace("<svg", named, 1))  # modules alone, no text of the logbook


@lru_cache(maxsize=1024)
def _drawn(address: str) -> str:
    import segno  # noqa: PLC0415 - only where an address is set

    made = segno.make_qr(address, error="m")
    # with a unit it has a viewBox too, without which paper cuts off what it shows smaller
    return made.svg_inline(
        border=QUIET, dark="#000", light="#fff", svgclass=None, lineclass=None, scale=SIDE, unit="px"
    )
