"""`fix` mends what carries a mend, changes nothing else, and finds nothing more to do when it is run again."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from generator.cli.saving import put_all
from generator.fixing import fixed, mended
from generator.problems import Mend
from generator.validate.logbook import checked_folder
from tests.logbook_files import logbook
from tests.test_gallery import CASES, MADE, expected, lay_case

MENDABLE = [name for name in CASES if "can be mended without guessing" in expected(name)]
MANY = """\
# what was done, in the words of the day
Batch: b2     # the second one
date: 2026/1/20
oil: [{lot: oil-1, Volume: 100 L at 15 °C}]
titration:
  titrant: {strength: 1.00 g/L, of: koh, lot: koh-1}
  sample: "1,0 mL"
  blank: 0,1 mL
  readings: [2,4 mL, 2.5 mL, 2.4 mL]
reaction:
  - catalyst: [{lot: koh-1, mass: 1.0 kg}]
    methanol: [{lot: meoh-1, volume: "20,5 L at 15 °C"}]
private: No
tests:
  - {property: Water, value: .3 %}
"""


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def texts(root: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(root)): path.read_bytes() for path in sorted(root.rglob("*")) if path.is_file()
    }


def test_there_are_cases_to_mend() -> None:
    assert len(MENDABLE) >= 9


@pytest.mark.parametrize("name", MENDABLE)
def test_after_it_there_are_fewer_problems_and_twice_is_once(name: str, tmp_path: Path) -> None:
    root = lay_case(name, tmp_path)
    before = len(checked_folder(root)[1].problems)
    untouched = texts(root)
    preview = run("fix", root)
    assert texts(root) == untouched
    assert preview.stdout.startswith("--- ")
    done = run("fix", "--write", root)
    assert (done.exit_code, done.stdout) == (0, "")
    after = checked_folder(root)[1].problems
    assert len(after) < before
    assert not [problem for problem in after if problem.mend is not None]
    once = texts(root)
    again = run("fix", "--write", root)
    assert "Nothing here can be mended without guessing." in again.stderr
    assert texts(root) == once


@pytest.mark.parametrize("name", [name for name in CASES if name not in MENDABLE and name not in MADE])
def test_what_carries_no_mend_is_left_alone(name: str, tmp_path: Path) -> None:
    root = lay_case(name, tmp_path)
    before = texts(root)
    assert run("fix", "--write", root).stdout == ""
    assert texts(root) == before


def test_many_at_once_keep_comments_order_quotes_and_all_else(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"batches/b2.yaml": MANY})
    before = len(checked_folder(root)[1].problems)
    assert run("fix", "--write", root).exit_code == 0
    assert (root / "batches" / "b2.yaml").read_text(encoding="utf-8") == (
        MANY.replace("Batch:", "batch:")
        .replace("2026/1/20", "2026-01-20")
        .replace("Volume:", "volume:")
        .replace("koh,", "KOH,")
        .replace("1,0 mL", "1.0 mL")
        .replace("0,1 mL", "0.1 mL")
        .replace("2,4 mL", "2.4 mL")
        .replace("20,5", "20.5")
        .replace("private: No", "private: false")
        .replace("Water", "water")
        .replace(".3 %", "0.3 %")
    )
    assert len(checked_folder(root)[1].problems) < before


@pytest.mark.parametrize("tool", [("patch", "-p0"), ("git", "apply", "-p0")], ids=lambda tool: tool[0])
@pytest.mark.parametrize("last", [b"line", b"no line"])
@pytest.mark.parametrize("head", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
def test_the_diff_is_one_that_other_tools_take(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    end: bytes,
    head: bytes,
    last: bytes,
    tool: tuple[str, ...],
) -> None:
    if shutil.which(tool[0]) is None:
        pytest.skip(f"{tool[0]} is not there")
    name = "lots/oil-1.yaml"
    shed = tmp_path / "a shed"
    shed.mkdir()
    path = logbook(shed) / name
    raw = head + path.read_bytes().replace(b"lot:", b"Lot:", 1).replace(b"\n", end)
    path.write_bytes(raw if last == b"line" else raw.removesuffix(end))
    wanted = path.read_bytes().replace(b"Lot:", b"lot:", 1)
    monkeypatch.chdir(tmp_path)
    diff = run("fix", path.parents[1].relative_to(tmp_path)).stdout_bytes
    done = subprocess.run(tool, input=diff, capture_output=True, cwd=tmp_path, check=False)
    assert done.returncode == 0, (done.stdout, done.stderr, diff)
    assert path.read_bytes() == wanted


@pytest.mark.parametrize("head", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
def test_marks_of_byte_order_and_ends_of_lines_stay(tmp_path: Path, head: bytes, end: bytes) -> None:
    root = logbook(tmp_path)
    path = root / "lots" / "oil-1.yaml"
    good = path.read_bytes().replace(b"\n", end)
    path.write_bytes(head + good.replace(b"lot:", b"Lot:", 1))
    assert run("fix", "--write", root).exit_code == 0
    assert path.read_bytes() == head + good


def test_the_head_of_a_page_is_mended_where_it_stands(tmp_path: Path) -> None:
    text = "---\nTitle: Opening the shed\n# said by one of us\npublic: Yes\n---\n\nTitle: stays, 1,5 L too\n"
    root = logbook(tmp_path, {"pages/opening.md": text})
    assert run("fix", "--write", root).exit_code == 0
    wanted = text.replace("Title:", "title:", 1).replace("Yes", "true")
    assert (root / "pages" / "opening.md").read_text(encoding="utf-8") == wanted


def test_a_doubtful_comma_is_left_to_its_writer(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"lots/oil-1.yaml": ("300 L at 15 °C", "1,300 L at 15 °C")})
    done = run("fix", "--write", root)
    assert done.exit_code == 1
    assert done.stderr == (
        "Nothing here can be mended without guessing.\n"
        "Left to you: 1 error, 0 warnings; see 'esterday check'.\n"
    )


def test_a_file_that_changed_meanwhile_is_not_written_over(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"lots/oil-1.yaml": ("300 L", "300,5 L")})
    found = fixed(root)
    path = root / "lots" / "oil-1.yaml"
    path.write_text("lot: oil-1 # somebody types here\n", encoding="utf-8")
    with pytest.raises(SystemExit, match="3"):
        put_all(found.before, found.after, root)
    assert path.read_text(encoding="utf-8") == "lot: oil-1 # somebody types here\n"


def test_the_mode_stays_and_no_draft_is_left(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"lots/oil-1.yaml": ("300 L", "300,5 L")})
    path = root / "lots" / "oil-1.yaml"
    path.chmod(0o640)
    names = sorted(path.parent.iterdir())
    found = fixed(root)
    put_all(found.before, found.after, root)
    assert (path.stat().st_mode & 0o777, sorted(path.parent.iterdir())) == (0o640, names)


def test_of_two_mends_that_overlap_the_first_goes_in() -> None:
    assert mended(b"abc\ndef\n", [Mend(1, 1, 1, 3, "x"), Mend(1, 2, 1, 4, "y"), Mend(2, 3, 2, 4, "")]) == (
        b"xc\nde\n",
        2,
    )


TWO_AT_ONCE = {
    "a key and its currency": ("paid: 0.40 EUR/L", "Paid: 20 €", "paid: 20 EUR"),
    "a key and its comma": ("quantity: 300 L at 15 °C", "Quantity: 300,5 L", "quantity: 300.5 L"),
    "a comma and a currency": ("paid: 0.40 EUR/L", "paid: 0,38 €/L", "paid: 0.38 EUR/L"),
    "a key over what only its writer knows": ("paid: 0.40 EUR/L", "Paid: some", "paid: some"),
}


@pytest.mark.parametrize("name", TWO_AT_ONCE)
def test_one_mend_does_not_wait_for_another_in_the_same_line(name: str, tmp_path: Path) -> None:
    good, wrong, mended_text = TWO_AT_ONCE[name]
    root = logbook(tmp_path, {"lots/oil-1.yaml": (good, wrong)})
    wanted = (root / "lots" / "oil-1.yaml").read_text(encoding="utf-8").replace(wrong, mended_text)
    assert "mended" in run("fix", "--write", root).stderr
    assert (root / "lots" / "oil-1.yaml").read_text(encoding="utf-8") == wanted


def test_of_two_keys_that_are_one_neither_is_mended(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"lots/oil-1.yaml": ("paid: 0.40 EUR/L", "Paid: 20 EUR\nPAID: 30 EUR")})
    assert "Nothing here can be mended" in run("fix", "--write", root).stderr


def test_a_sign_of_a_currency_without_a_rate_is_left_and_told_right(tmp_path: Path) -> None:
    root = logbook(
        tmp_path,
        {"logbook.yaml": ("currency: EUR", "currency: CHF"), "lots/oil-1.yaml": ("0.40 EUR/L", "20 €")},
    )
    (problem,) = [each for each in checked_folder(root)[1].problems if each.place.file == "lots/oil-1.yaml"]
    assert problem.mend is None
    assert problem.hint.startswith(
        "convert it and write CHF, or write in logbook.yaml what 1 EUR was worth: rates: "
    )


def test_tabs_that_wait_for_another_mistake_say_so(tmp_path: Path) -> None:
    text = "batch: b2\noil:\n\tlot: oil-1\nnote: 'never closed\n"
    root = logbook(tmp_path, {"batches/b2.yaml": text})
    (problem,) = [each for each in checked_folder(root)[1].problems if each.place.file == "batches/b2.yaml"]
    assert problem.mend is None
    assert problem.hint == "indent with blanks, not with tabs; 'fix' does it once line 4 is mended"
    path = root / "batches" / "b2.yaml"
    path.write_text(text.replace("closed", "closed'"), encoding="utf-8")
    run("fix", "--write", root)
    assert "\n  lot: oil-1\n" in path.read_text(encoding="utf-8")
