"""The commands that write, as they are typed, in a real git repository: what git says has changed, and what is refused."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from generator.records import Batch, Lot, Offer, PriceSeries, Purifier, Tank
from generator.validate.shape import keys_of
from generator.writing.insert import inserted
from generator.writing.scalars import Value
from tests.logbook_files import logbook

ROOT = Path(__file__).resolve().parents[2]
DAY = "--date=2026-01-25"


def run(where: Path, *arguments: str, typed: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "generator", *arguments],
        cwd=where,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        input=typed,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def git(where: Path, *arguments: str) -> str:
    who = ["-c", "user.name=A maker", "-c", "user.email=maker@example.org", "-c", "core.autocrlf=false"]
    done = subprocess.run(["git", *who, *arguments], cwd=where, capture_output=True, text=True, check=True)
    return done.stdout


def committed(where: Path) -> None:
    git(where, "init", "-q")
    git(where, "add", "-A")
    git(where, "commit", "-q", "-m", "As it was")


@pytest.fixture
def shed(tmp_path: Path) -> Path:
    logbook(tmp_path)
    committed(tmp_path)
    return tmp_path


def changes(where: Path) -> tuple[list[str], list[str]]:
    """The lines git says were added and taken away."""
    lines = [line for line in git(where, "diff", "-U0").split("\n") if not line.startswith(("+++", "---"))]
    return [line[1:] for line in lines if line[:1] == "+"], [line[1:] for line in lines if line[:1] == "-"]


ADDITIONS = [
    (
        ["b2", "soap", "point=product", "acid=0.2 mL", "after=90 L", "retest=true"],
        "    - {point: product, sample: 100 g, acid: 0.2 mL, normality: 0.01 N, blank: 0.0 mL, after: 90 L, retest: true}",
    ),
    (
        ["b2", "test", "property=acid value", "value=0.21 mg KOH/g", "laboratory=true"],
        "  - {date: 2026-01-25, property: acid value, value: 0.21 mg KOH/g, laboratory: true}",
    ),
    (["b2", "note", "Clear = good, at last"], "note: Clear = good, at last"),
    (["b2", "note", "pH=7 of the wash: fine"], 'note: "pH=7 of the wash: fine"'),
    (["b2", "settled.time", "16 h"], None),
    (
        ["tank-1", "draw", "10 L at 12 °C", "to=member-2"],
        "  - {date: 2026-01-25, draw: 10 L at 12 °C, to: member-2}",
    ),
    (["tank-1", "draw=10 L at 12 °C"], "  - {date: 2026-01-25, draw: 10 L at 12 °C}"),
    (
        ["shed", "event=unload", "vessel=A", "reason=spent"],
        "  - {date: 2026-01-25, event: unload, vessel: A, reason: spent}",
    ),
    (["diesel", "1.65 EUR/L"], "  - {date: 2026-01-25, value: 1.65 EUR/L}"),
    (["school", "declined", "2026-01-24"], "declined: 2026-01-24"),
    (["tank-1", "draw=1 L at 12 °C", "date=2025-12-31"], "  - {date: 2025-12-31, draw: 1 L at 12 °C}"),
]


@pytest.mark.parametrize(
    ("words", "line"), ADDITIONS, ids=lambda value: " ".join(value[:2]) if isinstance(value, list) else ""
)
def test_one_line_adds_one_line(shed: Path, words: list[str], line: str | None) -> None:
    done = run(shed, "add", *words, DAY)
    assert done.returncode == 0, done.stderr
    added, removed = changes(shed)
    if line is None:  # into a group that stands on one line: that line grows
        assert (removed, added) == (
            ["settled: {glycerol: {mass: 20 kg}}"],
            ["settled: {glycerol: {mass: 20 kg}, time: 16 h}"],
        )
    else:
        assert (removed, added) == ([], [line])


@pytest.mark.parametrize(
    ("words", "told", "code"),
    [
        (["b2", "soap", "point=product", "acid=0,2 mL"], "write a decimal point: 0.2 mL", 1),
        (["b2", "sopa", "point=product"], "did you mean 'soap'?", 2),
        (["b3", "note", "x"], "nothing here is called 'b3'", 2),
        (["b2", "fuel", "volume=90 L"], "fuel is written there already", 1),
        (["tank-1", "draw=900 L at 12 °C"], "Nothing was written", 1),
        (["b2", "soap", "0.2 mL"], "has no key", 2),
        (["b2"], "what is to be added to b2?", 2),
        (["b2", "gauge", "vessel=A"], "did you mean 'reading'?", 2),
        (["oil-1", "price", "4.00 EUR"], "did you mean 'paid'?", 2),
    ],
)
def test_what_would_be_wrong_is_not_written(shed: Path, words: list[str], told: str, code: int) -> None:
    done = run(shed, "add", *words, DAY)
    assert (done.returncode, told in done.stderr) == (code, True), done.stderr
    assert git(shed, "status", "--porcelain") == ""


DEMO: list[tuple[str, type, str, Value]] = [
    ("batches/*/*.yaml", Batch, "tests", {"property": "water", "value": "300 mg/kg"}),
    ("columns/*.yaml", Purifier, "history", {"date": "2026-11-20T10:00", "event": "rinse", "vessel": "B"}),
    ("tanks/*.yaml", Tank, "history", {"date": "2026-11-20", "dip": "40 cm"}),
    ("lots/*.yaml", Lot, "counts", {"date": "2026-11-20", "volume": "40 L"}),
    ("offers/*.yaml", Offer, "tests", {"property": "water", "value": "300 mg/kg"}),
    ("prices/*.yaml", PriceSeries, "series", {"date": "2026-11-20", "value": "1.70 EUR/L"}),
]


@pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize("final", [True, False], ids=["final newline", "none"])
def test_git_sees_only_added_lines_in_every_file_of_the_demo(
    tmp_path: Path, newline: str, final: bool
) -> None:
    """Without a final newline git shows the last line twice, for it gets one; its words are the same."""
    shutil.copytree(ROOT / "logbook", tmp_path / "logbook")
    for path in (tmp_path / "logbook").rglob("*.yaml"):
        text = path.read_text(encoding="utf-8").replace("\n", newline)
        path.write_bytes((text if final else text.removesuffix(newline)).encode())
    committed(tmp_path)
    count = 0
    for pattern, model, key, value in DEMO:
        for path in sorted((tmp_path / "logbook").glob(pattern)):
            text = path.read_bytes().decode()
            if f"{key}: [" in text:
                continue  # a list on one line grows in that line: see test_insert
            count += 1
            path.write_bytes(
                inserted(text, (key,), value, keys_of(model, ()), to_list=True).into(text).encode()
            )
    added, removed = changes(tmp_path)
    assert count > 150
    assert len(added) - len(removed) >= count
    assert all(line.rstrip("\r") in {other.rstrip("\r") for other in added} for line in removed)
    assert final is False or removed == []


def test_a_batch_from_new_to_record(shed: Path) -> None:
    done = run(shed, "new", "batch", DAY, "--set", "oil.0.volume=80 L at 14 °C")
    assert done.returncode == 0, done.stderr
    path = shed / "logbook/batches/b3.yaml"
    text = path.read_text(encoding="utf-8")
    assert "batch: b3\ndate: 2026-01-25\n" in text
    assert "{lot: oil-1, volume: 80 L at 14 °C}" in text
    assert run(shed, "check").returncode == 0
    committed_at = git(shed, "add", "-A") + git(shed, "commit", "-q", "-m", "b3")
    assert committed_at == ""
    refused = run(shed, "record", "b3")
    assert (refused.returncode, "no amount is said for koh-1" in refused.stderr) == (2, True)
    done = run(shed, "record", "b3", "koh-1=0.9 kg", "meoh-1=17 L at 14 °C")
    assert done.returncode == 0, done.stderr
    added, removed = changes(shed)
    assert removed == []
    assert [line.strip() for line in added] == [
        "reaction:",
        "- catalyst:",
        "- {lot: koh-1, mass: 0.9 kg}",
        "methanol:",
        "- {lot: meoh-1, volume: 17 L at 14 °C}",
    ]
    early = run(shed, "add", "b3", "soap", "point=feed", "acid=1.1 mL")
    assert (early.returncode, "write the run first: esterday new run b3 --ask" in early.stderr) == (2, True)
    ran = ["run", "start=2026-01-26T09:00", "end=2026-01-26T10:30", "volume=78 L at 16 °C"]
    assert run(shed, "add", "b3", *ran).returncode == 0
    unsaid = run(shed, "add", "b3", "soap", "point=feed", "acid=1.1 mL")
    assert (unsaid.returncode, "'blank' is missing" in unsaid.stderr) == (1, True)
    for words in (
        ["soap", "point=feed", "acid=1.1 mL", "blank=0.1 mL"],
        ["soap", "point=product", "acid=0.1 mL"],
        ["fuel", "volume=77 L at 16 °C", "tank=tank-1"],
    ):
        done = run(shed, "add", "b3", *words)
        assert done.returncode == 0, done.stderr
    added, removed = changes(shed)
    assert removed == []
    assert added[-9:] == [
        "polish:",
        "  - purifier: shed",
        "    start: 2026-01-26T09:00",
        "    end: 2026-01-26T10:30",
        "    volume: 78 L at 16 °C",
        "    soap:",
        "      - {point: feed, sample: 10 g, acid: 1.1 mL, normality: 0.01 N, blank: 0.1 mL}",
        "      - {point: product, sample: 100 g, acid: 0.1 mL, normality: 0.01 N, blank: 0.1 mL}",
        "fuel: {volume: 77 L at 16 °C, tank: tank-1}",
    ]
    assert "3 batches read: 0 errors" in run(shed, "check").stderr
    second = run(shed, "add", "b3", "run", "start=2026-01-27T09:00", "end=2026-01-27T10:30")
    assert (second.returncode, "- purifier: shed\n" in second.stdout) == (0, True), second.stderr


def test_a_run_that_is_begun_is_ended_another_time(shed: Path) -> None:
    """Answers are kept, so the start can be said when the pump is switched on, and the end when it is off."""
    begun = run(shed, "new", "run", "b2", "--ask", typed="\n2026-01-26T09:00\n")
    assert "the same command takes them up again" in begun.stderr
    assert git(shed, "status", "--porcelain", "--", "logbook/batches") == ""
    ended = run(shed, "new", "run", "b2", "--ask", typed="\n2026-01-26T10:30\n40 L at 15 °C\n")
    assert ended.returncode == 1  # the demo's first run stands without a hyphen
    assert "put '- ' before the entry that is there" in ended.stderr


def test_a_lot_goes_to_the_file_of_its_id(shed: Path) -> None:
    done = run(
        shed,
        "new",
        "lot",
        DAY,
        "--set",
        "lot=oil-9",
        "--set",
        "quantity=90 L at 9 °C",
        "--set",
        "material=frying-oil",
    )
    assert done.returncode == 0, done.stderr
    assert (shed / "logbook/lots/oil-9.yaml").is_file()


def test_the_material_is_asked_before_the_id_that_follows_from_it(shed: Path) -> None:
    done = run(
        shed, "new", "lot", DAY, "--ask", typed="metanol\nmethanol\n\n\n\n\n30 L at 9 °C\n20 EUR\n\n\n"
    )
    assert done.returncode == 0, done.stderr
    assert "one of: beads, chips, flakes, frying-oil, methanol\n" in done.stderr
    assert "vat (" not in done.stderr  # only oil is poured into one
    assert done.stderr.count("this one is needed") == 1
    assert "there is no material 'metanol'; did you mean 'methanol'?" in done.stderr
    assert "lot [meoh-2]" in done.stderr
    assert "quantity: 30 L at 9 °C\n" in (shed / "logbook/lots/meoh-2.yaml").read_text(encoding="utf-8")


def test_a_vat_is_written_by_its_flags_and_filled(shed: Path) -> None:
    done = run(
        shed,
        "new",
        "lot",
        "vat-1",
        DAY,
        "--set",
        "vat=true",
        "--set",
        "holds=800 L",
        "--set",
        "material=frying-oil",
    )
    assert done.returncode == 0, done.stderr
    text = (shed / "logbook/lots/vat-1.yaml").read_text(encoding="utf-8")
    assert text == "lot: vat-1\nmaterial: frying-oil\nreceived: 2026-01-25\nvat: true\nholds: 800 L\n"
    poured = run(shed, "add", "vat-1", "filling", "lot=oil-1", "volume=50 L at 15 °C", "--date", "2026-01-25")
    assert poured.returncode == 0, poured.stderr
    assert run(shed, "check").returncode == 0


def test_a_vat_is_asked_what_it_holds_and_not_what_it_cost(shed: Path) -> None:
    done = run(shed, "new", "lot", DAY, "--ask", typed="frying-oil\ntrue\nvat-1\n\n800 L\n\n")
    assert done.returncode == 0, done.stderr
    assert "holds (volume when it is full" in done.stderr
    assert "paid" not in done.stderr
    assert "vat: true\nholds: 800 L\n" in (shed / "logbook/lots/vat-1.yaml").read_text(encoding="utf-8")


def test_nothing_is_written_over(shed: Path) -> None:
    (shed / "logbook/batches/b3.yaml").write_text("# mine\n", encoding="utf-8")
    done = run(shed, "new", "batch", DAY)
    assert (done.returncode, "is there already" in done.stderr) == (1, True)
    assert (shed / "logbook/batches/b3.yaml").read_text(encoding="utf-8") == "# mine\n"


def test_a_refused_lot_keeps_its_values_until_it_is_right(shed: Path) -> None:
    refused = run(shed, "new", "lot", "oil-2", DAY, "--set", "material=frying-oil", "--set", "paid=80.00 EUR")
    assert (refused.returncode, "'quantity' is missing" in refused.stderr) == (1, True)
    assert not (shed / "logbook/lots/oil-2.yaml").exists()
    done = run(shed, "new", "lot", "oil-2", DAY, "--from", "-", typed='{"quantity": "200 L at 9 °C"}')
    assert done.returncode == 0, done.stderr
    text = (shed / "logbook/lots/oil-2.yaml").read_text(encoding="utf-8")
    assert "paid: 80.00 EUR\n" in text
    assert "quantity: 200 L at 9 °C\n" in text
    assert list((shed / "logbook").glob(".draft*")) == []


def test_an_unknown_purifier_is_told(shed: Path) -> None:
    done = run(shed, "new", "batch", DAY, "--purifier", "shde")
    assert (done.returncode, "did you mean 'shed'?" in done.stderr) == (2, True)


def test_a_dry_run_prints_and_writes_nothing(shed: Path) -> None:
    done = run(shed, "new", "batch", DAY, "--dry-run")
    assert done.stdout.startswith("batch: b3\n")
    assert git(shed, "status", "--porcelain") == ""


def test_each_answer_is_checked_as_it_is_typed(shed: Path) -> None:
    done = run(shed, "new", "draw", "tank-1", "--ask", typed="2026-01-25\n20\n20 L at 8 °C\nmember-3\n\n")
    assert done.returncode == 0, done.stderr
    assert "'20' has no unit; write 20 L or 20 US gal" in done.stderr
    assert changes(shed)[0] == ["  - {date: 2026-01-25, draw: 20 L at 8 °C, to: member-3}"]


def test_a_comma_in_a_list_of_readings_is_told(shed: Path) -> None:
    typed = "\n\n1.0 mL\n0.1 mL\n2,4 mL\n2.4 mL, 2.5 mL\n\n\n"
    done = run(shed, "new", "batch", "--ask", DAY, typed=typed)
    assert done.returncode == 0, done.stderr
    assert "write a decimal point: 2.4 mL" in done.stderr
    text = (shed / "logbook/batches/b3.yaml").read_text(encoding="utf-8")
    assert "  readings: [2.4 mL, 2.5 mL]\n" in text
    assert "  titrant: {strength: 1.00 g/L, of: KOH, lot: koh-1}\n" in text


@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL], ids=lambda stop: stop.name)
def test_nothing_typed_is_lost_when_it_is_stopped(shed: Path, stop: signal.Signals) -> None:
    words = [
        sys.executable,
        "-m",
        "generator",
        "new",
        "lot",
        "oil-2",
        "--ask",
        DAY,
        "--set",
        "material=frying-oil",
    ]
    asking = subprocess.Popen(
        words,
        cwd=shed,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    assert asking.stdin is not None
    asking.stdin.write("\n2026-01-24\ncanteen\n200 L at 9 °C\n".encode())
    asking.stdin.flush()
    draft = shed / "logbook/.draft-lot-oil-2.json"
    for _ in range(300):
        if draft.exists() and "quantity" in draft.read_text(encoding="utf-8"):
            break
        time.sleep(0.1)
    asking.send_signal(stop)
    assert asking.wait(30) != 0
    asking.stdin.close()
    kept = json.loads(draft.read_text(encoding="utf-8"))
    assert (kept["received"], kept["source"], kept["quantity"]) == ("2026-01-24", "canteen", "200 L at 9 °C")
    again = run(shed, "new", "lot", "oil-2", "--ask", DAY, typed="\n0.40 EUR/L\n\n\n")
    assert again.returncode == 0, again.stderr
    assert "quantity: 200 L at 9 °C\npaid: 0.40 EUR/L\n" in (shed / "logbook/lots/oil-2.yaml").read_text(
        encoding="utf-8"
    )


def test_a_lot_out_of_an_offer_takes_its_price_its_way_and_its_tests(shed: Path) -> None:
    """Acid and water of the oil go along: they were lost before. 12 km away is 24 km driven."""
    offer = shed / "logbook/offers/school.yaml"
    tests = "distance: 12 km\nsource: school kitchen\ntests:\n  - {property: water, value: 480 mg/kg}\n"
    offer.write_text(offer.read_text(encoding="utf-8") + tests, encoding="utf-8")
    done = run(shed, "new", "lot", "--offer", "school", DAY, "--set", "quantity=196 L at 9 °C")
    assert done.returncode == 0, done.stderr
    made = (shed / "logbook/lots/oil-2.yaml").read_text(encoding="utf-8")
    for line in (
        "material: frying-oil",
        "received: 2026-01-25",
        "source: school kitchen",
        "quantity: 196 L at 9 °C",
        "paid: 0.50 EUR/L",
        "collected: {distance: 24 km}",
        "  - {date: 2026-01-20, property: water, value: 480 mg/kg}",
    ):
        assert line in made.split("\n"), line
    assert "Next: esterday add school bought_as oil-2\n" in done.stderr
    assert run(shed, "add", "school", "bought_as", "oil-2").returncode == 0
    unknown = run(shed, "new", "lot", "--offer", "scool")
    assert (unknown.returncode, "there is no offer 'scool'" in unknown.stderr) == (2, True)


def test_the_first_price_of_a_series_begins_its_file(tmp_path: Path) -> None:
    """In a fresh logbook nothing is called diesel, and no command began it."""
    assert run(tmp_path, "begin", "logbook", "--currency", "GBP").returncode == 0
    early = run(tmp_path, "add", "diesel", "1.45 GBP/L")
    assert (early.returncode, "begin it: esterday new price diesel --ask" in early.stderr) == (2, True)
    bare = run(tmp_path, "new", "price", "diesel")
    assert (bare.returncode, "--set value='... GBP/L'" in bare.stderr) == (2, True)
    made = run(tmp_path, "new", "price", "diesel", DAY, "--set", "value=1.45 GBP/L")
    assert made.returncode == 0, made.stderr
    file = tmp_path / "logbook/prices/diesel.yaml"
    assert (
        file.read_text(encoding="utf-8")
        == "price: diesel\nseries:\n  - {date: 2026-01-25, value: 1.45 GBP/L}\n"
    )
    assert run(tmp_path, "add", "diesel", "1.47 GBP/L", "--date=2026-02-01").returncode == 0
    power = run(tmp_path, "new", "price", "electricity", DAY, "--ask", typed="\n0.28 GBP/kWh\n")
    assert power.returncode == 0, power.stderr
    assert run(tmp_path, "new", "price", "petrol", DAY).returncode == 2


@pytest.mark.parametrize(
    "entry",
    [
        ["add", "oil-1", "count", "volume=90 L at 15 °C"],
        ["new", "lot", "--set", "material=frying-oil", "--set", "quantity=9 L"],
    ],
)
def test_an_entry_ahead_of_today_is_told(shed: Path, entry: list[str]) -> None:
    """It moves the day that everything counts from; the check has no clock and could never say so."""
    ahead = run(shed, *entry, "--date=2099-01-25")
    assert ahead.returncode == 0, ahead.stderr
    assert "warning: this is dated ahead of today" in ahead.stderr
    assert "from 2099-01-25 on" in ahead.stderr
    again = run(shed, "add", "meoh-1", "count", "volume=50 L at 15 °C", "--date=2099-01-20")
    assert "ahead of today" not in again.stderr  # it moves nothing any more
    plan = run(shed, "new", "batch", "--date=2099-03-01", "--dry-run")
    assert "ahead of today" not in plan.stderr


def test_a_logbook_that_begins_can_be_checked(tmp_path: Path) -> None:
    done = run(tmp_path, "begin", "logbook", "--timezone", "Europe/Lisbon")
    assert done.returncode == 0, done.stderr
    assert run(tmp_path, "check").stderr.endswith("0 batches read: 0 errors, 1 warning.\n")
    for lot in (["used-oil", "200 L at 12 °C"], ["koh", "25 kg"], ["methanol", "60 L at 12 °C"]):
        made = run(tmp_path, "new", "lot", "--set", f"material={lot[0]}", "--set", f"quantity={lot[1]}")
        assert made.returncode == 0, made.stderr
    assert run(tmp_path, "new", "batch").returncode == 0
    assert run(tmp_path, "check").returncode == 0
    subprocess.run(["git", "init", "--quiet", "logbook"], cwd=tmp_path, check=True)
    (tmp_path / "logbook" / ".draft-batch.json").write_text("{}", encoding="utf-8")
    seen = subprocess.run(
        ["git", "-C", "logbook", "status", "--porcelain", "-uall"],
        cwd=tmp_path, check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip
    assert "logbook.yaml" in seen and "draft" not in seen
    again = run(tmp_path, "begin", "logbook")
    assert (again.returncode, "is not empty" in again.stderr) == (2, True)


def test_a_draft_is_not_taken_up_by_a_lot_of_another_material(shed: Path) -> None:
    harbour = ["new", "lot", "--set", "material=frying-oil", "--set", "source=harbour", DAY]
    refused = run(shed, *harbour, "--set", "quantity=410")
    assert (refused.returncode, "has no unit" in refused.stderr) == (1, True), refused.stderr
    other = run(shed, "new", "lot", "--set", "material=flakes", "--set", "quantity=25 kg", "--dry-run", DAY)
    assert (other.returncode, "harbour" in other.stdout + other.stderr) == (0, False), other.stderr
    again = run(shed, "new", "lot", "--set", "material=frying-oil", "--set", "quantity=410 L at 14 °C", DAY)
    assert again.returncode == 0, again.stderr
    assert "source=harbour; --fresh forgets it" in again.stderr
    assert not list((shed / "logbook").glob(".draft*"))


@pytest.mark.parametrize(
    "said",
    [
        ["readings=2.4 mL, 2.5 mL"],
        ["readings=[2.4 mL, 2.5 mL]"],
        ["readings.0=2.4 mL", "readings.1=2.5 mL"],
    ],
    ids=["commas", "brackets", "counted"],
)
def test_a_titration_needs_only_what_was_read(shed: Path, said: list[str]) -> None:
    """Titrant and sample are as the last time; a list is written in any way that can be meant."""
    assert run(shed, "new", "batch", "n1", DAY).returncode == 0
    done = run(shed, "add", "n1", "titration", *said, "blank=0.1 mL", DAY)
    assert done.returncode == 0, done.stderr
    assert "  readings: [2.4 mL, 2.5 mL]\n" in done.stdout
    assert "  titrant: {strength: 1.00 g/L, of: KOH" in done.stdout and "  sample: 1.0 mL" in done.stdout


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["titration", "2.4", "2.5"], "hint: write 2.4 mL"),
        (["titration"], "several values with commas between them: readings='ONE, TWO'"),
        (["titration", "readings=2,4 mL"], "write a decimal point"),
        (["titration", "readings.1=2.4 mL"], "leave none out"),
        (["titration", "." * 40 + "=x"], "is not a number with a unit"),
        (["titration", "a" + ".a" * 4000 + "=x"], "is not a place in this record"),
        (["settled", "16 h"], "with these keys: time, glycerol"),
        (["note", "Clear", "and", "bright"], "put quotes around it: note 'Clear and bright'"),
        (["temprature", "3 °C"], "known here: soap, reading, run"),
    ],
)
def test_what_is_said_wrongly_is_answered_with_how_it_is_written(
    shed: Path, words: list[str], told: str
) -> None:
    assert run(shed, "new", "batch", "n1", DAY).returncode == 0
    done = run(shed, "add", "n1", *words, DAY)
    assert (done.returncode in (1, 2), told in done.stderr) == (True, True), done.stderr


def test_lists_are_set_by_place_and_with_commas(shed: Path) -> None:
    sets = ["titration.readings=2.4 mL, 2.5 mL", "titration.sample=1.0 mL", "titration.blank=0 mL"]
    options = [word for each in sets for word in ("--set", each)]
    done = run(shed, "new", "batch", *options, "--dry-run", DAY)
    assert (done.returncode, "  readings: [2.4 mL, 2.5 mL]\n" in done.stdout) == (0, True), done.stderr


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["new"], "KIND is missing: one of batch, lot,"),
        (["add"], "TARGET is missing.\n    hint: for example: esterday add 2026-014 soap"),
        (["record"], "BATCH is missing.\n    hint: for example: esterday record "),
    ],
)
def test_what_is_missing_is_told_with_an_example(tmp_path: Path, words: list[str], told: str) -> None:
    done = run(tmp_path, *words)
    assert (done.returncode, told in done.stderr) == (2, True), done.stderr


def test_a_new_batch_tells_the_room_beside_the_oil(shed: Path) -> None:
    lines = run(shed, "new", "batch", "--dry-run", DAY).stdout.split("\n")
    room = next(number for number, line in enumerate(lines) if line.startswith("# room for its fuel on "))
    assert lines[room + 1] == "oil:"


def test_each_step_names_the_next_one(shed: Path) -> None:
    """A batch from the plan to the fuel, by what the command before said."""
    steps = [
        ("new batch n1", "Next: esterday add n1 titration readings="),
        ("add n1 titration|readings=2.4 mL, 2.5 mL|blank=0.1 mL", "; once it is weighed: esterday record n1 koh-1='... kg' meoh-1='"),
        ("record n1 koh-1=0.5 kg|meoh-1=20 L at 15 °C", "Next: esterday add n1 settled time="),
        ("add n1 settled|time=16 h|glycerol.mass=8 kg", "Next: esterday add n1 run start="),
        ("add n1 run|start=2026-01-26T09:10|end=2026-01-26T10:10|volume=45 L at 17 °C", "Next: esterday add n1 soap point=feed acid='... mL' blank='... mL'\n"),
        ("add n1 soap|point=feed|acid=1.2 mL|blank=0 mL", "Next: esterday add n1 soap point=product acid='... mL'\n"),
        ("add n1 soap|point=product|acid=0.2 mL|blank=0 mL", "Next: esterday add n1 fuel volume='... L at ... °C' tank=tank-1"),
        ("add n1 fuel|volume=40 L at 17 °C|tank=tank-1", "Next: git -C logbook add . && git -C logbook commit -m 'Batch n1'"),
    ]  # fmt: skip
    for words, told in steps:
        first, *rest = words.split("|")
        done = (
            run(shed, *(first.split(" ", 2) + rest), DAY)
            if "record" not in words
            else run(shed, "record", "n1", first.removeprefix("record n1 "), *rest)
        )
        assert done.returncode == 0, done.stderr
        assert told in done.stderr, done.stderr


US = ("gallon: none", "gallon: US"), ("volume: L, mass: kg, temperature: °C", "volume: US gal, mass: lb, temperature: °F"), ("# dose: {base: 7 g/L, of: KOH, methanol: 22 %}", "dose: {base: 5 g/L, of: NaOH, methanol: 22 %}"), ("koh: {kind: catalyst, name: Potassium hydroxide flakes, of: KOH", "lye: {kind: catalyst, name: Lye, of: NaOH")  # fmt: skip


def test_from_an_empty_folder_to_a_commit_each_command_names_the_next_in_own_units(tmp_path: Path) -> None:
    """A maker with US units and sodium hydroxide: what is told can be typed as it stands, with the figures filled in."""
    assert run(tmp_path, "begin").returncode == 0
    for path in (tmp_path / "logbook").rglob("*.yaml"):
        text = path.read_text(encoding="utf-8")
        for old, new in US:
            text = text.replace(old, new)
        path.write_text(text, encoding="utf-8")
    steps = [
        ("new|lot|--set|material=used-oil|--set|quantity=60 gal|--set|source=Diner", "Next: esterday new lot --ask, for there is no catalyst and no methanol yet\n"),
        ("new|lot|--set|material=lye|--set|quantity=5 lb|--set|source=Shop", "Next: esterday new lot --ask, for there is no methanol yet\n"),
        ("new|lot|--set|material=methanol|--set|quantity=54 gal at 60 °F|--set|source=Shop", "Next: esterday new batch\n"),
        ("new|lot|--set|material=resin|--set|quantity=60 lb|--set|source=Shop", "Next: esterday new event columns --ask, once it is in its vessel\n"),
        ("new|lot|chips-1|--set|material=absorbent|--set|quantity=60 lb|--set|source=Mill", "Next: esterday new event columns --ask, once it is in its vessel\n"),
        ("new|batch|b1", "Next: esterday add b1 titration readings='... mL, ... mL' blank='... mL' sample='1.0 mL' titrant='{strength: ... g/L, of: NaOH, pure: true}'\n"),
        ("add|b1|titration|readings=2.1 mL, 2.2 mL|blank=0.1 mL|sample=1.0 mL|titrant={strength: 1.0 g/L, of: NaOH, pure: true}", "esterday record b1 lye-001='... lb' methanol-001='... US gal at ... °F'\n"),
        ("record|b1|lye-001=1.55 lb|methanol-001=5.8 gal at 62 °F", "Next: esterday add b1 settled time='... h' glycerol.mass='... lb'\n"),
        ("add|b1|settled|time=16 h|glycerol.mass=52 lb", "Next: esterday add b1 run start=...T... end=...T... volume='... US gal at ... °F'\n"),
        ("add|columns|event=pack|vessel=A|medium=absorbent|lot=chips-1|mass=40 lb|basis=as supplied|bed=14 US gal", "Added to"),
        ("new|event|columns|--set|event=pack|--set|vessel=B|--set|medium=resin|--set|lot=resin-001|--set|mass=50 lb|--set|basis=as supplied|--set|bed=9 gal", "Added to"),
        ("add|b1|run|start=2026-01-26T09:10|end=2026-01-26T10:10|volume=24 gal at 60 °F", "Next: esterday add b1 soap point=feed sample="),
        ("add|b1|soap|point=feed|sample=10 g|normality=0.01 N|acid=3.2 mL|blank=0 mL", "Next: esterday add b1 soap point=product sample="),
        ("add|b1|soap|point=product|sample=10 g|normality=0.01 N|acid=0.1 mL", "Next: esterday add b1 fuel volume='... US gal at ... °F' tank=tank-1\n"),
    ]  # fmt: skip
    for words, told in steps:
        day = () if words.startswith("record") else ("--date", "2026-01-25")
        done = run(tmp_path, *words.split("|"), *day)
        assert (done.returncode, told in done.stderr) == (0, True), done.stderr
        assert "no-titration" not in done.stderr and "no-feed-soap" not in done.stderr
    subprocess.run(["git", "init", "-q", "logbook"], cwd=tmp_path, check=True)
    done = run(tmp_path, "add", "b1", "fuel", "volume=23 gal at 60 °F", "tank=tank-1")
    assert "Next: git -C logbook add . && git -C logbook commit -m 'Batch b1'\n" in done.stderr
    assert run(tmp_path, "check").returncode == 0


@pytest.mark.parametrize("rounds", range(3))
def test_of_many_at_once_what_was_told_to_be_added_is_there(shed: Path, rounds: int) -> None:
    """The draws of a tank, typed by several people at one time: each stands in the file, or was told to be said again."""
    adding = [
        subprocess.Popen(
            [sys.executable, "-m", "generator", "add", "tank-1", f"draw={litres} L at 12 °C", f"to=m{litres}", "--date=2026-02-01"],
            cwd=shed,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )
        for litres in range(1, 7)
    ]  # fmt: skip
    told = [(each.communicate(timeout=120)[1], each.returncode) for each in adding]
    text = (shed / "logbook/tanks/tank-1.yaml").read_text(encoding="utf-8")
    said = [number for number, (_, code) in enumerate(told, 1) if code == 0]
    assert said
    assert [number for number in range(1, 7) if f"to: m{number}" in text] == said
    assert all("run the command again" in error for error, code in told if code != 0), told


def test_the_material_of_a_lot_is_said_and_what_is_written_is_shown(shed: Path) -> None:
    done = run(shed, "new", "lot", DAY, "--set", "quantity=30 L at 9 °C")
    assert (done.returncode, "which material was delivered?" in done.stderr) == (2, True), done.stderr
    assert "beads, chips, flakes, frying-oil, methanol" in done.stderr
    done = run(shed, "new", "lot", DAY, "--set", "quantity=30 L at 9 °C", "--set", "material=methanol")
    assert done.returncode == 0, done.stderr
    written = (shed / "logbook/lots/meoh-2.yaml").read_text(encoding="utf-8")
    assert done.stdout == written and "material: methanol\n" in written


@pytest.mark.parametrize("sign", ["\u202e", "\u200b", "\u2066"])
def test_a_character_that_is_not_what_it_seems_is_not_written(shed: Path, sign: str) -> None:
    before = (shed / "logbook/batches/b2.yaml").read_bytes()
    for words in (
        ("add", "b2", "note", f"a{sign}b"),
        ("new", "lot", "o9", "--set", "material=methanol", "--set", "quantity=3 L at 9 °C", "--set", f"source=a{sign}b"),
    ):  # fmt: skip
        done = run(shed, *words, DAY)
        assert (done.returncode, "(odd-character)" in done.stderr) == (1, True), done.stderr
    assert (shed / "logbook/batches/b2.yaml").read_bytes() == before
    assert not (shed / "logbook/lots/o9.yaml").exists()


def test_the_id_of_a_lot_that_is_there_is_told_and_nothing_of_other_files(shed: Path) -> None:
    done = run(shed, "new", "lot", "koh-1", "--set", "material=flakes", "--set", "quantity=1 kg")
    assert done.returncode == 1
    assert done.stderr.startswith(
        "error: logbook/lots/koh-1.yaml is there already, and nothing is written over"
    ), done.stderr


def test_an_old_batch_without_columns_does_not_keep_its_lots_from_a_purifier(shed: Path) -> None:
    """Batches brought in from paper have no run; what was left of their oil was passed over."""
    lot = ["--set", "material=frying-oil", "--set", "quantity=300 L at 15 °C", "--set", "source=Inn"]
    assert run(shed, "new", "lot", "oil-0", *lot, "--date=2025-01-01").returncode == 0
    (shed / "logbook/batches/old.yaml").write_text(
        "batch: old\ndate: 2025-02-01\noil:\n  - {lot: oil-0, volume: 100 L}\nfuel: {volume: 95 L}\n",
        encoding="utf-8",
    )
    done = run(shed, "new", "batch", "--dry-run", DAY)
    assert "lot: oil-0" in done.stdout, done.stderr


def test_an_offer_is_followed_by_what_it_is_worth(shed: Path) -> None:
    done = run(
        shed, "new", "offer", "o9", "--set", "quantity=200 L at 15 °C", "--set", "asked=0.4 EUR/L", DAY
    )
    assert (done.returncode, "Next: esterday offer o9\n" in done.stderr) == (0, True), done.stderr


def test_a_key_that_is_none_is_not_taken_up_again(shed: Path) -> None:
    said = ["--set", "material=frying-oil", "--set", "quantity=60 L at 15 °C", "--set", "source=Inn"]
    done = run(shed, "new", "lot", "o9", *said, "--set", "price=30 EUR", DAY)
    assert (done.returncode, "did you mean 'paid'?" in done.stderr) == (1, True), done.stderr
    done = run(shed, "new", "lot", "o9", "--set", "paid=30 EUR", DAY)
    assert done.returncode == 0, done.stderr
    assert "quantity: 60 L at 15 °C" in (shed / "logbook/lots/o9.yaml").read_text(encoding="utf-8")
    assert not list((shed / "logbook").glob(".draft*"))


def test_where_no_answer_has_a_place_no_draft_is_kept(shed: Path) -> None:
    assert run(shed, "new", "offer", "o9", "--set", "price=30 EUR", DAY).returncode == 1
    assert not list((shed / "logbook").glob(".draft*"))


@pytest.mark.parametrize("note", ["-3 °C at night", "-clear", "- Settled.", "-- Settled.", "-hazy", "-"])
def test_a_note_may_begin_with_a_minus(shed: Path, note: str) -> None:
    done = run(shed, "add", "b2", "note", note, "--dry-run", DAY)
    assert done.returncode == 0, done.stderr
    assert note in done.stdout
    assert run(shed, "add", "--logbook", "logbook", "b2", "--", "note", "--clear").returncode == 0
    assert changes(shed)[0] == ["note: --clear"]


def test_an_option_that_is_none_is_told_beside_words_with_a_minus(shed: Path) -> None:
    done = run(shed, "add", "b2", "note", "-clear", "--dryrun")
    assert done.returncode == 2
    told = r"No such option:? '?--dryrun\b"  # versions of the library differ in signs
    assert re.search(told, done.stderr), done.stderr
    assert run(shed, "add", "-h").stdout.startswith("Examples:")


@pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_blanks_go_once_they_are_said(shed: Path, newline: str) -> None:
    assert run(shed, "new", "batch", "n1", DAY).returncode == 0
    path = shed / "logbook/batches/n1.yaml"
    path.write_bytes(path.read_bytes().replace(b"\n", newline.encode()))
    before = path.read_text(encoding="utf-8")
    assert "# fill in and take away" in before and "#   readings: [... mL" in before
    assert run(shed, "add", "n1", "water", "value=400 mg/kg", "method=water test kit").returncode == 0
    between = path.read_text(encoding="utf-8")
    assert ("# water:" in between, "# titration:" in between, "# fill in" in between) == (False, True, True)
    assert run(shed, "add", "n1", "titration", "readings=2.4 mL", "blank=0.1 mL").returncode == 0
    after = path.read_text(encoding="utf-8")
    assert "# titration" not in after and "# fill in" not in after and "# room for its fuel" in after


def test_blanks_that_were_filled_in_stay(shed: Path) -> None:
    assert run(shed, "new", "batch", "n1", DAY).returncode == 0
    path = shed / "logbook/batches/n1.yaml"
    text = path.read_text(encoding="utf-8").replace("#   blank: ... mL", "#   blank: 0.2 mL")
    path.write_text(text, encoding="utf-8")
    assert run(shed, "add", "n1", "titration", "readings=2.4 mL", "blank=0.1 mL").returncode == 0
    assert "#   blank: 0.2 mL" in path.read_text(encoding="utf-8")


def test_a_key_of_one_stage_is_added_by_its_number(shed: Path) -> None:
    done = run(shed, "add", "b2", "reaction.0.temperature", "55 °C")
    assert done.returncode == 0, done.stderr
    far = run(shed, "add", "b2", "reaction.7.temperature", "55 °C")
    assert (far.returncode, "has no place there yet" in far.stderr) == (1, True), far.stderr
    bare = run(shed, "add", "b2", "temperature", "55 °C")
    assert (bare.returncode, "it stands in: titration.temperature, " in bare.stderr) == (2, True), bare.stderr


def test_what_was_weighed_is_asked_for_lot_by_lot(shed: Path) -> None:
    assert run(shed, "new", "batch", "n1", DAY).returncode == 0
    done = run(shed, "record", "n1")
    assert (done.returncode, "koh-1='... kg' meoh-1='... L at ... °C'" in done.stderr) == (2, True), (
        done.stderr
    )


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[" * 100_000, "nested too deep"),
        ('{"note": "\\ud800"}', "half a character"),
        ('{"\\udcff": "x"}', "half a character"),
        ("[]", "an object is wanted"),
        ('{"batch": "a\\u0000b"}', "odd-character"),
    ],
    ids=["deep", "half", "half a key", "list", "NUL"],
)
def test_json_of_a_wrong_shape_is_refused(shed: Path, text: str, told: str) -> None:
    done = run(shed, "new", "batch", "--from", "-", "--dry-run", DAY, typed=text)
    assert (done.returncode in (1, 2), told in done.stderr) == (True, True), done.stderr[-500:]


def test_json_may_begin_with_a_mark_and_leave_open_what_is_unknown(shed: Path) -> None:
    (shed / "in.json").write_bytes(b'\xef\xbb\xbf{"note": null, "public_note": "Clear."}')
    done = run(shed, "new", "batch", "--from", "in.json", "--dry-run", DAY)
    assert done.returncode == 0, done.stderr
    assert ("public_note: Clear." in done.stdout, "\nnote:" in done.stdout) == (True, False)


@pytest.mark.parametrize(
    "words",
    [["add", "b2", "note", b"caf\xe9"], ["new", "lot", b"--set=material=\xff"], ["check", b"\xff"]],
    ids=["add", "new", "check"],
)
def test_bytes_that_are_no_text_are_refused(shed: Path, words: list[str | bytes]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "generator", *words],
        cwd=shed, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, timeout=60, check=False,
    )  # fmt: skip
    assert (done.returncode, b"is not text in UTF-8" in done.stderr) == (2, True), done.stderr


def test_a_logbook_in_a_folder_whose_name_is_no_text_is_checked(shed: Path) -> None:
    odd = os.fsdecode(os.fsencode(shed) + b"/\xff")
    (shed / "logbook").rename(shed / "kept")
    Path(odd).mkdir()
    (shed / "kept").rename(Path(odd) / "logbook")
    done = run(Path(odd), "check")
    assert (done.returncode, "Traceback" in done.stderr) == (0, False), done.stderr


def test_an_id_that_no_file_can_have_is_told_as_such(shed: Path) -> None:
    done = run(shed, "new", "batch", "x" * 5000, DAY)
    assert (done.returncode, "use 1 to 64 letters" in done.stderr) == (1, True), done.stderr[-500:]


def test_a_logbook_begins_under_its_title_and_becomes_part_of_a_repository(tmp_path: Path) -> None:
    git(tmp_path, "init", "-q")
    done = run(tmp_path, "begin", "--title", "Shed: the second")
    assert done.returncode == 0, done.stderr
    assert 'title: "Shed: the second"\n' in (tmp_path / "logbook/logbook.yaml").read_text(encoding="utf-8")
    assert "git init" not in done.stderr
    committing = done.stderr.split("its history:")[1].strip().split(" && ")
    git(tmp_path, *committing[0].split()[1:])
    assert "A  logbook/logbook.yaml" in git(tmp_path, "status", "--porcelain")
    inner = run(tmp_path, "begin", "logbook/another")
    assert (inner.returncode, "would lie in the logbook" in inner.stderr) == (2, True)


def test_a_command_that_is_guessed_leads_to_one_that_is_there(tmp_path: Path) -> None:
    for guess, told in (("init", "begin: Write"), ("chek", "check: Check"), ("xyzzy", "lists them all")):
        done = run(tmp_path, guess)
        assert (done.returncode, told in done.stderr) == (2, True), done.stderr


@pytest.mark.parametrize("command", ["new", "add", "record", "begin"])
def test_help_starts_with_examples(tmp_path: Path, command: str) -> None:
    lines = [line.strip() for line in run(tmp_path, command, "--help").stdout.split("\n") if line.strip()]
    assert lines[0] == "Examples:"
    assert lines[1].startswith(f"esterday {command} ")


def test_a_byte_order_mark_and_carriage_returns_stay(shed: Path) -> None:
    path = shed / "logbook/batches/b2.yaml"
    before = b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n")
    path.write_bytes(before)
    path.chmod(0o640)
    done = run(shed, "add", "b2", "note", "Clear.")
    assert done.returncode == 0, done.stderr
    assert path.read_bytes() == before + b"note: Clear.\r\n"
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_folder_that_cannot_be_written_to_is_the_machines_fault(shed: Path) -> None:
    """A file stands where the folder of the offers would be."""
    (shed / "logbook/offers/school.yaml").unlink()
    (shed / "logbook/offers").rmdir()
    (shed / "logbook/offers").write_text("", encoding="utf-8")
    refused = run(
        shed,
        "new",
        "offer",
        DAY,
        "--set",
        "material=frying-oil",
        "--set",
        "quantity=9 L",
        "--set",
        "asked=0.1 EUR/L",
    )
    assert (refused.returncode, "cannot be written" in refused.stderr) == (3, True), refused.stderr


def test_a_problem_that_was_there_does_not_stand_in_the_way(shed: Path) -> None:
    other = shed / "logbook/lots/oil-1.yaml"
    other.write_text(other.read_text(encoding="utf-8").replace("0.40 EUR/L", "0.40"), encoding="utf-8")
    assert run(shed, "check").returncode == 1
    done = run(shed, "add", "b2", "note", "Clear.")
    assert done.returncode == 0, done.stderr


def test_only_warnings_that_are_new_are_told(tmp_path: Path) -> None:
    """The batch had no feed sample before; an outlet above its inlet is new."""
    feed = "    - {point: feed, sample: 10 g, acid: 1.2 mL, normality: 0.01 N, blank: 0.0 mL}\n"
    logbook(tmp_path, {"batches/b1.yaml": (feed, "")})
    noted = run(tmp_path, "add", "b1", "note", "settled for two days")
    assert noted.returncode == 0
    assert "no-feed-soap" not in noted.stderr
    odd = run(tmp_path, "add", "b1", "soap", "point=product", "sample=100 g", "acid=9 mL", "retest=true")
    assert "outlet-above-inlet" in odd.stderr
    assert "no-feed-soap" not in odd.stderr


def test_a_blank_is_taken_from_a_batch_that_is_still_planned_too(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    text = (root / "batches" / "b2.yaml").read_text(encoding="utf-8")
    start, end = text.index("reaction:"), text.index("settled:")
    plan = "plan: {catalyst: koh-1, methanol: [{lot: meoh-1, volume: 20 L at 15 °C}]}\n"
    (root / "batches" / "b2.yaml").write_text(text[:start] + plan + text[end:], encoding="utf-8")
    added = run(tmp_path, "add", "b2", "soap", "point=product", "acid=0.2 mL", "retest=true")
    assert added.returncode == 0, added.stderr
    assert "sample: 100 g" in added.stdout and "blank: 0.0 mL" in added.stdout


def test_a_first_lot_of_nothing_said_is_told_what_it_lacks(tmp_path: Path) -> None:
    """In a logbook that has just begun there is no lot to be like."""
    assert run(tmp_path, "begin", "logbook").returncode == 0
    made = run(tmp_path, "new", "lot", "oil-001", "--set", "material=used-oil")
    assert made.returncode == 1
    assert "Traceback" not in made.stderr
    assert "'quantity' is missing" in made.stderr


def test_a_second_drive_beside_one_that_stands_alone_is_told_as_a_list(shed: Path) -> None:
    lot = shed / "logbook/lots/oil-1.yaml"
    lot.write_text(
        f"{lot.read_text(encoding='utf-8')}collected: {{distance: 34 km, time: 90 min}}\n", encoding="utf-8"
    )
    done = run(shed, "add", "oil-1", "way", "distance=5 km")
    assert done.returncode == 1
    assert "one stands alone under 'collected', and another needs a list" in done.stderr
    line = "collected: [{distance: 34 km, time: 90 min}, {date: 2026-01-02, distance: 5 km}]"
    assert f"hint: write {line}" in done.stderr
    text = lot.read_text(encoding="utf-8").replace("collected: {distance: 34 km, time: 90 min}", line)
    lot.write_text(text, encoding="utf-8")
    assert run(shed, "check").returncode == 0


def test_a_lot_is_fetched_on_the_day_it_came(shed: Path) -> None:
    assert run(shed, "add", "oil-1", "way", "distance=12 km").returncode == 0
    text = (shed / "logbook/lots/oil-1.yaml").read_text(encoding="utf-8")
    assert "  - {date: 2026-01-02, distance: 12 km}" in text


@pytest.mark.parametrize("name", ["oil-1", "school"])
def test_a_titration_is_added_by_its_readings(shed: Path, name: str) -> None:
    """Titrant and sample are as in the last one; the blank is a reading and has to be said."""
    silent = run(shed, "add", name, "titration", DAY)
    assert silent.returncode != 0
    assert "write them with the blank: titration '3.4 mL' '3.5 mL' blank='0.1 mL'" in silent.stderr
    without = run(shed, "add", name, "titration", "3.4 mL", "3.5 mL", DAY)
    assert without.returncode == 1
    assert "'blank' is missing" in without.stderr
    assert run(shed, "add", name, "titration", "3.4 mL", "3.5 mL", "blank=0.1 mL", DAY).returncode == 0
    kind = "lots" if name == "oil-1" else "offers"
    text = (shed / f"logbook/{kind}/{name}.yaml").read_text(encoding="utf-8")
    assert "readings: [3.4 mL, 3.5 mL]" in text and "sample: 1.0 mL" in text and "of: KOH" in text
    assert run(shed, "check").returncode == 0


@pytest.mark.parametrize(
    "words",
    [("1.9 EUR/L",), ("1.9", "EUR/L"), ("1.9 EUR/L", "date=2026-01-20"), ("1.9", "EUR/L", "date=2026-01-20")],
)
def test_a_price_is_added_with_and_without_quotes(shed: Path, words: tuple[str, ...]) -> None:
    prices = shed / "logbook/prices"
    prices.mkdir(exist_ok=True)
    (prices / "diesel.yaml").write_text(
        "price: diesel\nseries:\n  - {date: 2026-01-05, value: 1.61 EUR/L}\n", encoding="utf-8"
    )
    assert run(shed, "add", "diesel", *words, DAY).returncode == 0
    day = "2026-01-20" if len(words[-1]) == 15 else "2026-01-25"
    assert f"  - {{date: {day}, value: 1.9 EUR/L}}" in (prices / "diesel.yaml").read_text(encoding="utf-8")
