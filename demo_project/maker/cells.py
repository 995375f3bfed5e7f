"""Single cells that cannot be read without an answer: what nobody may guess, and slips of the keyboard."""

from __future__ import annotations

import datetime as dt

from .model import Building, Dice, Row, Value

NBSP = "\u00a0"


def _joints(building: Building, section: str) -> list[Row]:
    return list(building.where("joints", section_id=section))


def dn20_without_material(building: Building) -> None:
    joint = next(row for row in _joints(building, "LTHW-F-L2-N") if row["material_tube"] == "copper")
    joint.written |= {"od_mm": "DN20", "material_tube": None}
    building.plant(
        "dn20-without-material", joint, "od_mm", "22 mm tube or 26.9 mm threaded pipe: the material is blank"
    )


def date_could_be_two(building: Building) -> None:
    """Figures in two sections of a file whose dates are otherwise ISO: one shows day first, the other could be two."""
    clear = open_ = None
    for section in building.where("sections", system_id="CA"):
        rows = _joints(building, section.text("section_id"))
        days = [row.date("press_date") for row in rows]
        if clear is None and min(day.day for day in days) > 12:
            clear = rows
        elif open_ is None and all(day.day <= 12 and day.day != day.month for day in days) and len(rows) < 26:
            open_ = rows
    if clear is None or open_ is None:
        raise LookupError("no two sections of compressed air whose dates show the case")
    for row in [*clear, *open_]:
        row.written["press_date"] = f"{row.date('press_date'):%d/%m/%y}"
    for row in open_:
        building.plant("date-could-be-two", row, "press_date", "day and month could change places")


def initials_of_two_people(building: Building) -> None:
    for section in building.where("sections", system_id="LTHW-R"):
        rows = [row for row in _joints(building, section.text("section_id")) if row["operative_id"] == "OP-02"]
        if len(rows) >= 8:
            for row in rows[:8]:
                row.written["operative_id"] = "JS"
                building.plant("initials-of-two-people", row, "operative_id", "OP-02 or OP-05")
            return


def steel_of_two_kinds(building: Building) -> None:
    for section in ("CHW-F-M1", "CHW-F-M2"):
        tube = building.find("tubes", section_id=section)
        tube.written |= {"material": "Steel", "tube_series": None}
        building.plant("steel-of-two-kinds", tube, "material", "carbon or stainless steel")


def comma_could_be_two(building: Building) -> None:
    batch = building.find("batches", batch_id="B-KE-F54-01")
    batch.written["quantity"] = "1,234"
    building.plant("comma-could-be-two", batch, "quantity", "1234, or 1.234")


def delivery_note_as_batch(building: Building) -> None:
    for row in _joints(building, "DHW-F-L2-S")[4:7]:
        row.written["fitting_batch_id"] = "DN-3391"
        building.plant("delivery-note-as-batch", row, "fitting_batch_id", "a delivery note, no batch")


def letter_for_digit(building: Building) -> None:
    row = _joints(building, "MCW-R3-L2")[2]
    row.written["fitting_batch_id"] = row.text("fitting_batch_id").replace("0", "O")
    building.plant("letter-for-digit", row, "fitting_batch_id", "the letter O for the digit 0")


def year_slipped(building: Building) -> None:
    row = _joints(building, "DHW-F-R1-L3")[1]
    row.written["press_date"] = f"{row.date('press_date'):%d.%m.}2062"
    building.plant("year-slipped", row, "press_date", "2062 for 2026")


def formula_error(building: Building) -> None:
    row = _joints(building, "LTHW-F-L1-N")[3]
    row.written["fitting_batch_id"] = "#REF!"
    building.plant("formula-error", row, "fitting_batch_id", "#REF! in the cell")


def size_that_no_tube_has(building: Building) -> None:
    row = _joints(building, "BCW-R1-L4")[2]
    row.written["od_mm"] = "45"
    building.plant("size-that-no-tube-has", row, "od_mm", "45 mm for 42 mm")


def tick_that_could_be_two(building: Building) -> None:
    for row in _joints(building, "CHW-F-R2-L3")[:2]:
        row.written["deburred"] = "x"
        building.plant("tick-that-could-be-two", row, "deburred", "a cross can mean done or not done")


def elevation_in_words(building: Building) -> None:
    node = building.find("nodes", node_id="V-BC2-3")
    node.written["elevation_m"] = "12,4 approx"
    building.plant("elevation-in-words", node, "elevation_m", "not a number")


def row_copied(building: Building) -> None:
    """A row copied down whole, and one copied down with another batch."""
    rows = building["joints"]
    same = _joints(building, "DHW-R-L0-N")[2]
    copy = Row("joints", dict(same.values))
    rows.insert(rows.index(same) + 1, copy)
    building.plant("row-copied-whole", copy, "joint_id", "the same row twice")
    other = _joints(building, "DHW-R-L2-N")[2]
    conflict = Row("joints", {**other.values, "tool_id": "PT-07" if other["tool_id"] != "PT-07" else "PT-06"})
    rows.insert(rows.index(other) + 1, conflict)
    building.plant("row-copied-in-conflict", conflict, "tool_id", "the same joint with another tool")


NEVER_GUESS = (
    dn20_without_material,
    date_could_be_two,
    initials_of_two_people,
    steel_of_two_kinds,
    comma_could_be_two,
    delivery_note_as_batch,
    letter_for_digit,
    year_slipped,
    formula_error,
    size_that_no_tube_has,
    tick_that_could_be_two,
    elevation_in_words,
    row_copied,
)


# Spellings that a reader must put right by itself or by the project's answers: no fault, and listed once a kind.


def size_words(value: Value, key: str) -> Value:
    """22 as sites write it."""
    text = f"{value:g}" if isinstance(value, float | int) else str(value)
    if text in ("76.1", "88.9"):
        return Dice("size", key).pick((text, text, f"{float(text):.0f}"))
    return Dice("size", key).pick((text, text, f"{text} mm", f"{text}mm ", f"Ø{text}", f" {text}"))


def id_words(value: Value, key: str) -> Value:
    """An id with what a word processor and a copied cell leave behind."""
    text = str(value)
    dice = Dice("id", key)
    if dice.chance(0.04):
        return text.replace("-", "\u2013", 1)
    if dice.chance(0.05):
        return text + NBSP
    if dice.chance(0.05):
        return text + "  "
    return text


def date_words(value: Value, key: str) -> Value:
    """A date as text, day first, in one of the forms of a site office."""
    if not isinstance(value, dt.date):
        return value
    forms = ("{d}.{m}.{y}", "{d:02d}/{m:02d}/20{y}", "{d}-{name}-{y}", "{d} {name} 20{y}")
    name = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")[value.month - 1]
    return Dice("date", key).pick(forms).format(d=value.day, m=value.month, y=value.year % 100, name=name)
