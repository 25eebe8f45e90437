"""The empty sheet asks for what a batch file holds, in its order and units, and prints on two pages."""

from __future__ import annotations

import base64
import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from selenium.webdriver.common.print_page_options import PrintOptions

from generator.blank import LEFT_OUT, Blank, sections
from generator.cli import main
from generator.records import Batch
from generator.validate.answer import Fault, fault_of, slot_of
from generator.validate.shape import keys_of
from tests.site.browsing import started

BLANKS = [blank for section in sections() for line in section.lines for blank in line]
WORDED = {"yes / no": "true", "L at          °C": "1 L at 20 °C"}
# where a group has other ways to say the same, or what only a text is for
NOT_ASKED = {"retest", "haze", "laboratory", "titration", "note", "catalyst", "through", "acid_value", "pure", "at",
             "standardised", "solvent", "emulsion", "acid_drained", "of", "rinsings"}  # fmt: skip


def path_of(blank: Blank) -> tuple[str | int, ...]:
    return tuple(int(part) if part.isdigit() else part for part in blank.key.split("."))


@pytest.mark.parametrize("blank", BLANKS, ids=lambda blank: blank.key)
def test_every_blank_is_a_value_of_a_batch_in_its_unit(blank: Blank) -> None:
    assert not isinstance(slot_of(Batch, path_of(blank)), Fault)
    if blank.unit:
        value = WORDED.get(blank.unit, f"1 {blank.unit}")
        assert fault_of(Batch, path_of(blank), value, {}) is None


def test_no_key_of_a_batch_is_forgotten_and_the_order_is_the_file_s() -> None:
    asked = list(dict.fromkeys(str(path_of(blank)[0]) for blank in BLANKS))
    assert asked == [key for key in keys_of(Batch, ()) if key not in LEFT_OUT]


@pytest.mark.parametrize(
    "path",
    [
        "polish.0",
        "polish.0.soap.0",
        "polish.0.readings.0",
        "reaction.0",
        "reaction.0.conversion.0",
        "titration",
    ],
)
def test_no_key_of_a_group_is_forgotten(path: str) -> None:
    steps = tuple(int(part) if part.isdigit() else part for part in path.split("."))
    asked = {blank.key[len(path) + 1 :].split(".")[0] for blank in BLANKS if blank.key.startswith(f"{path}.")}
    assert set(keys_of(Batch, steps)) - asked <= NOT_ASKED


def test_it_prints_on_two_pages_and_asks_nothing_of_the_net(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["blank"])
    assert done.exit_code == 0
    (tmp_path / "sheet.html").write_bytes(done.stdout_bytes)
    assert "http" not in done.stdout.replace("http-equiv", "")
    driver = started()
    try:
        driver.get((tmp_path / "sheet.html").as_uri())
        options = PrintOptions()
        options.set_page_size(PrintOptions.A4)
        printed = base64.b64decode(driver.print_page(options))
        assert driver.get_log("browser") == []
    finally:
        driver.quit()
    assert 1 <= len(re.findall(rb"/Type\s*/Page\b", printed)) <= 2


def test_cautions_stand_where_methanol_alkali_acid_and_heat_are_handled() -> None:
    text = CliRunner().invoke(main, ["blank"]).stdout.lower()
    assert all(word in text for word in ("methanol", "alkali", "acid", "hot", "pressure"))
