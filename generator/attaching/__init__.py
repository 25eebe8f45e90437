"""A laboratory's report as somebody else's program wrote it -> the same report with what it shows and nothing beside.

Bytes in, bytes out. What cannot be taken is refused with the code of a problem; the libraries are loaded only for a report.
"""

from __future__ import annotations

from generator.attaching.kinds import MAX_BYTES, Refused, kind_of, said_by

__all__ = ["MAX_BYTES", "Refused", "cleaned", "kind_of", "said_by"]


def cleaned(name: str, raw: bytes) -> bytes:
    """The report without its metadata; Refused where it is not what its name says, or holds what is not shown."""
    said, found = said_by(name), kind_of(raw)
    if said is None:
        raise Refused(
            "attachment-kind",
            f"'{name}' is no report that can be taken",
            "attach a .pdf, .png, .jpg or .jpeg",
        )
    if found != said:
        is_it = f"it is a {found}" if found else "it is neither a PDF nor a picture"
        raise Refused(
            "attachment-kind",
            f"'{name}' is no {said}: {is_it}",
            "save it anew as what its name says, or correct the name",
        )
    # slow to import, and wanted only where there is a report
    if found == "PDF":
        from generator.attaching.documents import document  # noqa: PLC0415

        return document(raw)
    from generator.attaching.pictures import picture  # noqa: PLC0415

    return picture(raw, found)
