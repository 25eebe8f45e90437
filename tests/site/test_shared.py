"""The shared site is made without what is private: words planted in every private field are nowhere in it."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

from tests.logbook_files import logbook
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
    assert names == {
        "batches",
        "charges",
        "what_if",
        "events",
        "runs",
        "changes",
        "dictionary",
        "datapackage",
        *quality,
    }
    batches = json.loads((shared_demo / "data" / "batches.json").read_text(encoding="utf-8"))
    columns = {column["name"] for column in batches["columns"]}
    assert columns.isdisjoint({"oil_lots", "tank", "energy_kwh", "labour_h", "note"})
    assert "public_note" in columns


def test_what_is_followed_and_due_changes_no_byte(tmp_path: Path) -> None:
    """The rhythm of testing, how charts are cut, what was drawn from a tank, another lot of oil, what a test notes."""
    plain = logbook(tmp_path / "plain")
    altered = logbook(
        tmp_path / "altered",
        {
            "logbook.yaml": (
                "dose: {base",
                "testing:\n  - {properties: [water], every: 1, within: 2 d}\ndrift: {baseline: 20, broken_by: [oil]}\ndose: {base",
            ),
            "tanks/tank-1.yaml": ("draw: 40 L", "draw: 90 L"),
            "lots/oil-2.yaml": "lot: oil-2\nmaterial: frying-oil\nreceived: 2026-01-02\nquantity: 300 L at 15 °C\npaid: 0.30 EUR/L\n",
            "batches/b2.yaml": ("lot: oil-1", "lot: oil-2"),
            "batches/b1.yaml": ("method: water test kit}", "method: water test kit, note: canary}"),
        },
    )
    first = build(plain, tmp_path / "a", "--audience", "shared")
    second = build(altered, tmp_path / "b", "--audience", "shared")
    files, other = (
        {path.relative_to(root): path.read_bytes() for path in root.rglob("*") if path.is_file()}
        for root in (first, second)
    )
    assert files == other
    assert Path("drift.html") not in files


def test_what_a_lower_feed_would_cost_has_no_column_without_costs(demo: Path, shared_demo: Path) -> None:
    told = "Cost of it"
    with_costs = [
        path.name for path in (demo / "charges").glob("*.html") if told in path.read_text(encoding="utf-8")
    ]
    assert with_costs
    assert not [
        name for name in with_costs if told in (shared_demo / "charges" / name).read_text(encoding="utf-8")
    ]
