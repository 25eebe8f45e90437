"""What lies beside or in the output and is not the tool's: links, folders of like names, edited files, git's own."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from generator.publish import CannotPublish, publish

TREE = {"index.html": b"<p>one</p>", "a/b.html": b"<p>two</p>"}
LESS = {"index.html": b"<p>one</p>"}


def test_a_link_beside_the_output_is_refused_and_its_target_untouched(tmp_path: Path) -> None:
    site, victim = tmp_path / "site", tmp_path / "victim"
    publish(TREE.items(), site, protected=[])
    victim.mkdir()
    (victim / ".esterday-files.json").write_text('{"format": 1, "files": {}}')
    (victim / "doc").write_text("mine")
    (tmp_path / ".site.esterday-new").symlink_to(victim)
    with pytest.raises(CannotPublish, match=r"esterday-new"):
        publish(TREE.items(), site, protected=[])
    assert (victim / "doc").read_text() == "mine"
    assert not (site / "doc").exists()


@pytest.mark.parametrize("name", [".site.esterday-new", ".site.esterday-old"])
def test_somebody_s_folder_of_that_name_is_refused(tmp_path: Path, name: str) -> None:
    publish(TREE.items(), tmp_path / "site", protected=[])
    (tmp_path / name).mkdir()
    (tmp_path / name / "thesis.txt").write_text("mine")
    with pytest.raises(CannotPublish, match="was not made by one"):
        publish(TREE.items(), tmp_path / "site", protected=[])
    assert (tmp_path / name / "thesis.txt").read_text() == "mine"


def test_a_file_that_only_the_list_calls_ours_is_kept(tmp_path: Path) -> None:
    site = tmp_path / "site"
    publish(TREE.items(), site, protected=[])
    (site / "mine.txt").write_text("mine")
    listed = json.loads((site / ".esterday-files.json").read_text())
    listed["files"]["mine.txt"] = "0" * 64
    (site / ".esterday-files.json").write_text(json.dumps(listed))
    published = publish(LESS.items(), site, protected=[])
    assert (site / "mine.txt").read_text() == "mine"
    assert "mine.txt" in published.foreign


def test_a_page_of_ours_that_somebody_edited_is_kept_when_it_is_dropped(tmp_path: Path) -> None:
    site = tmp_path / "site"
    publish(TREE.items(), site, protected=[])
    (site / "a" / "b.html").write_text("edited by hand")
    publish(LESS.items(), site, protected=[])
    assert (site / "a" / "b.html").read_text() == "edited by hand"


def test_a_page_of_ours_that_is_dropped_goes(tmp_path: Path) -> None:
    site = tmp_path / "site"
    publish(TREE.items(), site, protected=[])
    publish(LESS.items(), site, protected=[])
    assert not (site / "a").exists()


def test_a_pipe_for_a_list_is_refused_and_not_waited_for(tmp_path: Path) -> None:
    site = tmp_path / "site"
    site.mkdir()
    os.mkfifo(site / ".esterday-files.json")
    with pytest.raises(CannotPublish):
        publish(TREE.items(), site, protected=[])


def test_git_s_own_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / ".git").mkdir()
    for out in (tmp_path / ".git", tmp_path / ".git" / "site"):
        with pytest.raises(CannotPublish, match="git"):
            publish(TREE.items(), out, protected=[])


def test_a_folder_that_a_dead_run_had_just_begun_is_cleared(tmp_path: Path) -> None:
    begun = tmp_path / ".site.esterday-new"
    begun.mkdir()
    (begun / ".esterday-files.json.part").write_bytes(b"")
    (begun / "half.html").write_bytes(b"ha")
    publish(TREE.items(), tmp_path / "site", protected=[])
    assert not begun.exists()
    assert sorted(path.name for path in (tmp_path / "site").iterdir()) == [
        ".esterday-files.json",
        "a",
        "index.html",
    ]
