"""The walk sheet of an audit sample as PDF and CSV: what to look at, where, and room for what was seen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_LEFT
from reportlab.lib.pagesizes import A4, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Frame, LongTable, PageTemplate, Paragraph, Spacer, TableStyle

from witnessmark.evidence.sample import AuditSample, SampledJoint
from witnessmark.evidence.sample_words import summary
from witnessmark.model.day_words import day_words
from witnessmark.pack.csv_writer import write_csv
from witnessmark.pack.face_text import printable
from witnessmark.pack.font_metrics import has_glyph, registered_font

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome

MM = 72.0 / 25.4
HEADER = (
    "number", "level", "section", "tag", "location", "joint", "fitting", "size_mm", "material", "concealed", "why",
    "depth_mark_seen", "fully_pressed", "marked_complete", "photo", "remarks",
)  # fmt: skip
_HEADINGS = (
    "No", "Level", "Section", "Tag", "Where", "Joint", "Fitting, size", "Why", "Mark", "Pressed", "Complete", "Photo",
    "What was seen",
)  # fmt: skip
_WIDTHS = (8, 13, 27, 17, 33, 32, 24, 32, 10, 15, 18, 14, 0)
_MARGIN = 12.0
_BOX = "☐"


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What every page says of itself."""

    left: str
    right: str


def write_walk_sheet(outcome: Outcome, sample: AuditSample, path: Path) -> int:
    """Print the walk sheet, A4 landscape; returns the number of joints on it. The PDF carries no clock."""
    settings = outcome.project.settings
    rows = sample.walk
    document = BaseDocTemplate(
        str(path),
        pagesize=landscape(A4),
        leftMargin=_MARGIN * MM,
        rightMargin=_MARGIN * MM,
        topMargin=16 * MM,
        bottomMargin=14 * MM,
        invariant=1,
        title="Audit walk sheet",
        author="",
        creator="Witnessmark",
        producer="Witnessmark",
        lang="en-GB",
    )
    frame = Frame(document.leftMargin, document.bottomMargin, document.width, document.height, 0, 0, 0, 0)
    sheet = _Sheet(
        _plain(f"{settings.name} · audit walk sheet · seed {sample.seed}"),
        _plain(f"Issue {settings.issue.number}, {day_words(settings.issue.date)}"),
    )
    document.addPageTemplates([PageTemplate(frames=[frame], onPage=_marker(sheet))])
    story: list[Any] = [*(Paragraph(_escaped(line), _STYLE["text"]()) for line in summary(sample)), Spacer(1, 3 * MM)]
    story.append(_table(outcome, rows, document.width))
    story.append(Spacer(1, 4 * MM))
    story.append(Paragraph(_escaped("Walked by (role): ______________________   Day: ______________   "
                                    "Faults found: ______"), _STYLE["text"]()))  # fmt: skip
    document.build(story, canvasmaker=_NumberedCanvas)
    return len(rows)


def write_walk_table(outcome: Outcome, sample: AuditSample, path: Path) -> int:
    """The same walk as a CSV file with empty columns to fill in; returns the number of joints."""
    return write_csv(path, HEADER, _cells(outcome, sample.walk), byte_order_mark=True)


def _cells(outcome: Outcome, walk: tuple[SampledJoint, ...]) -> Iterator[tuple[str | int | float | None, ...]]:
    tags = outcome.workings.tags.by_section
    for number, sampled in enumerate(walk, start=1):
        joint = sampled.joint
        section = outcome.project.sections.get(joint.section_id or "")
        yield (
            number,
            joint.level or (section.level if section else None),
            joint.section_id,
            tags.get(joint.section_id or ""),
            joint.location or (section.location if section else None),
            joint.joint_id,
            joint.fitting_kind,
            joint.od_mm,
            joint.material_tube,
            None if section is None or section.concealed is None else "yes" if section.concealed else "no",
            "; ".join(sampled.why),
            None, None, None, None, None,
        )  # fmt: skip


def _table(outcome: Outcome, walk: tuple[SampledJoint, ...], width: float) -> LongTable:
    small, bold = _STYLE["cell"](), _STYLE["head"]()
    rows: list[list[Any]] = [[Paragraph(_escaped(heading), bold) for heading in _HEADINGS]]
    for cells in _cells(outcome, walk):
        number, level, section, tag, where, joint, kind, size, material, concealed, why, *_ = cells
        fitting = ", ".join(
            part for part in (str(kind or "fitting not recorded"), f"{size:g} mm" if size else "size not recorded",
                              str(material or "").replace("_", " ")) if part
        )  # fmt: skip
        place = f"{where or 'not recorded'}{' (concealed)' if concealed == 'yes' else ''}"
        texts = [
            str(number),
            str(level or "–"),
            str(section or "–"),
            str(tag or "–"),
            place,
            str(joint),
            fitting,
            str(why),
        ]
        rows.append([*(Paragraph(_escaped(text), small) for text in texts), *[Paragraph(_BOX, small)] * 3, "", ""])
    if not walk:
        rows.append([Paragraph(_escaped("No joint to look at."), small), *[""] * (len(_HEADINGS) - 1)])
    fixed = sum(_WIDTHS) * MM
    table = LongTable(rows, colWidths=[*(w * MM for w in _WIDTHS[:-1]), width - fixed], repeatRows=1)
    table.setStyle(
        TableStyle(
            [
                *([("SPAN", (0, 1), (-1, 1))] if not walk else []),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LINEBELOW", (0, 0), (-1, -1), 0.4, HexColor("#555555")),
                ("LINEBELOW", (0, 0), (-1, 0), 1.0, HexColor("#000000")),
                ("LEFTPADDING", (0, 0), (-1, -1), 2),
                ("RIGHTPADDING", (0, 0), (-1, -1), 2),
                ("TOPPADDING", (0, 0), (-1, -1), 2.5),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 3.5),
            ]
        )
    )
    return table


def _style(size: float, weight: str) -> ParagraphStyle:
    font = registered_font("bold" if weight == "bold" else "regular")
    return ParagraphStyle(
        weight, fontName=font, fontSize=size, leading=size * 1.25, alignment=TA_LEFT, splitLongWords=1, wordWrap="LTR"
    )


_STYLE = {
    "text": lambda: _style(9.5, "regular"),
    "cell": lambda: _style(7.5, "regular"),
    "head": lambda: _style(7.5, "bold"),
}


def _plain(text: str) -> str:
    return printable(text, has_glyph)


def _escaped(text: str) -> str:
    return _plain(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _marker(sheet: _Sheet) -> Any:
    def mark(canvas: Canvas, document: BaseDocTemplate) -> None:
        canvas.setFont(registered_font("regular"), 8)
        width, height = document.pagesize
        canvas.drawString(_MARGIN * MM, height - 10 * MM, sheet.left)
        canvas.drawRightString(width - _MARGIN * MM, height - 10 * MM, sheet.right)

    return mark


class _NumberedCanvas(Canvas):  # type: ignore[misc]  # reportlab has no types
    """A canvas that knows how many pages there are before it writes their numbers."""

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **options)
        self._pages: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802  # the library calls it by this name
        """Keep the page until the number of pages is known."""
        self._pages.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        """Write every page with its number."""
        for number, page in enumerate(self._pages, start=1):
            self.__dict__.update(page)
            self.setFont(registered_font("regular"), 8)
            self.drawRightString(self._pagesize[0] - _MARGIN * MM, 8 * MM, f"Sheet {number} of {len(self._pages)}")
            super().showPage()
        super().save()
