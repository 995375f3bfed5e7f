"""Insulation and its inspection: after the test of a section, before it is covered up."""

from __future__ import annotations

import datetime as dt

from .model import Building, Row
from .networks import COLD, NETWORKS
from .papers import add_pdf
from .site_calendar import working_day

INSPECTOR = "Client, clerk of works"
LAST = dt.date(2026, 4, 24)


def add_insulations(building: Building) -> None:
    """One row for the sections of each last test, with one inspection sheet a system."""
    for network in NETWORKS:
        if network.insulation == "None":
            continue
        code = f"DOC-I-{network.code}"
        sheets = [_row(building, code, sections, day) for sections, day in _tested(building, network.system)]
        add_pdf(
            building,
            code,
            f"insulation/{network.system}.pdf",
            f"Insulation inspections, {network.words.lower()}",
            "other",
            LAST,
            "; ".join([network.system, *(sheet.text("insulation_id") for sheet in sheets)]),
            "audit",
            [
                f"{sheet['insulation_id']}: applied {sheet['applied_on']}, seen {sheet['inspected_on']}"
                for sheet in sheets
            ],
        )


def _tested(building: Building, system: str) -> list[tuple[list[Row], dt.date]]:
    """Sections that were tested together, and the day of their last passed strength test."""
    sections = {row.text("section_id"): row for row in building.where("sections", system_id=system)}
    found = []
    for test in building.where("tests", stage="strength", result="pass"):
        names = test.text("section_ids").split("; ")
        if names[0] in sections:
            found.append(([sections[name] for name in names], test.date("date")))
    return found


def _row(building: Building, code: str, sections: list[Row], tested: dt.date) -> Row:
    words, _, barrier = sections[0].text("insulation").partition(", ")
    material, _, thickness = words.removesuffix(" mm").rpartition(" ")
    cold = sections[0]["insulation"] == COLD
    applied = working_day(tested, 1)
    covered = [section.date("cover_up_date") for section in sections if section["cover_up_date"]]
    inspected = min([working_day(applied, 1), *covered])
    return building.add(
        "insulations",
        insulation_id=f"IN-{len(building['insulations']) + 1:03d}",
        section_ids="; ".join(section.text("section_id") for section in sections),
        material=material if cold else f"{material}, {barrier}",
        thickness_mm=int(thickness),
        vapour_barrier=cold,
        joints_sealed=True if cold else None,
        chloride_free=True,
        fire_class="B-s2,d0" if cold else "A2-s1,d0",
        applied_on=applied,
        inspected_on=inspected,
        inspected_by_role=INSPECTOR,
        result="pass",
        tag_outside=True,
        bands_fixed=True,
        document_id=code,
    )
