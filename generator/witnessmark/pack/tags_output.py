"""Tags of a project: what each face says, and ``OUT/tags`` with one SVG a tag, the sheets and the list."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, cast

from witnessmark.model.records import Section
from witnessmark.model.settings import SheetSettings
from witnessmark.pack.label_sheet import SheetReport
from witnessmark.pack.qr_symbol import AddressTooLong, Level, NotAlphanumeric, UnknownLevel
from witnessmark.pack.refusal import CannotWrite
from witnessmark.pack.sheet_layout import Orientation, Page, SheetLayout, UnusableSheet
from witnessmark.pack.tag_address import tag_address
from witnessmark.pack.tag_face import Band, FlowArrow, TagFace, UnusableTagCode
from witnessmark.pack.tag_layout import Form, LabelTooSmall
from witnessmark.pack.tag_set import CodeUsedTwice, write_tag_set
from witnessmark.workings.reference import services
from witnessmark.workings.work import SectionWorkings

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome

_REFUSALS = (
    UnusableSheet,
    LabelTooSmall,
    NotAlphanumeric,
    AddressTooLong,
    UnknownLevel,
    CodeUsedTwice,
    UnusableTagCode,
)
_PAGES: dict[str, Page] = {"A3": "A3", "A4": "A4", "LETTER": "Letter"}
_FLOW_WORDS: dict[str, tuple[str, FlowArrow]] = {
    "up": ("flows up", "up"),
    "down": ("flows down", "down"),
    "left": ("flows to the left", "left"),
    "right": ("flows to the right", "right"),
    "both": ("flows either way", "both"),
    "none": ("no flow", "none"),
}


class UnusableTags(CannotWrite):
    """Tags that cannot be drawn as project.yml asks."""

    def __init__(self, error: ValueError) -> None:
        super().__init__(f"Tags cannot be drawn as project.yml asks. {error}")


def write_tags(outcome: Outcome, folder: Path) -> SheetReport:
    """Write CODE.svg for every section, label-sheets.pdf and tags.csv into ``folder``.

    Raises ``UnusableTags`` where the label, the sheet or the address of project.yml gives no readable tag.
    """
    settings = outcome.project.settings.tags
    try:
        return write_tag_set(
            folder,
            tag_faces(outcome),
            _layout(settings.sheet),
            level=cast(Level, settings.level),
            form=None if settings.form == "auto" else cast(Form, settings.form),
            flag_below_mm=settings.flag_below_mm,
        )
    except _REFUSALS as error:
        raise UnusableTags(error) from error


def tag_faces(outcome: Outcome) -> Iterator[TagFace]:
    """The face of every section's tag, in the order of the records."""
    settings = outcome.project.settings
    for section in outcome.project.sections.values():
        code = outcome.workings.tags.by_section[section.section_id]
        system = outcome.project.systems.get(section.system_id or "")
        service = services().get(system.service or "") if system else None
        worked = outcome.workings.sections[section.section_id]
        flow_words, arrow = _FLOW_WORDS.get(section.flow or "", ("", "none"))
        yield TagFace(
            code=code,
            address=tag_address(settings.tags, code),
            section_id=section.section_id,
            section_name=_name(section),
            service=service.words if service else "",
            flow_words=flow_words,
            flow_arrow=arrow,
            band=tuple(Band(colour.name, colour.srgb) for colour in service.bands) if service else (),
            limits=limits_words(worked),
            duty=settings.duty.phone,
            od_mm=worked.largest_od_mm,
        )


def limits_words(worked: SectionWorkings) -> str:
    """'up to 3.0 bar · 80 °C', or which of the two the records do not give."""
    pressure, temperature = worked.max_pressure_bar.value, worked.max_temperature_c.value
    if pressure is None and temperature is None:
        return "limits: not in the records"
    # A limit is never rounded up: a figure with more decimals is printed with them.
    first = "pressure: no data" if pressure is None else f"up to {_one_decimal(pressure)} bar"
    second = "temperature: no data" if temperature is None else f"{temperature:.10g} °C"
    return f"{first} · {second}"


def _one_decimal(value: float) -> str:
    return f"{value:.1f}" if round(value, 1) == value else f"{value:.10g}"


def _name(section: Section) -> str:
    return "" if section.sensitive else section.name or ""


def _layout(sheet: SheetSettings) -> SheetLayout:
    return SheetLayout(
        page=_PAGES[sheet.page],
        orientation=cast(Orientation, sheet.orientation),
        columns=sheet.columns,
        rows=sheet.rows,
        label_width_mm=sheet.label_width_mm,
        label_height_mm=sheet.label_height_mm,
        margin_left_mm=sheet.margin_left_mm,
        margin_top_mm=sheet.margin_top_mm,
        gap_x_mm=sheet.gap_x_mm,
        gap_y_mm=sheet.gap_y_mm,
        cut_marks=sheet.cut_marks,
    )
