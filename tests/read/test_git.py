"""The history of a logbook from real repositories: whole, shallow, hostile, none."""

from __future__ import annotations

import csv
import os
import re
import subprocess
from pathlib import Path

import pandas as pd
import pytest

from generator.build import build_site
from generator.compute.changes import changes, published
from generator.compute.frames import plain_rows
from generator.log import Log
from generator.read.git import contents, past
from generator.validate.logbook import checked_folder
from tests.logbook_files import lay, logbook

B1 = "batches/b1.yaml"


def run(folder: Path, *words: str, at: int = 0) -> None:
    """One command of git, committing at noon of a day of January 2026."""
    when = f"2026-01-{at:02}T12:00:00+0000" if at else "2026-01-01T12:00:00+0000"
    own = {"GIT_AUTHOR_DATE": when, "GIT_COMMITTER_DATE": when, "GIT_CONFIG_GLOBAL": os.devnull}
    who = ["-c", "user.name=nobody", "-c", "user.email=nobody@example.org"]
    subprocess.run(
        ["git", *who, "-C", str(folder), *words], check=True, capture_output=True, env={**os.environ, **own}
    )


def repository(parent: Path) -> Path:
    """A good logbook, committed on the 20th; the fuel of b1 written anew on the 25th, its note on the 26th."""
    root = logbook(parent)
    run(parent, "init", "-b", "main")
    run(parent, "add", ".")
    run(parent, "commit", "-m", "all", at=20)
    lay(root, B1, ("fuel: {volume: 97 L", "fuel: {volume: 96 L"))
    run(parent, "commit", "-am", "fuel", at=25)
    lay(root, B1, ("fuel:", "note: seen again\nfuel:"))
    run(parent, "commit", "-am", "note", at=26)
    return root


def log_at(root: Path) -> Log:
    """The log as it lies there now."""
    log = checked_folder(root)[1].log
    assert log is not None
    return log


def shared_changes(root: Path) -> pd.DataFrame:
    """What of the history a shared site tells."""
    log = log_at(root)
    return published(changes(log, past(root), shared=True))


def test_versions_and_what_they_moved(tmp_path: Path) -> None:
    root = repository(tmp_path)
    found = past(root)
    assert (found.missing, len(found.versions[B1]), len(found.versions["batches/b2.yaml"])) == ("", 3, 1)
    rows = plain_rows(changes(log_at(root), found))
    told = [
        tuple(row[name] for name in ("batch", "date", "what", "figure", "before", "after"))
        for row in rows
        if row["batch"] == "b1" and row["figure"] in (None, "fuel_l")
    ]
    assert told == [
        ("b1", "2026-01-20", "recorded", None, None, None),
        ("b1", "2026-01-25", "changed", "fuel_l", "97", "96"),
        ("b1", "2026-01-26", "changed", None, None, None),
    ]


def test_what_is_published_has_no_trace_of_a_note(tmp_path: Path) -> None:
    root = repository(tmp_path)
    rows = shared_changes(root)
    assert set(rows["date"]) == {"2026-01-25"}
    assert rows["figure"].notna().all()


LAB, KIT = "; EN ISO 12937; laboratory", "; water test kit"


def test_a_late_change_is_seen_by_readers_of_the_shared_site(tmp_path: Path) -> None:
    """A figure and a result of a laboratory, on the page of the batch and in the table for everyone; no word of a note."""
    root = repository(tmp_path)
    result = "{property: water, value: 350 mg/kg, method: EN ISO 12937, laboratory: true}"
    lay(root, B1, ("tests:", f"tests:\n  - {result}"))
    run(tmp_path, "commit", "-am", "result", at=28)
    lay(root, B1, ("350 mg/kg", "410 mg/kg"))
    run(tmp_path, "commit", "-am", "result again", at=29)
    assert build_site(root, tmp_path / "site", "shared").published is not None
    with (tmp_path / "site" / "data" / "changes.csv").open(encoding="utf-8", newline="") as file:
        rows = [(row["date"], row["figure"], row["before"], row["after"]) for row in csv.DictReader(file)]
    assert ("2026-01-25", "fuel_l", "97", "96") in rows
    assert [row for row in rows if row[0] == "2026-01-29"] == [
        ("2026-01-29", "water", f"350 mg/kg{LAB}, 310 mg/kg{KIT}", f"410 mg/kg{LAB}, 310 mg/kg{KIT}")
    ]
    assert not any(row[0] in ("2026-01-20", "2026-01-26") for row in rows)
    assert "410 mg/kg" in (tmp_path / "site" / "batches" / "b1.html").read_text(encoding="utf-8")


def late(root: Path) -> list[tuple[str, str, str, str, str]]:
    """Every figure of b1 that a version moved and readers may see: the day, its name, both values, whether it is late."""
    names = ("date", "figure", "before", "after", "late")
    rows = plain_rows(shared_changes(root))
    return [tuple(row[name] for name in names) for row in rows if row["figure"] in ("fuel_l", "water")]


def told(root: Path, since: str = "2026-01-27") -> list[tuple[str | None, ...]]:
    """What a shared site tells of changes from a day on, and of what is not committed."""
    names = ("batch", "date", "what", "figure", "before", "after", "late")
    rows = plain_rows(shared_changes(root))
    return [tuple(row[name] for name in names) for row in rows if (row["date"] or "9") >= since]


def test_a_batch_that_was_taken_away_is_told_and_one_that_was_private_is_not(tmp_path: Path) -> None:
    root = repository(tmp_path)
    lay(root, "batches/b2.yaml", None)
    assert told(root) == [("b2", None, "removed", None, None, None, "no")]
    run(tmp_path, "commit", "-am", "away", at=27)
    assert told(root) == [("b2", "2026-01-27", "removed", None, None, None, "no")]


def test_a_batch_that_was_private_when_it_was_taken_away_leaves_no_trace(tmp_path: Path) -> None:
    root = repository(tmp_path)
    lay(root, "batches/b2.yaml", ("batch: b2", "batch: b2\nprivate: true"))
    run(tmp_path, "commit", "-am", "private", at=27)
    lay(root, "batches/b2.yaml", None)
    run(tmp_path, "commit", "-am", "away", at=28)
    assert told(root) == []
    assert [
        row["batch"] for row in plain_rows(changes(log_at(root), past(root))) if row["what"] == "removed"
    ] == ["b2"]


def test_a_batch_that_comes_back_under_another_name_of_its_file_keeps_its_history(tmp_path: Path) -> None:
    root = repository(tmp_path)
    text = (root / B1).read_text(encoding="utf-8")
    lay(root, B1, None)
    run(tmp_path, "commit", "-am", "away", at=27)
    (root / "batches/other.yaml").write_text(text.replace("volume: 96 L", "volume: 93 L"), encoding="utf-8")
    run(tmp_path, "add", ".")
    run(tmp_path, "commit", "-m", "back", at=28)
    assert ("b1", "2026-01-28", "changed", "fuel_l", "96", "93", "yes") in told(root)


def test_another_date_another_name_and_another_note_are_late_changes(tmp_path: Path) -> None:
    """Of a note it is told that it was changed and not what it said, for somebody may have taken it back."""
    root = repository(tmp_path)
    (dated,) = re.findall(r"^date: (\S+)", (root / B1).read_text(encoding="utf-8"), re.MULTILINE)
    lay(root, B1, ("fuel:", "public_note: zanzibar\nfuel:"))
    run(tmp_path, "commit", "-am", "a note is more", at=27)
    assert told(root) == [("b1", "2026-01-27", "changed", "public note", None, "written", "no")]
    lay(root, B1, ("zanzibar", "honolulu"))
    lay(root, B1, (f"date: {dated}", "date: 2025-02-01"))
    lay(root, B1, ("batch: b1", "batch: b9"))
    run(tmp_path, "commit", "-am", "late", at=28)
    assert told(root, "2026-01-28") == [
        ("b9", "2026-01-28", "changed", "name", "b1", "b9", "yes"),
        ("b9", "2026-01-28", "changed", "date", dated, "2025-02-01", "yes"),
        ("b9", "2026-01-28", "changed", "public note", "written", "written otherwise", "yes"),
    ]
    assert "zanzibar" not in shared_changes(root).to_csv()


def test_what_was_written_is_followed_where_no_figure_hangs_on_it(tmp_path: Path) -> None:
    root = repository(tmp_path)
    lay(root, B1, ("glycerol: {mass: 20 kg}", "time: 12 h, glycerol: {mass: 20 kg}"))
    run(tmp_path, "commit", "-am", "more", at=27)
    lay(root, B1, ("time: 12 h", "time: 18 h"))
    run(tmp_path, "commit", "-am", "late", at=28)
    assert told(root) == [
        ("b1", "2026-01-27", "changed", "Settling: time", None, "12 h", "no"),
        ("b1", "2026-01-28", "changed", "Settling: time", "12 h", "18 h", "yes"),
    ]


SETTINGS = "logbook.yaml"
OWN = "own_limits:\n  - edition: first\n    limits: [{property: water, max: 500 mg/kg}]\n"


def test_a_limit_that_reaches_back_is_late_and_an_edition_from_later_on_is_not(tmp_path: Path) -> None:
    root = repository(tmp_path)
    text = (root / SETTINGS).read_text(encoding="utf-8")
    (root / SETTINGS).write_text(f"{text}\n{OWN}", encoding="utf-8")
    run(tmp_path, "commit", "-am", "own", at=27)
    assert [(row[3], row[5], row[6]) for row in told(root)] == [
        ("own limit of water", "at most 500 mg/kg", "yes")
    ]
    lay(root, SETTINGS, ("500 mg/kg", "800 mg/kg"))
    run(tmp_path, "commit", "-am", "wider", at=28)
    later = "  - edition: second\n    from: 2026-02-01\n    limits: [{property: water, max: 400 mg/kg}]\n"
    (root / SETTINGS).write_text(f"{text}\n{OWN}{later}".replace("500", "800"), encoding="utf-8")
    run(tmp_path, "commit", "-am", "from now on", at=29)
    assert told(root, "2026-01-28") == [
        (
            None,
            "2026-01-28",
            "changed",
            "own limit of water",
            "at most 500 mg/kg",
            "at most 800 mg/kg",
            "yes",
        ),
        (
            None,
            "2026-01-29",
            "changed",
            "own limit of water from 2026-02-01",
            None,
            "at most 400 mg/kg",
            "no",
        ),
    ]


def test_what_is_not_committed_is_told_by_what_is_public_of_it(tmp_path: Path) -> None:
    root = repository(tmp_path)
    assert told(root) == []
    lay(root, B1, ("volume: 96 L", "volume: 94 L"))
    lay(root, "columns/shed.yaml", ("bed: 55 L", "bed: 54 L"))
    rows = told(root)
    assert ("b1", None, "not committed", "fuel_l", "96", "94", "no") in rows
    assert rows[-1] == (None, None, "not committed", "the columns", None, None, "no")
    (root / "pages").mkdir(exist_ok=True)
    for public in ("", "public: true\n"):
        page = f"---\ntitle: How it goes\n{public}---\nText.\n"
        (root / "pages" / "how.md").write_text(page, encoding="utf-8")
        assert ("texts of pages" in {row[3] for row in told(root)}) == bool(public)
    run(tmp_path, "add", ".")
    run(tmp_path, "commit", "-m", "all that was open", at=28)
    assert told(root, "9") == []
    text = (root / B1).read_text(encoding="utf-8").replace("batch: b1", "batch: b7")
    (root / "batches/b7.yaml").write_text(text, encoding="utf-8")
    assert ("b7", None, "not committed", None, None, None, "no") in told(root)


def test_a_batch_file_that_is_renamed_and_not_committed_keeps_its_history(tmp_path: Path) -> None:
    root = repository(tmp_path)
    (root / B1).rename(root / "batches/first.yaml")
    assert told_of(root, "b1") == SINCE and told(root) == []


def test_late_is_what_stood_otherwise_since_an_earlier_day(tmp_path: Path) -> None:
    """Neither what is written on the day itself, nor a figure that came later, nor a retest beside what it repeats."""
    root = logbook(tmp_path)
    result = "{property: water, value: 350 mg/kg, method: EN ISO 12937, laboratory: true}"
    run(tmp_path, "init", "-b", "main")
    run(tmp_path, "add", ".")
    run(tmp_path, "commit", "-m", "all", at=20)
    lay(root, B1, ("fuel: {volume: 97 L", "fuel: {volume: 96 L"))
    run(tmp_path, "commit", "-am", "on the same day", at=20)
    lay(root, B1, ("method: water test kit}\n", f"method: water test kit}}\n  - {result}\n"))
    run(tmp_path, "commit", "-am", "a result more", at=25)
    lay(root, B1, ("fuel: {volume: 96 L", "fuel: {volume: 95 L"))
    lay(root, B1, ("value: 310 mg/kg", "value: 300 mg/kg"))
    run(tmp_path, "commit", "-am", "late", at=26)
    assert late(root) == [
        ("2026-01-20", "fuel_l", "97", "96", "no"),
        ("2026-01-25", "water", f"310 mg/kg{KIT}", f"310 mg/kg{KIT}, 350 mg/kg{LAB}", "no"),
        ("2026-01-26", "fuel_l", "96", "95", "yes"),
        ("2026-01-26", "water", f"310 mg/kg{KIT}, 350 mg/kg{LAB}", f"300 mg/kg{KIT}, 350 mg/kg{LAB}", "yes"),
    ]


def test_soap_and_who_found_a_result_are_followed_too(tmp_path: Path) -> None:
    """Soap is what a batch is judged by; a bench test that becomes one of a laboratory is another result."""
    root = repository(tmp_path)
    text = (root / B1).read_text(encoding="utf-8")
    (sample,) = re.findall(r"point: product,.*?acid: ([\d.]+ mL)", text)
    lay(root, B1, (f"acid: {sample}", "acid: 2.7 mL"))
    run(tmp_path, "commit", "-am", "soap", at=27)
    lay(root, B1, ("method: water test kit", "method: EN ISO 12937, laboratory: true"))
    run(tmp_path, "commit", "-am", "laboratory", at=28)
    rows = [row for row in plain_rows(shared_changes(root)) if row["date"] >= "2026-01-27"]
    assert [(row["date"], row["figure"], row["late"]) for row in rows] == [
        ("2026-01-27", "soap_product_mg_per_kg", "yes"),
        ("2026-01-28", "water", "yes"),
    ]
    assert float(rows[0]["after"]) > 2 * float(rows[0]["before"])
    assert (rows[1]["before"], rows[1]["after"]) == (f"310 mg/kg{KIT}", f"310 mg/kg{LAB}")


@pytest.mark.parametrize("way", ["private", "removed", "broken"])
def test_what_was_public_once_is_held_against_what_it_is_when_it_is_public_again(
    way: str, tmp_path: Path
) -> None:
    """Else a late change could be hidden by making the batch private, taking it away or breaking it for a day."""
    root = repository(tmp_path)
    whole = (root / B1).read_text(encoding="utf-8")
    if way == "private":
        lay(root, B1, ("fuel: {volume: 96 L", "private: true\nfuel: {volume: 93 L"))
    elif way == "broken":
        (root / B1).write_text("oil: [", encoding="utf-8")
    else:
        (root / B1).unlink()
    run(tmp_path, "commit", "-am", "away", at=27)
    (root / B1).write_text(whole.replace("volume: 96 L", "volume: 94 L"), encoding="utf-8")
    run(tmp_path, "add", ".")
    run(tmp_path, "commit", "-m", "back", at=28)
    assert late(root)[-1] == ("2026-01-28", "fuel_l", "96", "94", "yes")
    assert "93" not in shared_changes(root).to_csv()


def told_of(root: Path, batch: str) -> list[tuple[str, str]]:
    """Day and kind of each version of a batch."""
    rows = plain_rows(changes(log_at(root), past(root)))
    return list(dict.fromkeys((row["date"], row["what"]) for row in rows if row["batch"] == batch))


SINCE = [("2026-01-20", "recorded"), ("2026-01-25", "changed"), ("2026-01-26", "changed")]


def test_a_file_that_is_renamed_keeps_its_history(tmp_path: Path) -> None:
    root = repository(tmp_path)
    run(root, "mv", "batches/b1.yaml", "batches/first.yaml")
    run(root, "commit", "-m", "name", at=27)
    assert told_of(root, "b1") == SINCE
    run(root, "mv", "batches/first.yaml", "batches/one.yaml")
    lay(root, "batches/one.yaml", ("fuel: {volume: 96 L", "fuel: {volume: 95 L"))
    run(root, "commit", "-am", "name and fuel", at=28)
    assert told_of(root, "b1") == [*SINCE, ("2026-01-28", "changed")]


def test_two_files_that_change_their_names_take_their_histories_along(tmp_path: Path) -> None:
    root = repository(tmp_path)
    before = told_of(root, "b2")
    for old, new in (("b1", "other"), ("b2", "b1"), ("other", "b2")):
        run(root, "mv", f"batches/{old}.yaml", f"batches/{new}.yaml")
    run(root, "commit", "-m", "names", at=27)
    assert (told_of(root, "b1"), told_of(root, "b2")) == (SINCE, before)
    lay(root, "batches/b2.yaml", ("fuel: {volume: 96 L", "fuel: {volume: 95 L"))  # of b1
    run(root, "commit", "-am", "fuel again", at=28)
    assert (told_of(root, "b1"), told_of(root, "b2")) == ([*SINCE, ("2026-01-28", "changed")], before)


def test_a_batch_that_is_given_another_id_does_not_begin_anew(tmp_path: Path) -> None:
    """What it was before is told as what cannot be read, so that a new name hides no change."""
    root = repository(tmp_path)
    lay(root, B1, ("batch: b1", "batch: b9"))
    run(root, "commit", "-am", "id", at=27)
    assert told_of(root, "b9") == [*SINCE, ("2026-01-27", "changed")]


def test_a_logbook_that_is_moved_keeps_its_history(tmp_path: Path) -> None:
    root = repository(tmp_path)
    moved = root / "inner"
    moved.mkdir()
    for path in sorted(root.iterdir()):
        if path.name not in (".git", "inner"):
            run(root, "mv", path.name, "inner/")
    run(root, "commit", "-m", "moved", at=27)
    assert told_of(moved, "b1") == SINCE


def test_another_batch_in_a_file_that_is_alike_has_its_own_history(tmp_path: Path) -> None:
    root = repository(tmp_path)
    text = (root / B1).read_text(encoding="utf-8").replace("batch: b1", "batch: b9")
    run(root, "rm", B1)
    (root / "batches" / "b9.yaml").write_text(text, encoding="utf-8")
    run(root, "add", ".")
    run(root, "commit", "-m", "another", at=28)
    assert told_of(root, "b9") == [("2026-01-28", "recorded")]


def test_a_logbook_below_the_root_sees_its_own_files_only(tmp_path: Path) -> None:
    root = repository(tmp_path)
    assert "batches/b1.yaml" in past(root).versions
    assert not any(name.startswith("logbook/") for name in past(root).versions)


def test_a_merge_counts_on_the_day_it_landed(tmp_path: Path) -> None:
    root = repository(tmp_path)
    run(tmp_path, "checkout", "-b", "side")
    lay(root, B1, ("volume: 96 L", "volume: 95 L"))
    run(tmp_path, "commit", "-am", "side", at=27)
    run(tmp_path, "checkout", "main")
    run(tmp_path, "merge", "--no-ff", "-m", "land", "side", at=28)
    days = [version.at // 86400 for version in past(root).versions[B1]]
    assert [day - days[0] for day in days] == [0, 5, 6, 8]


@pytest.mark.parametrize("kind", ["none", "empty", "shallow", "no git"])
def test_without_a_history_it_says_why(kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if kind == "none":
        root, told = logbook(tmp_path), "lies in no git repository"
    elif kind == "empty":
        root, told = logbook(tmp_path), "nothing was committed yet"
        run(tmp_path, "init", "-b", "main")
    elif kind == "shallow":
        (tmp_path / "whole").mkdir()
        repository(tmp_path / "whole")
        run(tmp_path, "clone", "--depth", "1", f"file://{tmp_path / 'whole'}", "part")
        root, told = tmp_path / "part" / "logbook", "only the last part"
    else:
        root, told = repository(tmp_path), "git is not installed"
        monkeypatch.setenv("PATH", str(tmp_path / "nowhere"))
    found = past(root)
    assert told in found.missing
    assert found.versions == {}


def test_nothing_of_the_configuration_is_run(tmp_path: Path) -> None:
    """Every command a repository's configuration can name would leave a mark."""
    root = repository(tmp_path)
    mark = tmp_path / "ran"
    evil = tmp_path / "evil.sh"
    evil.write_text(f"#!/bin/sh\ntouch {mark}\ncat\n", encoding="utf-8")
    evil.chmod(0o755)
    for name in ("core.fsmonitor", "core.pager", "pager.log", "diff.external", "core.sshCommand", "core.editor",
                 "gpg.program", "diff.x.textconv", "diff.x.command", "filter.x.clean", "filter.x.smudge",
                 "core.askPass", "credential.helper", "core.alternateRefsCommand"):  # fmt: skip
        run(tmp_path, "config", name, str(evil))
    run(tmp_path, "config", "log.showSignature", "true")
    run(tmp_path, "config", "alias.log", f"!{evil}")
    (tmp_path / ".gitattributes").write_text("* diff=x filter=x\n", encoding="utf-8")
    hooks = tmp_path / ".git" / "hooks"
    hooks.mkdir(exist_ok=True)
    for name in ("post-index-change", "reference-transaction"):
        (hooks / name).write_text(evil.read_text(encoding="utf-8"), encoding="utf-8")
        (hooks / name).chmod(0o755)
    mark.unlink(missing_ok=True)
    found = past(root)
    assert dict(contents(found, [version.blob for version in found.versions[B1]], 1 << 20))
    assert not mark.exists()
    assert found.missing == ""


def test_variables_of_git_do_not_lead_elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root = repository(tmp_path)
    wanted = past(root).versions
    monkeypatch.setenv("GIT_DIR", str(tmp_path / "nowhere"))
    monkeypatch.setenv("GIT_CONFIG_COUNT", "1")
    monkeypatch.setenv("GIT_CONFIG_KEY_0", "core.fsmonitor")
    monkeypatch.setenv("GIT_CONFIG_VALUE_0", str(tmp_path / "evil"))
    assert past(root).versions == wanted


def test_a_version_that_was_private_is_compared_with_none(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    lay(root, B1, ("fuel: {volume: 97 L", "private: true\nfuel: {volume: 90 L"))
    run(tmp_path, "init", "-b", "main")
    run(tmp_path, "add", ".")
    run(tmp_path, "commit", "-m", "all", at=20)
    lay(root, B1, ("private: true\nfuel: {volume: 90 L", "fuel: {volume: 97 L"))
    run(tmp_path, "commit", "-am", "public", at=25)
    assert shared_changes(root).empty


def test_a_version_that_cannot_be_read_is_said_so(tmp_path: Path) -> None:
    root = repository(tmp_path)
    whole = (root / B1).read_text(encoding="utf-8")
    (root / B1).write_text("oil: [", encoding="utf-8")
    run(tmp_path, "commit", "-am", "broken", at=27)
    (root / B1).write_text(whole, encoding="utf-8")
    run(tmp_path, "commit", "-am", "mended", at=28)
    rows = plain_rows(changes(log_at(root), past(root)))
    last = [row for row in rows if row["batch"] == "b1"][-1]
    assert (last["date"], last["figure"]) == ("2026-01-28", None)
    assert "cannot be read" in last["before"]


def test_a_repository_of_somebody_else_is_left_alone(tmp_path: Path) -> None:
    """Only where the tests may give files away."""
    if os.geteuid() != 0:
        pytest.skip("only root can give a repository to somebody else")
    root = repository(tmp_path)
    os.chown(tmp_path / ".git", 65534, 65534)
    os.chown(tmp_path, 65534, 65534)
    assert "belongs to somebody else" in past(root).missing


def test_the_same_repository_gives_the_same(tmp_path: Path) -> None:
    root = repository(tmp_path)
    first = changes(log_at(root), past(root))
    assert first.equals(changes(log_at(root), past(root)))
