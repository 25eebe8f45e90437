"""A picture drawn anew: its pixels as they are to be seen; place, camera, texts and what hangs behind its end are left out."""

from __future__ import annotations

import io
import warnings

from PIL import Image, ImageOps

from generator.attaching.kinds import Refused

MOST_PIXELS = 50_000_000
_QUALITY = 90
# how a whole file of a kind ends, and what stands before its last part where the end could stand earlier too
_ENDS = {"PNG": (b"IEND\xaeB`\x82", b"\x89PNG"), "JPEG": (b"\xff\xd9", b"\xff\xda")}
_MODES = {"PNG": ("1", "L", "LA", "RGB", "RGBA"), "JPEG": ("L", "RGB")}


def picture(raw: bytes, kind: str) -> bytes:
    """The picture in its own format, turned as its camera said; Refused where it is too large or cannot be drawn."""
    end, before = _ENDS[kind]
    if raw.rfind(end) < raw.rfind(before):
        raise Refused(
            "attachment-refused", "this picture is cut short", "fetch it again, or photograph or scan it anew"
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # it warns of large pictures; their size is looked at here
            with Image.open(io.BytesIO(raw), formats=[kind]) as opened:
                if opened.width * opened.height > MOST_PIXELS:
                    raise Refused(
                        "attachment-too-large",
                        f"this picture has {opened.width} x {opened.height} points",
                        f"scale it down to {MOST_PIXELS // 1_000_000} million points or fewer",
                    )
                seen = ImageOps.exif_transpose(opened)
                modes = _MODES[kind]
                drawn = seen if seen.mode in modes else seen.convert("RGBA" if kind == "PNG" else "RGB")
                bare = Image.new(drawn.mode, drawn.size)
                bare.paste(drawn)
    except (OSError, ValueError, SyntaxError, EOFError, OverflowError, Image.DecompressionBombError) as error:
        raise Refused(
            "attachment-refused", "this picture is damaged and cannot be drawn", "photograph or scan it anew"
        ) from error
    out = io.BytesIO()
    bare.save(out, kind, optimize=True, **({"quality": _QUALITY} if kind == "JPEG" else {}))
    return out.getvalue()
