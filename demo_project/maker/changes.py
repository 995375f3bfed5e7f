"""What was found wrong and changed on site: snags, alterations and concessions, all closed with their evidence."""

from __future__ import annotations

import datetime as dt

from .model import Building, Row, Value
from .papers import add_pdf
from .site_calendar import working_day

CLERK = "Client, clerk of works"
APPROVERS = ("Client's engineer", "Designer")
ISSUED = dt.date(2026, 4, 24)


def add_changes(building: Building) -> None:
    """One snag and one alteration for each leak that a test found; a valve changed; smaller snags; a concession."""
    for test in list(building.where("tests", result="fail")):
        _leak(building, test)
    _valve_changed(building)
    _void(building)
    for kind, grade, section, words in LESSER:
        day = working_day(building.find("sections", section_id=section).date("installed_on"), 8)
        _snag(building, kind, grade, section, None, words, day, working_day(day, 6), None)
    _concession(building)
    _papers(building)


LESSER = (
    ("support", "B", "LTHW-R-R2-L2", "Bracket loose at the wall"),
    ("identification", "C", "BCW-L3-N", "Band with the flow arrow upside down"),
    ("insulation", "B", "CHW-F-R1-L2", "Cut in the foil, taped again"),
    ("documentation", "C", "MCW-L4-E", "Level missing on the marked-up drawing"),
    ("other", "C", "DHW-F-L2-N", "Ceiling tile chipped at the access"),
)


def _leak(building: Building, test: Row) -> None:
    joint = building.find("joints", joint_id=test["leaks_found"])
    section = joint.text("section_id")
    stem = joint.text("joint_id").removesuffix("-A")
    old = [building.find("joints", joint_id=f"{stem}-{letter}") for letter in "AB"]
    new = [building.find("joints", replaces_joint=row["joint_id"]) for row in old]
    name = f"AL-{len(building['alterations']) + 1:02d}"
    building.add(
        "alterations",
        alteration_id=name,
        kind="replaced",
        section_ids=section,
        joint_ids="; ".join(row.text("joint_id") for row in (*old, *new)),
        date=new[0]["press_date"],
        time=new[0]["press_time"],
        reason=f"Leak found by {test['test_id']}",
        done_by_role=f"Foreman {building.find('sections', section_id=section)['subcontractor']}",
        test_id=test["test_id"],
        document_id="DOC-X1",
    )
    again = next(
        row
        for row in building.where("tests", test_id=test["test_id"], stage="strength")
        if row.date("date") > test.date("date")
    )
    words = f"Drip at {joint['joint_id']} while filling"
    _snag(
        building,
        "leak",
        "A",
        section,
        joint.text("joint_id"),
        words,
        test.date("date"),
        again.date("date"),
        again.text("test_id"),
    )


def _valve_changed(building: Building) -> None:
    """A lever valve whose spindle wept while the riser was filled; the riser was tested after that."""
    section = building.find("sections", section_id="CHW-R-R2-L4")
    test = next(row for row in building.where("tests", stage="strength") if "CHW-R-R2-L4" in row.text("section_ids"))
    building.add(
        "alterations",
        alteration_id=f"AL-{len(building['alterations']) + 1:02d}",
        kind="valve_changed",
        section_ids=section["section_id"],
        node_id=section["to_node"],
        date=working_day(section.date("installed_on"), 1),
        time=dt.time(14, 20),
        reason="Spindle wept while filling",
        done_by_role="Foreman SUB-2",
        test_id=test["test_id"],
        document_id="DOC-X1",
    )


def _void(building: Building) -> None:
    """A number that was written on the pipe for a fitting that was never used."""
    last = list(building.where("joints", section_id="MCW-L0-E"))[-1]
    name = f"MCW-L0-E-J{int(last.text('joint_id')[-3:]) + 1:03d}"
    kept = ("unit_of_count", "section_id", "level", "drawing", "drawing_revision", "joint_type", "fitting_kind")
    row = Row("joints", {field: last[field] for field in kept})
    row.values |= {"joint_id": name, "status": "void", "remarks": "Number marked up, fitting not used: outlet left out"}
    building["joints"].insert(building["joints"].index(last) + 1, row)
    building.add(
        "alterations",
        alteration_id=f"AL-{len(building['alterations']) + 1:02d}",
        kind="void",
        section_ids=last["section_id"],
        joint_ids=name,
        date=last["press_date"],
        reason="Outlet left out, fitting not used",
        done_by_role="Foreman SUB-3",
        document_id="DOC-X1",
    )


def _snag(
    building: Building,
    kind: str,
    grade: str,
    section: str,
    joint: str | None,
    words: str,
    raised: dt.date,
    closed: dt.date,
    test: str | None,
) -> None:
    firm = building.find("sections", section_id=section)["subcontractor"]
    building.add(
        "snags",
        snag_id=f"SN-{len(building['snags']) + 1:02d}",
        description=words,
        snag_class=grade,
        kind=kind,
        section_ids=section,
        joint_ids=joint,
        raised_by_role=CLERK,
        raised_on=raised,
        due_on=raised + dt.timedelta(days=28),
        owner_role=f"Foreman {firm}",
        action="Cut out, new fitting pressed and tested" if test else "Put right and looked at again",
        closed_on=closed,
        closed_by_role=CLERK,
        retest_required=test is not None,
        retest_test_id=test,
        document_id="DOC-X2",
    )


def _concession(building: Building) -> None:
    values: dict[str, Value] = {
        "concession_id": "CN-01",
        "check": "support-spacing-too-wide",
        "section_ids": "CHW-F-M1",
        "departure": "One bracket under the beam on grid C left out until the steelwork was painted",
        "reason": "The span held 3.2 m of 108 mm tube for three weeks, empty",
        "risk": "Sag of the main while it is empty; none once the bracket is in",
        "decision": "accepted",
        "approved_by_role": APPROVERS[0],
        "approved_on": dt.date(2026, 1, 16),
        "expires_on": dt.date(2026, 12, 31),
        "guarantee_effect": "none",
        "guarantor_consent": True,
        "document_id": "DOC-X3",
        "remarks": "Bracket fitted in February 2026; the measured spacing is that of today",
    }
    building.add("concessions", **values)


def _papers(building: Building) -> None:
    for code, file, title, kind, table, name in (
        ("DOC-X1", "changes/alterations.pdf", "Record of alterations", "other", "alterations", "alteration_id"),
        ("DOC-X2", "changes/snags.pdf", "Snags with closing photos seen", "other", "snags", "snag_id"),
        ("DOC-X3", "changes/CN-01.pdf", "Letter: concession CN-01", "letter", "concessions", "concession_id"),
    ):
        day = building["concessions"][0].date("approved_on") if table == "concessions" else ISSUED
        names = [row.text(name) for row in building[table]]
        add_pdf(building, code, file, title, kind, day, "; ".join(names), "audit", names)
