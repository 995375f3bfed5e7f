"""Tables on sheets as sites keep them; each sheet under test stands in its test."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from witnessmark.intake.cell import CellValue
from witnessmark.intake.grid import Grid, MergedRange
from witnessmark.intake.table_layout import TableLayout, locate

HEADINGS = {
    "joint id": "joint_id",
    "joint no": "joint_id",
    "section": "section_id",
    "size": "size",
    "pressed on": "pressed_on",
    "pressure start": "pressure_start",
    "pressure end": "pressure_end",
    "temperature start": "temperature_start",
    "temperature end": "temperature_end",
    "length": "length",
    "operative": "operative_id",
}


def sheet(*rows: tuple[CellValue, ...], merged: tuple[MergedRange, ...] = ()) -> Grid:
    return Grid(file="log.xlsx", sheet="Level 3", rows=list(rows), merged=merged)


def fields(layout: TableLayout) -> list[str | None]:
    return [column.field for column in layout.columns]


def kinds(layout: TableLayout) -> list[str]:
    return [problem.kind for problem in layout.problems]


def reasons(layout: TableLayout) -> dict[int, str]:
    return {entry.row: entry.reason for entry in layout.set_aside}


def test_title_rows_above_the_heading_are_told_apart() -> None:
    layout = locate(
        sheet(
            ("Press joint log",),
            ("Project", "Example House"),
            (),
            ("Joint No.", "Section", "Size (mm)"),
            ("J1", "S1", 22),
        ),
        HEADINGS,
    )
    assert layout.header_rows == (4,)
    assert fields(layout) == ["joint_id", "section_id", "size"]
    assert layout.columns[2].unit == "mm"
    assert layout.body == ((5, ("J1", "S1", 22)),)
    assert [entry.row for entry in layout.above] == [1, 2]
    assert layout.problems == ()


def test_a_group_row_over_a_row_of_sub_headings() -> None:
    layout = locate(
        sheet(
            ("Joint no", "Pressure", None, "Temperature", None),
            (None, "Start", "End", "Start", "End"),
            ("J1", 6.0, 5.9, 18, 17),
            merged=(
                MergedRange(first_row=1, last_row=2, first_column=0, last_column=0),
                MergedRange(first_row=1, last_row=1, first_column=1, last_column=2),
                MergedRange(first_row=1, last_row=1, first_column=3, last_column=4),
            ),
        ),
        HEADINGS,
    )
    assert layout.header_rows == (1, 2)
    assert fields(layout) == ["joint_id", "pressure_start", "pressure_end", "temperature_start", "temperature_end"]
    assert layout.columns[1].text == "Pressure / Start"
    assert [row for row, _ in layout.body] == [3]


def test_a_group_row_saved_as_csv_has_blanks_where_it_was_merged() -> None:
    layout = locate(sheet(("Joint no", "Pressure (bar)", ""), ("", "Start", "End"), ("J1", "6", "5.9")), HEADINGS)
    assert fields(layout) == ["joint_id", "pressure_start", "pressure_end"]
    assert [column.unit for column in layout.columns] == [None, "bar", "bar"]


def test_a_sub_heading_that_stands_under_two_groups_is_never_taken_alone() -> None:
    known = HEADINGS | {"start": "started_at"}
    layout = locate(
        sheet(
            ("Joint no", "Section", "Flow", None, "Return", None), (None, None, "Start", "End", "Start", "End"), ("J1",)
        ),
        known,
    )
    assert "started_at" not in fields(layout)


def test_a_units_row_below_the_heading_gives_the_units() -> None:
    layout = locate(sheet(("Joint no", "Size", "Pressure start"), (None, "mm", "[bar]"), ("J1", 22, 6)), HEADINGS)
    assert layout.units_row == 2
    assert [column.unit for column in layout.columns] == [None, "mm", "bar"]
    assert [row for row, _ in layout.body] == [3]


def test_the_unit_in_a_heading_stands_above_the_units_row() -> None:
    layout = locate(sheet(("Joint no", "Length (mm)"), (None, "m"), ("J1", 1)), HEADINGS)
    assert layout.columns[1].unit == "mm"


def test_a_repeated_heading_blank_rows_totals_and_notes_are_set_aside_with_their_reason() -> None:
    layout = locate(
        sheet(
            ("Joint no", "Section", "Size", "Length"),
            ("J1", "S1", 22, 1.5),
            (None, None, None, None),
            ("JOINT NO", "Section ", "Size", "Length"),
            ("J2", "S1", 22, 2.5),
            (None, "Sub-total", None, 4.0),
            ("Total:", None, None, 4.0),
            ("S1 Total", None, None, 4.0),
            ("Level 4 from here",),
            ("J3", "S2", 28, 1.0),
            (),
            ("Note: joints above the riser head are on sheet 2",),
            ("Signed:", "the foreman"),
        ),
        HEADINGS,
    )
    assert [row for row, _ in layout.body] == [2, 5, 10]
    assert reasons(layout) == {
        4: "the heading row again",
        6: "a total or sub-total",
        7: "a total or sub-total",
        8: "a total or sub-total",
        9: "a note or a heading between rows",
        12: "a note or a heading between rows",
        13: "a note or a heading between rows",
    }
    assert layout.accounting.blank == 2
    assert layout.accounting.adds_up


def test_a_row_with_only_its_id_is_an_unfinished_record_and_is_kept() -> None:
    layout = locate(sheet(("Joint no", "Section", "Size"), ("J1", "S1", 22), ("J2", None, None)), HEADINGS)
    assert [row for row, _ in layout.body] == [2, 3]


def test_a_full_row_whose_words_begin_with_total_is_a_record() -> None:
    layout = locate(sheet(("Joint no", "Section", "Size", "Operative"), ("J1", "Total gym riser", 22, "OP1")), HEADINGS)
    assert [row for row, _ in layout.body] == [2]


def test_the_example_row_of_a_form_is_set_aside() -> None:
    layout = locate(sheet(("Joint no", "Section", "Size"), ("Example:", "S1", 22), ("J1", "S1", 22)), HEADINGS)
    assert reasons(layout) == {2: "the example row of the form"}


def test_merged_cells_are_filled_down_inside_the_merge_only_and_each_fill_is_told() -> None:
    layout = locate(
        sheet(
            ("Section", "Joint no"),
            ("S1", "J1"),
            (None, "J2"),
            (None, "J3"),
            (None, "J4"),
            merged=(MergedRange(first_row=2, last_row=4, first_column=0, last_column=0),),
        ),
        HEADINGS,
    )
    assert [cells[0] for _, cells in layout.body] == ["S1", "S1", "S1", None]
    assert [(fill.row, fill.column, fill.from_row, fill.value) for fill in layout.merge_fills] == [
        (3, 0, 2, "S1"),
        (4, 0, 2, "S1"),
    ]


def test_a_merge_does_not_make_a_record_of_a_blank_row() -> None:
    layout = locate(
        sheet(
            ("Section", "Joint no"),
            ("S1", "J1"),
            (None, None),
            merged=(MergedRange(first_row=2, last_row=3, first_column=0, last_column=0),),
        ),
        HEADINGS,
    )
    assert [row for row, _ in layout.body] == [2]


def test_a_cell_merged_sideways_fills_only_its_first_column_and_is_reported() -> None:
    layout = locate(
        sheet(
            ("Joint no", "Pressure start", "Pressure end"),
            ("J1", 6, None),
            merged=(MergedRange(first_row=2, last_row=2, first_column=1, last_column=2),),
        ),
        HEADINGS,
    )
    assert layout.body == ((2, ("J1", 6, None)),)
    assert kinds(layout) == ["merged-sideways"]


def test_a_second_table_on_the_sheet_is_set_aside_and_reported() -> None:
    layout = locate(
        sheet(
            ("Joint no", "Section", "Size"),
            ("J1", "S1", 22),
            ("J2", "S1", 22),
            (),
            ("Operative", "Section", "Length"),
            ("OP1", "S1", 4),
        ),
        HEADINGS,
    )
    assert [row for row, _ in layout.body] == [2, 3]
    assert set(reasons(layout)) == {5, 6}
    assert kinds(layout) == ["second-table"]
    assert layout.problems[0].row == 5


def test_a_second_table_with_headings_nobody_knows_is_set_aside_too() -> None:
    layout = locate(
        sheet(
            ("Joint no", "Section", "Size"),
            ("J1", "S1", 22),
            ("J2", "S1", 22),
            (),
            ("Name", "Firm", "Card"),
            ("A. Nobody", "Example Ltd", "none"),
        ),
        HEADINGS,
    )
    assert [row for row, _ in layout.body] == [2, 3]
    assert kinds(layout) == ["second-table"]


def test_the_rows_named_in_the_project_bound_the_table() -> None:
    grid = sheet(
        ("Joint no", "Section"), ("J1", "S1"), ("J2", "S1"), (), ("Operative", "Length"), ("OP1", 4), ("OP2", 5)
    )
    first = locate(grid, HEADINGS, first_row=3, last_row=3)
    assert [row for row, _ in first.body] == [3]
    assert reasons(first)[2] == "outside the rows named in project.yml"
    assert first.accounting.adds_up
    second = locate(grid, HEADINGS, header_row=5)
    assert fields(second) == ["operative_id", "length"]
    assert [row for row, _ in second.body] == [6, 7]
    assert second.accounting.adds_up


def test_no_heading_row_sets_every_row_aside_and_says_what_was_seen() -> None:
    layout = locate(sheet(("Jiont no", "Sectoin"), ("J1", "S1")), HEADINGS)
    assert layout.columns == ()
    assert layout.accounting.set_aside == 2
    (problem,) = layout.problems
    assert problem.kind == "no-heading-row"
    assert "row 1 has the most words: 'Jiont no', 'Sectoin'" in problem.message
    assert "nearest known: joint no, section" in problem.remedy


def test_a_heading_row_named_wrongly_is_reported() -> None:
    layout = locate(sheet(("Joint no", "Section"), ("J1", "S1")), HEADINGS, header_row=9)
    assert layout.problems[0].message == "row 9, named as the heading row, is empty or does not exist"


def test_a_table_with_a_heading_and_no_rows_is_reported() -> None:
    layout = locate(sheet(("Joint no", "Section")), HEADINGS)
    assert kinds(layout) == ["table-empty"]
    assert fields(layout) == ["joint_id", "section_id"]


def test_two_columns_for_one_field_give_it_to_neither_until_the_project_says_which() -> None:
    grid = sheet(("Joint no", "Size", "Joint ID"), ("J1", 22, "X1"))
    layout = locate(grid, HEADINGS)
    assert fields(layout) == [None, "size", None]
    assert kinds(layout) == ["field-claimed-twice"]
    assert "columns A 'Joint no', C 'Joint ID' could each be joint_id" in layout.problems[0].message
    settled = locate(grid, HEADINGS, wanted={"column C": "joint_id"})
    assert fields(settled) == [None, "size", "joint_id"]
    assert kinds(settled) == []


def test_the_same_heading_twice_is_reported_with_its_columns() -> None:
    layout = locate(sheet(("Joint no", "Remark", "Remark", "Size"), ("J1", "a", "b", 22)), HEADINGS)
    assert kinds(layout) == ["heading-twice"]
    assert "'Remark' stands over columns B, C" in layout.problems[0].message


def test_the_project_may_map_any_heading() -> None:
    layout = locate(
        sheet(("Lfd. Nr.", "Strang"), ("1", "S1")), HEADINGS, wanted={"lfd nr": "joint_id", "Strang": "section_id"}
    )
    assert fields(layout) == ["joint_id", "section_id"]
    assert {column.matched_by for column in layout.columns} == {"project"}


def test_an_unknown_column_names_the_nearest_heading() -> None:
    layout = locate(sheet(("Joint no", "Section", "Opperative"), ("J1", "S1", "OP1")), HEADINGS)
    assert layout.columns[2].field is None
    assert layout.columns[2].nearest == "operative"


def test_values_under_no_heading_are_counted() -> None:
    layout = locate(sheet(("Joint no", None, "Size"), ("J1", "x", 22), ("J2", "y", 22)), HEADINGS)
    assert kinds(layout) == ["column-without-heading"]
    assert layout.problems[0].message == "column B holds 2 values and has no heading"


def test_a_csv_row_whose_cells_have_shifted_is_set_aside() -> None:
    rows: list[tuple[CellValue, ...]] = [
        ("Joint no", "Size", "Section"),
        ("J1", "22", "S1"),
        ("J2", "22", "S1"),
        ("J3", "28", "riser", "S1"),
    ]
    layout = locate(Grid(file="log.csv", sheet=None, rows=rows), HEADINGS)
    assert [row for row, _ in layout.body] == [2, 3]
    assert reasons(layout)[4].startswith("more cells than headings")
    assert layout.accounting.adds_up


def test_lines_of_particulars_above_the_table_are_not_its_heading() -> None:
    layout = locate(
        sheet(
            ("Section", "S1", "Size", 22),
            ("Operative", "OP1", "Length", 12.5),
            ("Joint no", "Size", "Pressed on"),
            ("J1", 22, "2026-05-12"),
        ),
        HEADINGS,
    )
    assert layout.header_rows == (3,)
    assert [row for row, _ in layout.body] == [4]


def test_the_numbers_of_the_columns_under_a_heading_are_no_record() -> None:
    layout = locate(sheet(("Joint no", "Section", "Size"), (1, "2", "(3)"), (1, 2, 22), (1, 2, 3)), HEADINGS)
    assert reasons(layout) == {2: "the numbers of the columns"}
    assert [row for row, _ in layout.body] == [3, 4]


def test_a_signature_line_below_the_table_is_no_record_however_full_it_is() -> None:
    layout = locate(
        sheet(("Joint no", "Section", "Size"), ("J1", "S1", 22), (), ("Signed by:", "the foreman", "2026-05-12")),
        HEADINGS,
    )
    assert [row for row, _ in layout.body] == [2]


def test_a_legend_beside_the_table_makes_no_records() -> None:
    layout = locate(
        sheet(
            ("Joint no", "Section", None, "Code", "Meaning"),
            ("J1", "S1", None, "A", "accepted"),
            (None, None, None, "R", "rejected"),
        ),
        HEADINGS,
    )
    assert [row for row, _ in layout.body] == [2]
    assert reasons(layout) == {3: "no value under any heading that was recognised"}


def test_a_workbook_of_a_real_building_maps_by_the_project_s_own_words() -> None:
    """The headings are those of an element list read out of an open building model."""
    layout = locate(
        Grid(
            file="elements.csv",
            sheet=None,
            rows=[
                ("GlobalId", "ifc_class", "diameter_mm", "length_mm"),
                ("1mSgyIjivFmQN0a_fUtSVn", "IfcFlowSegment", "22", ""),
            ],
        ),
        HEADINGS,
        wanted={"GlobalId": "joint_id", "diameter mm": "size"},
    )
    assert fields(layout) == ["joint_id", None, "size", None]
    assert layout.columns[3].nearest == "length"


CELLS = st.one_of(
    st.none(),
    st.sampled_from(
        [
            "",
            " ",
            "Joint no",
            "Section",
            "Size",
            "Pressure",
            "Start",
            "End",
            "Total",
            "Note: x",
            "mm",
            "J1",
            "S1",
            "Example",
        ]
    ),
    st.integers(0, 99),
    st.text(max_size=5),
)


@given(
    st.lists(st.lists(CELLS, max_size=5).map(tuple), max_size=14),
    st.lists(st.tuples(st.integers(1, 14), st.integers(0, 4), st.integers(0, 4), st.integers(0, 3)), max_size=3),
    st.one_of(st.none(), st.integers(1, 15)),
    st.booleans(),
)
def test_every_row_of_any_sheet_is_counted_once(
    rows: list[tuple[CellValue, ...]], merges: list[tuple[int, int, int, int]], header_row: int | None, csv: bool
) -> None:
    merged = tuple(MergedRange(row, row + down, column, column + across) for row, column, down, across in merges)
    layout = locate(
        Grid(file="f", sheet=None if csv else "s", rows=rows, merged=merged), HEADINGS, header_row=header_row
    )
    assert layout.accounting.adds_up
    assert layout.accounting.total == len(rows)
    places = [entry.row for entry in (*layout.above, *layout.set_aside)] + [row for row, _ in layout.body]
    places += [*layout.header_rows, *([layout.units_row] if layout.units_row else [])]
    assert len(places) == len(set(places))
    filled = {number for number, row in enumerate(rows, 1) if any(str(v).strip() for v in row if v is not None)}
    assert filled <= set(places)
