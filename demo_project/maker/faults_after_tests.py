"""Faults of the records that follow the tests: changes, snags, concessions, insulation, water and earlier tag codes."""

from __future__ import annotations

import datetime as dt

from .model import Building, Row
from .site_calendar import COMPLETION

SEVEN_WEEKS = dt.timedelta(days=49)
GIVEN_OUT = "XL8T8H6"
"""A code with a right check character that no section has."""


def _dose(building: Building, system: str) -> dt.date:
    return building.find("treatments", kind="dose", system_id=system).date("date")


def valve_swapped_after_completion(building: Building) -> None:
    node = building.find("nodes", node_id="V-HF2-2")
    sections = [
        row.text("section_id") for row in building["sections"] if node["node_id"] in (row["from_node"], row["to_node"])
    ]
    row = building.add(
        "alterations",
        alteration_id=f"AL-{len(building['alterations']) + 1:02d}",
        kind="valve_changed",
        section_ids="; ".join(sections),
        node_id=node["node_id"],
        date=COMPLETION + dt.timedelta(days=5),
        time=dt.time(9, 40),
        reason="Lever seized",
        done_by_role="Foreman SUB-3",
        document_id="DOC-X1",
    )
    building.plant("valve-swapped-after-completion", row, "test_id", f"{node['node_id']} changed, no test since")


def tag_code_missing_in_later_issue(building: Building) -> None:
    row = building.find("issued_tags", section_id="CHW-F-L5-N")
    row["code"] = GIVEN_OUT
    building.plant(
        "tag-code-missing-in-later-issue", row, "code", "hangs on the pipe since P01, not in the tag register of P02"
    )


def vapour_barrier_never_inspected(building: Building) -> None:
    row = next(row for row in building["insulations"] if "CHW-F-L3-N" in row.text("section_ids").split("; "))
    row.values |= {"joints_sealed": None, "inspected_on": None, "inspected_by_role": None, "result": None}
    building.plant(
        "vapour-barrier-never-inspected", row, "inspected_on", "nobody looked at the seams of chilled carbon steel"
    )


def filled_seven_weeks_before_treatment(building: Building) -> None:
    filled = _dose(building, "CHW-R") - SEVEN_WEEKS
    sections = [
        row.text("section_id") for row in building.where("sections", system_id="CHW-R", riser="R1") if row["riser"]
    ]
    row = building.add(
        "treatments",
        treatment_id=f"WT-{len(building['treatments']) + 1:03d}",
        kind="fill",
        section_ids="; ".join(sections),
        date=filled,
        water_source="Mains, hose at level 5",
        done_by_role="Foreman SUB-2",
        document_id="DOC-H-CR",
    )
    building.plant("filled-seven-weeks-before-treatment", row, "date", "carbon steel full of raw water for 49 days")


def concession_out_of_date(building: Building) -> None:
    row = building["concessions"][0]
    row["expires_on"] = dt.date(2026, 4, 30)
    building.plant("concession-out-of-date", row, "expires_on", "ran out eight weeks before the issue")


def bracket_left_out_by_concession(building: Building) -> None:
    """A departure that was accepted, for as long as its concession runs: found, and waived."""
    section = "BCW-M1"
    row = building.find("supports", section_id=section, kind="support")
    row["spacing_m"] = 3.4
    building.add(
        "concessions",
        concession_id="CN-02",
        check="support-spacing-too-wide",
        section_ids=section,
        departure="3.4 m between two brackets, where 3.0 m is asked",
        reason="No fixing in the tank plinth; checked by the structural engineer",
        risk="A little more sag, none at the joints",
        decision="accepted",
        approved_by_role="Designer",
        approved_on=dt.date(2026, 3, 6),
        expires_on=dt.date(2027, 3, 31),
        guarantee_effect="none",
        guarantor_consent=True,
        document_id="DOC-X3",
    )
    building.plant("bracket-left-out-by-concession", row, "spacing_m", "accepted by CN-02 until 31 March 2027")


def snag_closed_without_retest(building: Building) -> None:
    row = next(row for row in building["snags"] if row["retest_required"])
    row["retest_test_id"] = None
    building.plant("snag-closed-without-retest", row, "retest_test_id", "a retest was required and none is named")


def chilled_carbon_steel_without_vapour_barrier(building: Building) -> None:
    row = next(row for row in building["insulations"] if "CHW-F-L2-S" in row.text("section_ids").split("; "))
    row.values |= {"material": "Mineral wool", "vapour_barrier": False, "joints_sealed": None}
    building.plant("chilled-carbon-steel-without-vapour-barrier", row, "vapour_barrier", "mineral wool, no barrier")


def left_full_untreated(building: Building) -> None:
    """The wet test of a closed circuit that was nearest to seven weeks before its treatment."""

    def off(test: Row) -> int:
        section = building.find("sections", section_id=test.text("section_ids").partition("; ")[0])
        system = section.text("system_id")
        return abs((_dose(building, system) - SEVEN_WEEKS - test.date("date")).days)

    test = min(building.where("tests", made_safe="left_full_treated"), key=off)
    test["made_safe"] = "left_full_untreated"
    building.plant("left-full-untreated", test, "made_safe", "carbon steel left full of raw water for seven weeks")


AFTER_TESTS = (
    valve_swapped_after_completion,
    tag_code_missing_in_later_issue,
    vapour_barrier_never_inspected,
    filled_seven_weeks_before_treatment,
    concession_out_of_date,
    bracket_left_out_by_concession,
    snag_closed_without_retest,
    chilled_carbon_steel_without_vapour_barrier,
    left_full_untreated,
)
