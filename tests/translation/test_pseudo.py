"""The demo in a language that no one speaks: whatever stands on a page in plain letters is data, or a text that was not translated."""

from __future__ import annotations

import ast
import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator import language
from generator.build import build_site
from generator.explaining import explained
from generator.language import Language
from tests.translation.catalogue import KEYWORDS, PLACES, template
from tests.translation.pseudo import TWICE, pseudo, widen_logbook
from tests.translation.reading import Data, Met, column_words, met

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module", params=["workshop", "shared"])
def texts(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> list[Met]:
    folder = tmp_path_factory.mktemp("pseudo")
    shutil.copytree(ROOT / "logbook", folder / "logbook")
    widen_logbook(folder / "logbook")
    settings = folder / "logbook" / "logbook.yaml"
    written = settings.read_text(encoding="utf-8")
    settings.write_text(written.replace("locale: en\n", "locale: de\n"), encoding="utf-8")
    spoken, usual = pseudo(), language.language

    def found(code: str) -> Language:
        return spoken if code == "de" else usual(code)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(language, "language", found)
        built = build_site(folder / "logbook", folder / "site", request.param)
        assert built.published is not None
    return list(met(folder / "site"))


def is_named(each: Met) -> bool:
    """A text that is no language: a code of a problem, the name of a table or column among the downloads."""
    if each.page == "downloads.html":
        return each.text.split(":")[0] in column_words()
    return each.text in explained()


def test_every_text_of_every_page_is_translated_or_data(texts: list[Met]) -> None:
    data = Data(ROOT / "logbook")
    kinds = {each.page.split("/")[0] for each in texts}
    assert len(texts) > 100_000 and len(kinds) > 15
    assert sum("role-axis-label" in each.element for each in texts) > 100, "charts are read too"
    left = Counter(each for each in texts if not is_named(each) and data.unsaid(each.text))
    told = [f"{each.text!r} in {each.page} {each.element[-60:]}" for each in left]
    assert not told, "\n".join(told[:100])


def test_no_text_is_said_twice(texts: list[Met]) -> None:
    """A German text that is an English one too would be translated once more: Batch, Charge, Füllung."""
    told = sorted(
        {f"{each.text!r} in {each.page} {each.element[-60:]}" for each in texts if TWICE in each.text}
    )
    assert not told, "\n".join(told[:100])


def _spoken(path: Path) -> Iterator[str]:
    """The texts that a module says, as it is read by Python and not by the tool that gathers texts."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in KEYWORDS:
            places = KEYWORDS[node.func.id] or (1,)
            for argument in (node.args[place - 1] for place in places if place <= len(node.args)):
                if isinstance(argument, ast.Constant):
                    assert isinstance(argument.value, str)
                    yield argument.value


def test_every_text_that_is_said_is_in_the_catalogue() -> None:
    """What gathers texts passes over calls inside f-strings without a word."""
    known = {
        form
        for message in template()
        for form in (message.id if isinstance(message.id, tuple) else (message.id,))
    }
    modules = [
        path
        for folder, pattern, method in PLACES
        if method == "python"
        for path in (ROOT / folder).rglob(pattern)
    ]
    assert len(modules) > 100
    for path in modules:
        assert set(_spoken(path)) <= known, path


def test_what_is_not_translated_is_found() -> None:
    data = Data(ROOT / "logbook")
    assert data.unsaid("ｎｅｅｄｓ energy used") == ["energy", "used"]
    assert data.unsaid("36,5 L at 17 °C (meoh-001)") == ["at"]
    assert data.unsaid("0,83 EUR/L; shaken with water, EN 14104 (barn-A-1), 2026-014") == []
