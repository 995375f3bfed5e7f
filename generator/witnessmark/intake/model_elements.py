"""Elements of pipework read out of a building model: one row an element, as open model formats (IFC) name them.

Headings are found by the words below or mapped under ``options.columns`` in project.yml (role to heading). Further:

- ``section_name``: a regular expression for the element's name whose first group is the run it belongs to;
- ``systems``: the model's system name to columns of the systems table (system_id, service, medium, ...);
- ``length_unit``: unit of lengths and diameters where no heading says it.

What a model does not hold stays unknown. A diameter measured off the drawn geometry is not taken for a recorded one.
"""

import re
from dataclasses import dataclass
from typing import Any

from witnessmark.intake.cell import cell_text, is_blank
from witnessmark.intake.column_reader import nominal_sizes, word_table
from witnessmark.intake.draft import Ledger, PendingFinding
from witnessmark.intake.grid import column_letter
from witnessmark.intake.quantity_reader import read_quantity
from witnessmark.intake.readings import Fault
from witnessmark.intake.size_reader import KNOWN_DIAMETERS, read_size
from witnessmark.intake.source_plan import PlannedSheet
from witnessmark.intake.table_layout import TableLayout, locate
from witnessmark.intake.text_reader import read_id, read_text
from witnessmark.model.contract import contract
from witnessmark.model.project import Repair, SetAside, SourceAccount
from witnessmark.model.source import RowSource, SourceColumn, SourceLocation, SourceTable

HEADINGS: dict[str, tuple[str, ...]] = {
    "id": ("GlobalId", "guid", "ifc guid", "element id", "unique id"),
    "class": ("ifc_class", "ifc class", "class", "entity", "category"),
    "type": ("type_class", "type class", "element type"),
    "predefined_type": ("predefined_type", "predefined type"),
    "name": ("name", "element name", "mark"),
    "system": ("system", "system name", "system classification"),
    "storey": ("storey", "level", "floor", "building storey"),
    "space": ("space", "room"),
    "outer_diameter": ("outer_diameter_mm", "outer diameter", "outside diameter", "od"),
    "outer_source": ("outer_source",),
    "nominal_diameter": ("nominal_diameter_mm", "nominal diameter", "dn"),
    "length": ("length_mm", "length"),
    "length_source": ("length_source",),
    "material": ("material",),
    "connected": ("connected", "connected to", "neighbours"),
}
ACCOUNT = "model elements"
_SIZE_IN_WORDS = re.compile(r"(\d{2,3}(?:[.,]\d)?)\s*[x×X]\s*(\d(?:[.,]\d{1,2})?)\s*(?:mm)?")
_DRAWN = ("mesh", "geometry", "drawn", "shape")


@dataclass(slots=True)
class Element:
    """One element of the model; ``None`` where the model does not say."""

    id: str
    kind: str
    """'segment', 'fitting' or 'device'."""
    words: str
    name: str | None
    system: str | None
    storey: str | None
    space: str | None
    od_mm: float | None
    wall_mm: float | None
    length_m: float | None
    material: str | None
    connected: tuple[str, ...]
    row: int
    cells: tuple[str, ...]


class ElementReader:
    """Reads the rows of one sheet as elements, telling the ledger what could not be read."""

    def __init__(self, planned: PlannedSheet, ledger: Ledger) -> None:
        self._grid = planned.grid
        self._options = planned.settings.options
        self._sha256 = planned.sha256
        self._ledger = ledger
        self._file = planned.grid.file
        self._sheet = planned.grid.sheet or ""
        words = {heading: role for role, headings in HEADINGS.items() for heading in headings}
        mapped = self._options.get("columns") if isinstance(self._options.get("columns"), dict) else {}
        self._layout: TableLayout = locate(
            planned.grid,
            words,
            wanted={str(heading): role for role, heading in (mapped or {}).items()},
            header_row=planned.settings.header_row,
        )
        self._index = {column.field: column.index for column in self._layout.columns if column.field}
        self._unit = {column.field: column.unit for column in self._layout.columns if column.field}
        self._heading = {column.field: column.text for column in self._layout.columns if column.field}

    def table(self, columns: dict[str, str]) -> SourceTable:
        """The source of a derived table: contract field to the role it was read from."""
        found = {
            field: SourceColumn(self._index[role], column_letter(self._index[role]), self._heading[role])
            for field, role in columns.items()
            if role in self._index
        }
        width = max((column.index for column in self._layout.columns), default=-1) + 1
        headings = [""] * width
        for column in self._layout.columns:
            headings[column.index] = column.text
        return SourceTable(self._file, self._sheet, found, tuple(headings))

    def read(self) -> list[Element]:
        """All elements; rows without an id and repeated ids are set aside."""
        elements: dict[str, Element] = {}
        aside = [(s.row, s.reason, s.text) for s in (*self._layout.above, *self._layout.set_aside)]
        aside += [(row, "heading row", self._row_text(row)) for row in self._layout.header_rows]
        if self._layout.units_row:
            aside.append((self._layout.units_row, "units row", self._row_text(self._layout.units_row)))
        for problem in self._layout.problems:
            self._tell(problem.kind, problem.message, problem.remedy, problem.row or 0)
        if "id" not in self._index and self._layout.body:
            self._tell(
                "key-column-missing",
                f"no heading was read as the id of an element, so none of the {len(self._layout.body)} rows was used",
                "map it in project.yml under options, columns, id",
                self._layout.header_rows[0] if self._layout.header_rows else 0,
            )
        for row, cells in self._layout.body:
            identity = read_id(cells[self._index["id"]], column="elements.id") if self._has(cells, "id") else None
            if identity is None or isinstance(identity, Fault):
                aside.append((row, "no id", self._row_text(row)))
                if "id" in self._index:
                    self._tell("row-without-id", "the element has no id", "give it the id of the model", row, "id")
            elif identity.value in elements:
                first = elements[identity.value].row
                aside.append((row, f"the id is already used in row {first}", self._row_text(row)))
                self._tell(
                    "id-used-twice", f"element id '{identity.value}' is already used in row {first}", "", row, "id"
                )
            else:
                elements[identity.value] = self._element(identity.value, row, cells)
        self._ledger.set_aside.extend(
            SetAside(self._place(row), ACCOUNT, why, text) for row, why, text in sorted(aside)
        )
        rows_in = self._layout.accounting.total - self._layout.accounting.blank
        self._ledger.accounts.append(
            SourceAccount(
                self._file,
                self._sheet,
                ACCOUNT,
                rows_in,
                len(elements),
                rows_in - len(elements),
                len(elements),
                self._sha256,
            )
        )
        return list(elements.values())

    def source(self, table: SourceTable, element: Element) -> RowSource:
        """The row of an element, as the source of a derived record."""
        return RowSource(table, element.row, element.cells)

    def _row_text(self, row: int) -> str:
        return " | ".join(cell_text(value) for value in self._grid.rows[row - 1] if not is_blank(value))

    def _has(self, cells: tuple[Any, ...], role: str) -> bool:
        index = self._index.get(role)
        return index is not None and index < len(cells) and not is_blank(cells[index])

    def _text(self, cells: tuple[Any, ...], role: str) -> str | None:
        if not self._has(cells, role):
            return None
        reading = read_text(cells[self._index[role]])
        return None if isinstance(reading, Fault) else " ".join(reading.value.split())

    def _place(self, row: int, role: str = "") -> SourceLocation:
        index = self._index.get(role)
        letter = column_letter(index) if index is not None else ""
        return SourceLocation(self._file, self._sheet, row, letter, self._heading.get(role, ""))

    def _tell(self, kind: str, message: str, remedy: str, row: int, role: str = "") -> None:
        self._ledger.findings.append(PendingFinding(kind, message, remedy, self._place(row, role)))

    def _repair(self, row: int, role: str, raw: str, read: str, reason: str) -> None:
        self._ledger.repairs.append(Repair(self._place(row, role), ACCOUNT, role, raw, read, reason))

    def _element(self, identity: str, row: int, cells: tuple[Any, ...]) -> Element:
        words = " ".join(filter(None, (self._text(cells, role) for role in ("class", "type", "predefined_type"))))
        kind = _kind(words)
        material, wall_by_material = self._material(cells, row)
        od_mm = self._diameter(cells, row, material) if kind != "device" else None
        wall = None
        if wall_by_material is not None and od_mm is not None:
            if abs(wall_by_material[0] - od_mm) < 0.05:
                wall = wall_by_material[1]
            else:
                self._tell(
                    "size-contradicts",
                    f"the diameter column says {od_mm:g} mm and the material says {wall_by_material[0]:g} mm",
                    "correct one of the two in the model",
                    row,
                    "outer_diameter",
                )
        system = self._text(cells, "system")
        raw_system = cell_text(cells[self._index["system"]]) if self._has(cells, "system") else ""
        if system is not None and system != raw_system:
            self._repair(row, "system", raw_system, system, "runs of spaces read as one")
        return Element(
            id=identity,
            kind=kind,
            words=words,
            name=self._text(cells, "name"),
            system=system,
            storey=self._text(cells, "storey"),
            space=self._text(cells, "space"),
            od_mm=od_mm,
            wall_mm=wall,
            length_m=self._length(cells, row) if kind == "segment" else None,
            material=material,
            connected=tuple(re.split(r"[\s;,]+", self._text(cells, "connected") or "")),
            row=row,
            cells=tuple(cell_text(value) for value in cells),
        )

    def _material(self, cells: tuple[Any, ...], row: int) -> tuple[str | None, tuple[float, float] | None]:
        """Material, and (outside diameter, wall) where the material's name carries them."""
        text = self._text(cells, "material")
        if text is None:
            return None, None
        field = contract()["tubes"].field("material")
        table = word_table("material", "material", field.enum)
        found = set(table.find(text))
        hit = text
        if not found:
            for word, value in _spelled_out(field.enum):
                if word in text.casefold():
                    found.add(value)
                    hit = word
        size = _SIZE_IN_WORDS.search(text)
        pair = (float(size.group(1).replace(",", ".")), float(size.group(2).replace(",", "."))) if size else None
        if len(found) != 1:
            kind = "word-could-be-two" if found else "unknown-word"
            said = f"could be {' or '.join(sorted(found))}" if found else "names no tube material known here"
            self._tell(
                kind, f"the material '{text}' {said}", "name copper, stainless steel or carbon steel", row, "material"
            )
            return None, pair
        material = next(iter(found))
        if text != material:
            self._repair(row, "material", text, material, f"read as {material} from the word '{hit}'")
        return material, pair

    def _diameter(self, cells: tuple[Any, ...], row: int, material: str | None) -> float | None:
        source = (self._text(cells, "outer_source") or "").casefold()
        if self._has(cells, "outer_diameter"):
            if any(word in source for word in _DRAWN):
                drawn = cell_text(cells[self._index["outer_diameter"]])
                self._tell(
                    "size-from-drawing",
                    f"the diameter {drawn} was measured off the drawn geometry; no recorded one stands beside it",
                    "write the outside diameter into the model",
                    row,
                    "outer_diameter",
                )
                return None
            return self._size(cells[self._index["outer_diameter"]], row, "outer_diameter", material)
        if self._has(cells, "nominal_diameter"):
            text = cell_text(cells[self._index["nominal_diameter"]]).strip()
            return self._size(text if text.upper().startswith("DN") else f"DN{text}", row, "nominal_diameter", material)
        self._tell("size-missing", "the element has no diameter", "write it into the model", row, "outer_diameter")
        return None

    def _size(self, value: Any, row: int, role: str, material: str | None) -> float | None:
        reading = read_size(
            value, column=f"elements.{role}", known=KNOWN_DIAMETERS, material=material, nominal=nominal_sizes()
        )
        if isinstance(reading, Fault):
            self._tell(reading.kind, reading.message, "correct the diameter in the model", row, role)
            return None
        if reading.repair:
            self._repair(row, role, cell_text(value), f"{reading.value.outside_diameter:g}", reading.repair)
        return reading.value.outside_diameter

    def _length(self, cells: tuple[Any, ...], row: int) -> float | None:
        if not self._has(cells, "length"):
            self._tell("length-missing", "the pipe has no length", "write it into the model", row, "length")
            return None
        heading_unit = self._unit.get("length") or ("mm" if self._heading["length"].endswith("_mm") else None)
        reading = read_quantity(
            cells[self._index["length"]],
            column="elements.length",
            unit="m",
            heading_unit=heading_unit,
            answered_unit=str(self._options["length_unit"]) if self._options.get("length_unit") else None,
            above=0.0,
        )
        if isinstance(reading, Fault):
            remedy = (
                "write 'length_unit' under options in project.yml"
                if reading.kind == "unit-not-stated"
                else "correct it"
            )
            self._tell(reading.kind, f"Length: {reading.message}", remedy, row, "length")
            return None
        if any(word in (self._text(cells, "length_source") or "").casefold() for word in _DRAWN):
            self._repair(
                row,
                "length",
                cell_text(cells[self._index["length"]]),
                f"{reading.value:g}",
                "measured off the drawn geometry",
            )
        return reading.value


def _kind(words: str) -> str:
    folded = words.casefold()
    if "segment" in folded or "pipe" in folded.replace("pipefitting", ""):
        return "fitting" if "fitting" in folded else "segment"
    return "fitting" if "fitting" in folded else "device"


def _spelled_out(enum: tuple[str, ...]) -> list[tuple[str, str]]:
    """Words of at least five letters that name one material alone, longest first."""
    table = word_table("material", "material", enum)
    words = [
        (word, table.find(word)[0])
        for word in (
            "copper",
            "kupfer",
            "cuivre",
            "cobre",
            "rame",
            "stainless",
            "edelstahl",
            "inox",
            "carbon steel",
            "c-stahl",
            "galvanised",
        )
        if len(table.find(word)) == 1
    ]
    return sorted(words, key=lambda pair: (-len(pair[0]), pair[0]))
