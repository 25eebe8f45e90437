"""Every code is explained, with an example that is the gallery's own, on the command line and on the site."""

from __future__ import annotations

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from generator.explaining import FIX, by_area, explained
from generator.problems import rules
from tests.examples import COMMAND, LISTING, case_of, text


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["explain", *words])


def test_the_examples_are_those_of_the_gallery() -> None:
    stands = LISTING.read_text(encoding="utf-8")
    assert stands == text(), f"the gallery has changed: run `{COMMAND}` and look at the difference"


def test_every_code_has_an_area_and_a_reason() -> None:
    assert set(explained()) == set(rules())
    assert all(each.why.endswith(".") and each.area and each.told for each in explained().values())
    assert len({each.why for each in explained().values()}) == len(rules())


def test_most_examples_show_how_they_are_mended() -> None:
    shown = [code for code, each in explained().items() if each.change]
    assert len(shown) > 80


@pytest.mark.parametrize("code", rules())
def test_each_code_tells_meaning_reason_remedy_and_example(code: str) -> None:
    done = run(code)
    words = " ".join(done.stdout.split())
    each = explained()[code]
    assert done.exit_code == 0
    for part in (code, each.rule.level, each.rule.meaning, each.why, each.rule.remedy, each.area):
        assert part in words
    assert f"({code})" in done.stdout
    assert case_of(code).is_dir()


def test_what_fix_can_do_is_said() -> None:
    assert FIX in run("decimal-comma").stdout
    assert FIX not in run("quantity-unit").stdout
    assert sum(each.mendable for each in explained().values()) >= 8


def test_the_code_may_be_copied_with_its_brackets() -> None:
    assert run("(Decimal-Comma)").stdout == run("decimal-comma").stdout


def test_without_a_code_all_are_listed_by_area() -> None:
    done = run()
    heads = [line.rstrip(":") for line in done.stdout.splitlines() if line and line[0] != " "]
    assert heads == list(by_area())
    assert [
        line.split()[0] for line in done.stdout.splitlines() if line[:2] == "  " and line[2] != " "
    ] == list(explained())


def test_an_unknown_code_names_the_nearest() -> None:
    done = run("decimal-coma\x1b")
    assert (done.exit_code, done.stdout) == (2, "")
    assert (
        done.stderr
        == "error: there is no problem 'decimal-coma<U+001B>'\n    hint: did you mean 'decimal-comma'?\n"
    )
    assert "esterday explain lists them all" in run("zzzz").stderr
