"""A sheet and its map: what is written, what is left out and why, row by row."""

from __future__ import annotations

import pytest

from generator.exchange.importing import together

from .sheets import HEADINGS, MAP, plan_of, row, there_of, told, written


def test_a_row_becomes_a_record() -> None:
    data = written(
        plan_of(
            row(batch="14", date="2026-03-14", oil="190", oil_c="22", titration="2.4 / 2.5", koh="1920", methanol="41",
                soap="60", fuel="188", colour="amber", notes="Settled overnight.")
        )
    )  # fmt: skip
    assert data == {
        "batch": "14",
        "date": "2026-03-14",
        "oil": [{"lot": "oil-1", "volume": "190 L at 22 °C"}],
        "titration": {
            "titrant": {"strength": "1 g/L", "of": "KOH", "pure": "true"},
            "sample": "1 mL",
            "blank": "0.1 mL",
            "readings": ["2.4 mL", "2.5 mL"],
        },
        "reaction": [
            {
                "catalyst": [{"lot": "koh-1", "mass": "1920 g"}],
                "methanol": [{"lot": "meoh-1", "volume": "41 L"}],
            }
        ],
        "fuel": {"volume": "188 L"},
        "tests": [{"property": "soap", "value": "60 mg/kg"}],
        "note": "Settled overnight.\nColour: amber\n",
    }


def test_unknown_stays_out_and_is_not_zero() -> None:
    data = written(plan_of(row(batch="1", date="2026-03-14", oil="190", soap="0")))
    assert data == {
        "batch": "1",
        "date": "2026-03-14",
        "oil": [{"lot": "oil-1", "volume": "190 L"}],
        "tests": [{"property": "soap", "value": "0 mg/kg"}],
    }


def test_what_has_no_complete_group_goes_into_the_note() -> None:
    plan = plan_of(
        row(batch="1", date="2026-03-14", oil="190", koh="1920"),
        row(batch="2", date="2026-03-15", oil="9", koh="1"),
    )
    assert "KOH (g): 1920" in plan.written[0].text and "reaction" not in plan.written[0].text
    assert plan.remarks == [
        "rows 2, 3: 'KOH (g)' into the note, as 'reaction.0' is not complete: 'methanol' is missing"
    ]


def test_a_group_of_constants_alone_that_is_not_complete_is_left_out() -> None:
    plan = plan_of(row(batch="1", date="2026-03-14", oil="190"), text=MAP + "  water.method: test kit\n")
    assert "water" not in written(plan)
    assert plan.remarks == [
        "row 2: what 'always' says is left out, as 'water' is not complete: 'value' is missing"
    ]


def test_a_temperature_without_its_volume_is_kept() -> None:
    text = MAP.replace("oil.0.volume.at", "fuel.volume.at")
    data = written(plan_of(row(batch="1", date="2026-03-14", oil="190", oil_c="22"), text=text))
    assert data["note"] == "Oil °C: 22"


@pytest.mark.parametrize(
    ("cells", "where", "message"),
    [
        ({"oil": "12..5"}, "row 2, column C 'Oil (L)'", "'12..5' is not a plainly written number"),
        ({"oil": "1,234"}, "row 2, column C 'Oil (L)'", "'1,234' can be read in two ways"),
        ({"oil": "ca. 190"}, "row 2, column C 'Oil (L)'", "'ca. 190' is not a number with a unit"),
        ({"oil": "-5"}, "row 2, column C 'Oil (L)'", "'-5 L' cannot be"),
        ({"oil": ""}, "row 2", "'oil' is missing"),
        ({"titration": "2.4 2.5"}, "row 2, column E 'Titration (mL)'", "'2.4 2.5' can be several numbers, or one with blanks in it"),
        ({"date": "12/03/2026"}, "row 2, column B 'Date'", "'12/03/2026' does not say which is its day and which its month"),
        ({"date": "2026-02-30"}, "row 2, column B 'Date'", "'2026-02-30' is not in the calendar"),
        ({"date": "12/03"}, "row 2, column B 'Date'", "'12/03' names no year"),
        ({"date": ""}, "row 2", "'date' is missing"),
        ({"date": "46095"}, "row 2, column B 'Date'", "'46095' counts days: 2026-03-14 if counted from 1900 or 2030-03-15 if counted from 1904"),
        ({"batch": ""}, "row 2", "it has no id, as one of 'Batch' is empty"),
        ({"batch": "con"}, "row 2", "'con' cannot be an id"),
        ({"soap": "60 L"}, "row 2, column H 'Soap (ppm)'", "'60 L' is a volume, and a content is wanted here"),
        ({"notes": "a\u202eb"}, "row 2, column K 'Notes'", "a bidirectional mark U+202E stands in it"),
    ],
    ids=lambda value: repr(value) if isinstance(value, dict) else "",
)  # fmt: skip
def test_each_cell_that_cannot_be_used_is_told(cells: dict[str, str], where: str, message: str) -> None:
    plan = plan_of(row(**{"batch": "1", "date": "2026-03-14", "oil": "190", **cells}))
    assert (plan.written, told(plan)) == ([], [(where, message)])


def test_all_is_told_at_once() -> None:
    plan = plan_of(
        row(batch="1", date="x", oil="y", fuel="z"),
        row(),
        row(batch="1", date="2026-03-14", oil="1"),
        row(batch="1", date="2026-03-14", oil="1"),
    )
    assert [where for where, _ in told(plan)] == [
        "row 2, column B 'Date'",
        "row 2, column C 'Oil (L)'",
        "row 2, column I 'Fuel (L)'",
        "row 4",
        "row 5",
    ]
    assert told(plan)[3][1] == "its id '1' is that of row 2 too"


def test_what_cannot_be_read_may_go_into_the_note() -> None:
    text = MAP.replace("key: fuel.volume, unit: L", "key: fuel.volume, unit: L, otherwise: note")
    data = written(plan_of(row(batch="1", date="2026-03-14", oil="190", fuel="about 180"), text=text))
    assert data["note"] == "Fuel (L): about 180"


def test_a_cell_may_bring_its_own_unit() -> None:
    data = written(
        plan_of(
            row(batch="1", date="2026-03-14", oil="50 US gal", koh="1.9 kg", methanol="9 L", fuel="160 kg")
        )
    )
    assert data["oil"] == [{"lot": "oil-1", "volume": "50 US gal"}]
    assert data["reaction"][0]["catalyst"] == [{"lot": "koh-1", "mass": "1.9 kg"}]
    assert data["fuel"] == {"mass": "160 kg"}


def test_settings_of_the_map_say_how_numbers_and_days_are_read() -> None:
    text = MAP.replace(
        "id:",
        'decimal: comma\nthousands: point\ndates: day-month-year\nyear: 2026\nserial: 1904\nunknown: ["n/a", "?"]\nskip: [Total]\nid:',
    )
    plan = plan_of(
        row(batch="1", date="12/03/2026", oil="1.234,5"),
        row(batch="2", date="3.4.26", oil="1,234", fuel="n/a", soap="?"),
        row(batch="3", date="7. April", oil="2"),
        row(batch="4", date="44633", oil="2.000"),
        row(batch="5", date="2026-03-04 10:20", oil="03"),
        row(colour="Total", oil="99"),
        HEADINGS,
        text=text,
    )  # fmt: skip
    assert told(plan) == []
    lines = [{line.split(": ")[0]: line for line in each.text.split("\n")} for each in plan.written]
    assert [line["date"][6:] for line in lines] == [
        "2026-03-12",
        "2026-04-03",
        "2026-04-07",
        "2026-03-14",
        "2026-03-04",
    ]
    assert [each.text.split("volume: ")[1].split("}")[0] for each in plan.written] == [
        "1234.5 L",
        "1.234 L",
        "2 L",
        "2000 L",
        "3 L",
    ]
    assert plan.remarks == [
        "row 7: says 'Total' and is passed over",
        "row 8: repeats the headings and is passed over",
    ]


def test_run_again_nothing_comes_twice_and_a_difference_is_told() -> None:
    first = row(batch="1", date="2026-03-14", oil="190", soap="60", notes="a\nb", colour="x", koh="3")
    before = plan_of(first)
    again = plan_of(first, row(batch="2", date="2026-03-15", oil="100"), there=there_of(before))
    assert (again.same, [each.row for each in again.written], again.troubles) == (["1"], [3], [])
    changed = plan_of(
        row(batch="1", date="2026-03-14", oil="191", soap="60", fuel="180"), there=there_of(before)
    )
    assert told(changed) == [
        (
            "row 2, column C 'Oil (L)'",
            "it says 191, and batches/2026/1.yaml says 190; the file stays as it is",
        ),
        (
            "row 2, column I 'Fuel (L)'",
            "it says 180, and batches/2026/1.yaml says nothing; the file stays as it is",
        ),
    ]


def test_a_record_that_grew_by_hand_still_says_the_same() -> None:
    first = row(batch="1", date="2026-03-14", oil="190", koh="1900", methanol="40")
    there = there_of(plan_of(first))
    file, data = there.records["1"]
    more = {
        **data,
        "reaction": [
            {**data["reaction"][0], "temperature": "55 °C", "catalyst": [{"lot": "koh-1", "mass": "1.90 kg"}]}
        ],
    }
    assert plan_of(first, there=type(there)({"1": (file, more)}, there.files)).same == ["1"]


def test_ids_by_a_rule() -> None:
    text = MAP.replace('"{Batch}"', '"{year}-{Batch:3}"')
    plan = plan_of(
        row(batch="7", date="2026-03-14", oil="1"), row(batch="12/b", date="2025-03-14", oil="1"), text=text
    )
    assert [each.file for each in plan.written] == [
        "batches/2026/2026-007.yaml",
        "batches/2025/2025-12-b.yaml",
    ]


def test_ids_that_differ_in_capitals_are_one() -> None:
    plan = plan_of(row(batch="b", date="2026-03-14", oil="1"), row(batch="B", date="2026-03-14", oil="1"))
    assert told(plan) == [("row 3", "its id 'B' is that of row 2 too")]


def test_rows_without_an_id_may_be_passed_over() -> None:
    text = MAP.replace("columns:", "without_id: pass\ncolumns:", 1)
    plan = plan_of(row(batch="b", date="2026-03-14", oil="1"), row(oil="1", notes="sum"), text=text)
    assert (told(plan), len(plan.written)) == ([], 1)
    assert plan.remarks == ["row 3: has no id and is passed over"]


def test_a_column_that_is_not_there_is_told_with_the_nearest() -> None:
    plan = plan_of(text=MAP.replace("Oil (L)", "Oil (l)").replace("Colour", "Smell"))
    assert [trouble.message for trouble in plan.troubles] == [
        "it names a column 'Oil (l)' that the sheet does not have",
        "it names a column 'Smell' that the sheet does not have",
    ]
    assert plan.troubles[0].hint == "did you mean 'Oil (L)'?"


def test_a_file_of_another_name_in_the_way_is_not_written_over() -> None:
    first = row(batch="1", date="2026-03-14", oil="190")
    there = there_of(plan_of(first))
    plan = plan_of(first, there=type(there)({}, there.files))
    assert told(plan) == [("row 2", "batches/2026/1.yaml is there already, and is no record of '1'")]


def test_all_that_a_row_lacks_is_told_at_once_and_what_rows_have_in_common_once() -> None:
    text = MAP.replace("  oil.0.lot: oil-1\n", "")
    plan = plan_of(*(row(batch=name, oil="100") for name in ("1", "2", "3")), text=text)
    assert {(each.where, each.message) for each in together(plan.troubles)} == {
        ("rows 2, 3, 4", "'date' is missing"),
        ("rows 2, 3, 4", "oil.0: 'lot' is missing"),
    }
    assert len(plan.troubles) == 6


@pytest.mark.parametrize(
    ("text", "says", "hint"),
    [
        ("17.05.2025", "'17.05.2025' has its day first", "write 'dates: day-month-year' into the map"),
        ("05/17/2025", "'05/17/2025' has its month first", "write 'dates: month-day-year' into the map"),
    ],
)
def test_a_day_that_can_be_read_in_one_way_is_not_called_doubtful(text: str, says: str, hint: str) -> None:
    (trouble,) = plan_of(row(batch="1", date=text, oil="100")).troubles
    assert trouble.message.startswith(says)
    assert trouble.hint == hint


def test_a_number_with_both_marks_names_the_setting_that_it_wants() -> None:
    (trouble,) = plan_of(
        row(batch="1", date="2026-01-02", oil="1,234.5"), text=f"decimal: comma\n{MAP}"
    ).troubles
    assert trouble.hint.startswith("say in the map 'decimal: point' and 'thousands: comma'")
