"""Words and numbers of their own in every private place, looked for in the shared site in every spelling."""

from __future__ import annotations

import base64
import html
import json
import re
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from urllib.parse import quote

import pyarrow
import pytest
from pyarrow import parquet

from generator.compute.opened import public_keys
from generator.data import rows
from tests.logbook_files import logbook
from tests.privacy.mutating import Book, change, sites

# numbers that no other figure of the good logbook comes near, by the digits that are looked for
NUMBERS = ("7291.37 EUR", "72.9137 EUR/L", "7291.37 km", "729.137 kWh", "72.9137 h")
DIGITS = (b"729137", b"7291.37", b"72.9137", b"729.137")


def spellings(text: str) -> Iterator[bytes]:
    """A text as it could stand in a file: plain, escaped for HTML, addresses and JSON, in base64, hexadecimal and UTF-16."""
    plain = text.encode()
    yield plain
    yield plain[::-1]
    yield from (html.escape(text).encode(), quote(text).encode(), json.dumps(text)[1:-1].encode())
    yield json.dumps(text)[1:-1].translate({ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&"}).encode()
    for before in range(3):  # base64 has three ways to begin
        yield base64.b64encode(b"x" * before + plain)[4 if before else 0 : -4]
    yield from (plain.hex().encode(), plain.hex().upper().encode())
    yield from (text.encode("utf-16-le"), text.encode("utf-16-be"))
    yield re.sub(r"[^a-z0-9]", "", text).encode()


def unpacked(name: str, content: bytes) -> bytes:
    """A file as it lies there, and as it is read: behind a Parquet file, whose pages are compressed, its values and metadata."""
    if not name.endswith(".parquet"):
        return content
    table = parquet.read_table(BytesIO(content))
    told = [part for field in table.schema for pair in (field.metadata or {}).items() for part in pair]
    values = [str(value).encode() for column in table.columns for value in column.to_pylist()]
    return b"\n".join((content, *told, *values))


def packed(word: str) -> bytes:
    """A Parquet file that holds a word in compressed pages alone."""
    out = BytesIO()
    table = pyarrow.table({"note": [f"{word} {word[::-1]} {word}"] * 50})
    parquet.write_table(table, out, compression="gzip", write_statistics=False)
    return out.getvalue()


def test_a_word_in_compressed_parquet_would_be_seen() -> None:
    word = "kanari0001o<&é"
    hidden = packed(word)
    assert not any(each in hidden for each in spellings(word)), "not compressed, so this shows nothing"
    assert any(each in unpacked("data/a.parquet", hidden) for each in spellings(word))


def test_no_private_word_or_number_is_in_the_shared_site(tmp_path: Path) -> None:
    book = Book(logbook(tmp_path), tmp_path / "cache")
    folder, words, numbers = book.folder, [], 0
    for place, site in enumerate(sites(book.folder)):
        word = f"kanari{place:04}o<&é"
        for value in (word, *NUMBERS):
            after = change(folder, site, value)
            if after is not None:
                folder = after
                words += [word] if value == word else []
                numbers += value != word
                break
    assert len(words) >= 15 and numbers >= 5
    tree = book.tree(folder)
    everything = b"\n".join((*(name.encode() for name in tree), *(unpacked(*each) for each in tree.items())))
    assert sum(name.endswith(".parquet") for name in tree) > 3
    for word in words:
        assert [each for each in spellings(word) if each in everything] == []
    site_text = b"\n".join(
        unpacked(name, text) for name, text in tree.items() if "vega" not in name and "minisearch" not in name
    )
    assert [digits for digits in DIGITS if digits in site_text] == []


@pytest.mark.parametrize("before", range(6))
def test_a_word_in_base64_would_be_seen_wherever_it_begins(before: int) -> None:
    """Else that none is found would say nothing."""
    word = "kanari0001o<&é"
    hidden = base64.b64encode(b"y" * before + word.encode() + b", and more")
    assert any(each in hidden for each in spellings(word))


def test_the_other_spellings_would_be_seen() -> None:
    word = "kanari0001o<&é"
    page = f'<p title="{html.escape(word)}">'.encode()
    for hidden in (
        page,
        json.dumps({"a": word}).encode(),
        quote(word).encode(),
        word.encode("utf-16"),
        word.encode().hex().encode(),
    ):
        assert any(each in hidden for each in spellings(word))


def test_what_a_medium_is_known_by_says_that_it_is_public() -> None:
    """The words are free and stand beside what a bed holds, for everyone."""
    assert "confidence" in public_keys()["MediumLedger"]
    assert "shared site" in rows("keys")["keys"]["confidence"]
