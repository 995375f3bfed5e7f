"""How the text of one column is read: a reader per contract field, with the project's answers built in.

A reader is asked once for every distinct text of a column; what it says holds for every cell with that text.
"""

import csv
import datetime
import json
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any, cast

from witnessmark.intake.cell import CellValue
from witnessmark.intake.date_reader import DateOrder, SerialBase, read_date
from witnessmark.intake.number_reader import Decimal, read_number
from witnessmark.intake.quantity_reader import read_quantity
from witnessmark.intake.readings import Fault, Read, text_of
from witnessmark.intake.size_reader import KNOWN_DIAMETERS, TubeSize, read_size
from witnessmark.intake.text_reader import read_id, read_ids, read_text
from witnessmark.intake.time_reader import read_time
from witnessmark.intake.word_reader import WordTable, read_word, read_yes_no
from witnessmark.model.bundled import shared_path
from witnessmark.model.contract import Field
from witnessmark.model.settings import ColumnAnswer, Limits

Reading = Read[Any] | Fault
CellReader = Callable[[CellValue], Reading]


@cache
def _site_words() -> dict[str, dict[str, list[str]]]:
    raw = json.loads(shared_path("reference/words.json").read_text(encoding="utf-8"))
    fields: dict[str, dict[str, list[str]]] = raw["fields"]
    return fields


@cache
def word_table(field_name: str, reads: str, enum: tuple[str, ...]) -> WordTable:
    """Values of a choice with the words that sites write for them."""
    words = _site_words()
    known = words.get("material" if reads == "material" else field_name, {})
    return WordTable({value: known.get(value, []) for value in enum})


@cache
def nominal_sizes() -> Mapping[tuple[str, int], float]:
    """(material, DN) to outside diameter of press tube, mm."""
    with shared_path("reference/dn.csv").open(encoding="utf-8", newline="") as handle:
        return {(row["material_family"], int(row["dn"])): float(row["od_mm"]) for row in csv.DictReader(handle)}


def _without_note(reading: Reading) -> Reading:
    # An awkward id is told where it is given, not again wherever it is referred to.
    return reading if isinstance(reading, Fault) else Read(reading.value, reading.repair)


class ColumnReader:
    """Reads the cells of one column of one source."""

    def __init__(
        self,
        table: str,
        field: Field,
        answer: ColumnAnswer,
        *,
        heading_unit: str | None,
        limits: Limits,
        issue_date: datetime.date,
        day_numbers_from: str = "",
    ) -> None:
        self.field = field
        self._column = f"{table}.{field.name}"
        self._answer = answer
        self._heading_unit = heading_unit
        self._day_numbers_from = day_numbers_from
        newest = limits.newest_date or issue_date
        if field.may_be_later:
            newest = datetime.date(newest.year + 50, 12, 31)
        self._bounds = (limits.oldest_date, newest)
        self._read = self._choose()

    def read(self, value: CellValue) -> Reading:
        """The value of a cell that is not blank, or the fault that says what would settle it."""
        settled = self._settled_word(value)
        return self._read(value) if settled is None else settled

    def read_sized(self, value: CellValue, material: str | None) -> Reading:
        """A tube size, which a nominal size makes depend on the material of the row."""
        text = text_of(value)
        for written, diameter in self._answer.sizes.items():
            if written.strip().casefold() == text.casefold():
                return Read(TubeSize(diameter), f"read '{text}' as {diameter:g} mm, as project.yml says")
        return read_size(value, column=self._column, known=KNOWN_DIAMETERS, material=material, nominal=nominal_sizes())

    def _settled_word(self, value: CellValue) -> Reading | None:
        """What project.yml says the whole text of the cell means, for fields that are no choice themselves."""
        if not self._answer.words or self.field.reads in ("choice", "material", "yesno"):
            return None
        text = text_of(value)
        for word, meant in self._answer.words.items():
            if word.strip().casefold() == text.casefold():
                reading = self._read(meant)
                if isinstance(reading, Fault):
                    return reading
                return Read(reading.value, f"read '{text}' as {meant}, as project.yml says")
        return None

    def _choose(self) -> CellReader:
        field, answer, column = self.field, self._answer, self._column
        match field.reads:
            case "id":
                return lambda value: read_id(value, column=column)
            case "ref" | "person":
                return lambda value: _without_note(read_id(value, column=column))
            case "refs":
                return lambda value: read_ids(value, column=column)
            case "text" | "path":
                return read_text
            case "choice" | "material":
                table = word_table(field.name, field.reads, field.enum)
                return lambda value: read_word(value, table, column=column, answered=answer.words)
            case "yesno":
                return lambda value: read_yes_no(value, column=column, answered=answer.words)
            case "date":
                order = cast("DateOrder | None", answer.date_order or None)
                answered = cast("SerialBase | None", answer.date_serial or None)
                of_workbook = cast("SerialBase | None", self._day_numbers_from or None)
                earliest, latest = self._bounds

                def date(value: CellValue) -> Reading:
                    # A number that a workbook itself holds counts from the workbook's own year; a text may be from any.
                    serials = answered or (None if isinstance(value, str) else of_workbook)
                    return read_date(
                        value, column=column, order=order, earliest=earliest, latest=latest, serials=serials
                    )

                return date
            case "time":
                return lambda value: read_time(
                    value, column=column, twelve_hour=False if answer.clock == "24h" else None
                )
            case "size":
                return lambda value: self.read_sized(value, None)
            case _:
                return self._number()

    def _number(self) -> CellReader:
        field, column = self.field, self._column
        decimal = cast("Decimal | None", self._answer.decimal or None)
        whole = field.reads == "integer"
        if not field.unit:

            def plain(value: CellValue) -> Reading:
                reading = read_number(
                    value, column=column, decimal=decimal, minimum=field.minimum, maximum=field.maximum, whole=whole
                )
                if whole and isinstance(reading, Read):
                    return Read(int(reading.value), reading.repair, reading.note)
                return reading

            return plain
        return lambda value: read_quantity(
            value,
            column=column,
            unit=field.unit,
            heading_unit=self._heading_unit,
            answered_unit=self._answer.unit or None,
            decimal=decimal,
            minimum=field.minimum,
            maximum=field.maximum,
        )
