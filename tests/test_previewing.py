"""What a preview hands out: the files of the site as a build would write them, each made when it is asked for."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.build import build_site
from generator.compute import back_then, figures
from generator.pages import batch
from generator.pages.view import Page
from generator.previewing import Preview
from generator.render.assets import SPECIFICATIONS
from tests.compute.test_kept_figures import SETTLED
from tests.logbook_files import lay, logbook

B1 = "batches/b1.yaml"


def specifications(preview: Preview) -> set[str]:
    """The charts whose specification is handed out now."""
    text = (preview.get(SPECIFICATIONS) or b"").decode()
    return set(json.loads(text.removeprefix("window.chartSpecs = ").rstrip(";\n"))) if text else set()


def test_beside_the_pages_every_file_is_that_of_a_build(tmp_path: Path) -> None:
    root, site = logbook(tmp_path), tmp_path / "site"
    build_site(root, site, "workshop")
    preview = Preview(root, "workshop")
    files = [
        path.relative_to(site).as_posix()
        for path in sorted(site.rglob("*"))
        if path.is_file() and not path.name.startswith(".")
    ]
    drawing = {path for path in files if path.startswith("assets/vega/")} | {SPECIFICATIONS}
    assert {path for path in files if preview.get(path) is None} == drawing  # no page was opened before
    others = [path for path in files if not path.endswith(".html") and path != SPECIFICATIONS]
    assert len(others) > 100
    assert [path for path in others if preview.get(path) != (site / path).read_bytes()] == []
    assert preview.get(SPECIFICATIONS) == (site / SPECIFICATIONS).read_bytes()


def test_a_page_with_its_sheets_is_made_without_the_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[str] = []
    whole = batch._page

    def counted(of: batch.Of) -> Page:
        made.append(of.row["batch"])
        return whole(of)

    monkeypatch.setattr(batch, "_page", counted)
    preview = Preview(logbook(tmp_path), "workshop")
    for path in (
        "batches/b1.html",
        "assets/style.css",
        "assets/page.js",
        "batches/no.html",
        "batches/b1.html",
    ):
        preview.get(path)
    assert made == ["b1"]


def reckoned(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The dear figures that are reckoned from now on: records of days that are over, uncertainties of a batch."""
    made: list[str] = []
    for module, name in ((back_then, "own_record"), (figures, "_sure")):
        whole = getattr(module, name)

        def counted(*given: object, name: str = name, whole: Callable[..., object] = whole) -> object:
            made.append(name)
            return whole(*given)

        monkeypatch.setattr(module, name, counted)
    return made


def test_a_batch_page_waits_for_no_offer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = reckoned(monkeypatch)
    preview = Preview(logbook(tmp_path, SETTLED), "workshop")
    assert preview.get("batches/b1.html")
    assert made.count("own_record") == 0
    assert preview.get("oil.html")
    assert made.count("own_record") == 1


def test_a_preview_takes_up_what_was_kept_and_reckons_what_changed_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root, cache = logbook(tmp_path, SETTLED), tmp_path / "cache"
    made = reckoned(monkeypatch)
    build_site(root, tmp_path / "site", "workshop", cache=cache)
    assert set(made) == {"own_record", "_sure"}
    made.clear()
    preview = Preview(root, "workshop", cache)
    preview.get("batches/b1.html")
    assert made == []
    lay(root, B1, ("tests:\n", "note: Settled for two days.\ntests:\n"))
    assert preview.refresh()
    preview.get("batches/b1.html")
    assert made == ["_sure"]


def test_charts_are_those_of_the_pages_that_were_opened_since_a_file_was_saved(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    preview = Preview(root, "workshop")
    preview.get("costs.html")
    costs = specifications(preview)
    preview.get("quality.html")
    assert costs < specifications(preview)
    lay(root, B1, ("tests:\n", "note: Settled for two days.\ntests:\n"))
    assert preview.refresh()
    preview.get("costs.html")
    assert specifications(preview) == costs


def test_errors_over_a_page_are_counted_in_its_language(tmp_path: Path) -> None:
    root = logbook(tmp_path, {"logbook.yaml": ("currency: EUR", "currency: EUR\nlocale: de-DE")})
    preview = Preview(root, "workshop")
    assert preview.get("index.html") is not None
    lay(root, B1, (root / B1).read_text(encoding="utf-8") + "colour: amber\n")
    preview.refresh()
    page = (preview.get("index.html") or b"").decode()
    assert "<p>1 Fehler im Logbuch: was hier steht, ist der letzte Stand ohne Fehler.</p>" in page
