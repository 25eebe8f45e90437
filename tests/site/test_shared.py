"""The shared site is made without what is private: words planted in every private field are nowhere in it."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

from tests.site.building import ROOT, build


def _everything(site: Path) -> str:
    return "\n".join(
        path.read_text(encoding="utf-8", errors="replace")
        for path in sorted(site.rglob("*"))
        if path.is_file() and "vega" not in path.parts
    )


def test_private_words_of_the_demo_are_nowhere(shared_demo: Path) -> None:
    text = _everything(shared_demo)
    private = set()
    for path in [
        *(ROOT / "logbook" / "lots").rglob("*.yaml"),
        *(ROOT / "logbook" / "offers").rglob("*.yaml"),
    ]:
        private |= set(
            re.findall(r"^(?:lot|offer|source): ([\w -]+)$", path.read_text(encoding="utf-8"), re.MULTILINE)
        )
    for path in (ROOT / "logbook" / "tanks").rglob("*.yaml"):
        private |= set(re.findall(r"\bto: ([\w-]+)", path.read_text(encoding="utf-8")))
    assert len(private) > 40
    assert [
        word for word in sorted(private) if re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text)
    ] == []


def test_a_private_batch_leaves_no_trace(shared_demo: Path) -> None:
    hidden = [
        re.findall(r"^batch: (\S+)", text, re.MULTILINE)[0]
        for path in (ROOT / "logbook" / "batches").rglob("*.yaml")
        if re.search(r"^private: true", text := path.read_text(encoding="utf-8"), re.MULTILINE)
    ]
    assert hidden, "the demo holds a private batch"
    text = _everything(shared_demo)
    for name in hidden:
        assert name not in text
        assert not (shared_demo / "batches" / f"{name}.html").exists()


def test_changing_private_values_changes_no_byte(tmp_path: Path) -> None:
    plain, altered = tmp_path / "plain", tmp_path / "altered"
    for copy in (plain, altered):
        shutil.copytree(ROOT / "tests" / "logbooks" / "gallons", copy)
    count = 0
    for path in altered.rglob("*.yaml"):
        text = path.read_text(encoding="utf-8")
        changed = re.sub(
            r"^(source|note|  note|paid|freight|asked|labour|energy): .*$", _other, text, flags=re.MULTILINE
        )
        count += changed != text
        path.write_text(changed, encoding="utf-8")
    assert count > 5, "the logbook holds private values to change"
    first = build(plain, tmp_path / "a", "--audience", "shared")
    second = build(altered, tmp_path / "b", "--audience", "shared")
    files = {path.relative_to(first): path.read_bytes() for path in first.rglob("*") if path.is_file()}
    assert files == {
        path.relative_to(second): path.read_bytes() for path in second.rglob("*") if path.is_file()
    }


def _other(match: re.Match[str]) -> str:
    other = {
        "source": "elsewhere",
        "note": "another",
        "  note": "another",
        "paid": "9 USD/lb",
        "freight": "99 USD",
        "asked": "8 USD/lb",
        "labour": "9 h",
        "energy": "99 kWh",
    }
    if match[0].rstrip().endswith("|"):
        return match[0]
    if match[1] in ("paid", "asked"):
        unit = match[0].rpartition("/")[2] if "/" in match[0] else ""
        return f"{match[1]}: 9 USD/{unit}" if unit else f"{match[1]}: 9 USD"
    return f"{match[1]}: {other[match[1]]}"


def test_shared_tables_hold_only_public_columns(shared_demo: Path) -> None:
    names = {path.stem for path in (shared_demo / "data").glob("*.json")}
    quality = {"tests", "standing", "coverage", "agreement", "limits"}
    assert names == {"batches", "charges", "what_if", "events", "runs", "dictionary", *quality}
    batches = json.loads((shared_demo / "data" / "batches.json").read_text(encoding="utf-8"))
    columns = {column["name"] for column in batches["columns"]}
    assert columns.isdisjoint({"oil_lots", "tank", "energy_kwh", "labour_h", "note"})
    assert "public_note" in columns
