"""Faults of the evidence, one function each: the records read well and say something that should worry the reader.

The slug of a fault is the name of its function. Every function tells :meth:`Building.plant` where it was planted.
"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Callable

from .equipment import jaw_id
from .faults_after_tests import AFTER_TESTS
from .goods import fitting_batch, tube_batch
from .model import Building, Row, Value
from .papers import add_personal_papers
from .site_calendar import working_day

Fault = Callable[[Building], None]


def _joints(building: Building, section: str, **values: Value) -> list[Row]:
    return list(building.where("joints", section_id=section, **values))


def _test_of(building: Building, section: str, stage: str) -> Row:
    """The last passed stage of the test that covers a section."""
    rows = [
        row
        for row in building.where("tests", stage=stage, result="pass")
        if section in row.text("section_ids").split("; ")
    ]
    return rows[-1]


def _cover_up_after(building: Building, joint: Row) -> None:
    """The section of a joint that was made late stayed open until the joint was checked."""
    section = building.find("sections", section_id=joint["section_id"])
    section["installed_on"] = max(section.date("installed_on"), joint.date("press_date"))
    section["cover_up_date"] = max(section.date("cover_up_date"), working_day(joint.date("check_date"), 1))


def strength_test_before_last_press(building: Building) -> None:
    test = _test_of(building, "LTHW-F-L3-S", "strength")
    joint = _joints(building, "LTHW-F-L3-S")[-1]
    joint["press_date"] = working_day(test.date("date"), 2)
    joint["check_date"] = working_day(test.date("date"), 3)
    _cover_up_after(building, joint)
    building.plant(
        "strength-test-before-last-press", joint, "press_date", f"pressed two working days after {test['test_id']}"
    )


def no_low_pressure_stage(building: Building) -> None:
    strength = _test_of(building, "BCW-L2-N", "strength")
    leak = _test_of(building, "BCW-L2-N", "leak")
    building.tables["tests"].remove(leak)
    building.plant("no-low-pressure-stage", strength, "stage", f"{strength['test_id']} has no leak stage")


def tee_logged_as_one_row(building: Building) -> None:
    first = _joints(building, "CHW-F-L3-S", fitting_kind="tee")[0]
    stem = first.text("joint_id").removesuffix("-A")
    for letter in "BC":
        building.tables["joints"].remove(building.find("joints", joint_id=f"{stem}-{letter}"))
    first["joint_id"] = stem
    building.plant("tee-logged-as-one-row", first, "fitting_kind", "a tee has three ends and this log shows one")


def gauge_due_between_two_tests(building: Building) -> None:
    days = sorted({row.date("date") for row in building.where("tests", instrument_id="G-10")})
    due = days[-1] - dt.timedelta(days=1)
    calibration = building.find("calibrations", instrument_id="G-10")
    calibration["due_on"] = due
    calibration["calibrated_on"] = due.replace(year=due.year - 1)
    building.plant("gauge-due-between-two-tests", calibration, "due_on", f"used on {days[-2]} and again on {days[-1]}")


def gauge_range_too_wide(building: Building) -> None:
    test = _test_of(building, "BCW-L3-S", "strength")
    reading = round(test.number("start_pressure_bar") * 2 + 0.4) / 2
    test.values |= {"instrument_id": "G-07", "start_pressure_bar": reading, "end_pressure_bar": reading}
    building.plant(
        "gauge-range-too-wide", test, "instrument_id", "0 to 40 bar gauge, steps of 0.5 bar, for a 9 bar test"
    )


def jaw_of_another_profile(building: Building) -> None:
    joint = _joints(building, "MCW-L2-E", od_mm=28)[2]
    joint["jaw_id"] = jaw_id("SUB-3", "P1", 28)
    building.plant("jaw-of-another-profile", joint, "jaw_id", "fitting of profile P2 pressed with a jaw of profile P1")


def trained_the_day_after(building: Building) -> None:
    first = min(row.date("press_date") for row in building.where("joints", operative_id="OP-06"))
    training = building.find("trainings", operative_id="OP-06", system_family="FAM-K")
    training["trained_on"] = first + dt.timedelta(days=1)
    training["expires_on"] = first.replace(year=first.year + 3)
    building.plant("trained-the-day-after", training, "trained_on", f"first joint of FAM-K on {first}")


def copper_upstream_of_carbon_steel(building: Building) -> None:
    section = "DHW-R-M1"
    tube = building.find("tubes", section_id=section)
    batch = tube_batch("carbon_steel", tube.number("od_mm"), "press_carbon")
    tube.values |= {"material": "carbon_steel", "wall_mm": 1.5, "tube_series": "press_carbon", "batch_id": batch}
    for joint in _joints(building, section):
        joint.values |= {"material_tube": "carbon_steel", "tube_batch_id": batch}
    building.plant(
        "copper-upstream-of-carbon-steel",
        tube,
        "material",
        "carbon steel after copper in drinking water, not a closed circuit",
    )


def epdm_on_compressed_air(building: Building) -> None:
    section = building.find("sections", section_id="CA-L5-E")
    section.values |= {"seal": "EPDM", "remarks": "Lubricated air to the lifts"}
    for joint in _joints(building, "CA-L5-E"):
        joint["seal"] = "EPDM"
        joint["fitting_batch_id"] = fitting_batch("FAM-C", "EPDM", joint.number("od_mm"), joint.date("press_date"))
    building.plant("epdm-on-compressed-air", section, "seal", "EPDM seals on air that carries oil")


def riser_tested_at_the_base_only(building: Building) -> None:
    test = _test_of(building, "BCW-R1-L3", "strength")
    test.values |= {"start_pressure_bar": 9.0, "end_pressure_bar": 9.0, "relief_set_bar": 10.0}
    building.plant(
        "riser-tested-at-the-base-only",
        test,
        "start_pressure_bar",
        "9 bar at the base is about 7.1 bar at the top, 19 m up",
    )


def same_readings_on_five_certificates(building: Building) -> None:
    rows = [_test_of(building, f"DHW-F-L{level}-N", "strength") for level in range(5)]
    copied = (
        "start_pressure_bar", "end_pressure_bar", "start_time", "end_time", "ambient_start_c", "ambient_end_c",
        "pipe_start_c", "pipe_end_c",
    )  # fmt: skip
    for row in rows:
        row.values |= {name: rows[0][name] for name in copied}
        building.plant(
            "same-readings-on-five-certificates", row, "start_pressure_bar", f"readings of {rows[0]['test_id']} again"
        )


def one_photo_on_two_joints(building: Building) -> None:
    first, second = (building.find("documents", document_id=code) for code in ("DOC-F04", "DOC-F05"))
    building.documents[second.text("file")] = building.documents[first.text("file")]
    joint = building.find("joints", photo=second["document_id"])
    building.plant("one-photo-on-two-joints", joint, "photo", f"the same picture as {first['document_id']}")


def pressed_again_as_repair(building: Building) -> None:
    joint = _joints(building, "LTHW-R-R1-L3", od_mm=54)[1]
    joint.values |= {"press_count": 2, "status": "reworked", "remarks": "Weeping on fill, pressed again, now dry"}
    building.plant("pressed-again-as-repair", joint, "remarks", "a joint was pressed a second time as a repair")


def rework_after_test_without_retest(building: Building) -> None:
    section = "CHW-R-L4-S"
    test = _test_of(building, section, "strength")
    old = _joints(building, section, fitting_kind="elbow", status="tested")[:2]
    day = working_day(test.date("date"), 6)
    at = building["joints"].index(_joints(building, section)[-1]) + 1
    for letter, joint in zip("AB", old, strict=True):
        joint["status"] = "cut_out"
        new = Row("joints", dict(joint.values))
        new.values |= {
            "joint_id": f"{section}-J950-{letter}",
            "press_date": day,
            "check_date": working_day(day, 1),
            "status": "checked",
            "replaces_joint": joint["joint_id"],
            "remarks": "Moved for ductwork",
        }
        building["joints"].insert(at, new)
        _cover_up_after(building, new)
        at += 1
    building.plant(
        "rework-after-test-without-retest",
        building["joints"][at - 1],
        "press_date",
        f"made after {test['test_id']}, none since",
    )


def boundary_joint_in_no_test(building: Building) -> None:
    joint = _joints(building, "LTHW-R-R2-L2", fitting_kind="valve")[0]
    tests = [row for row in building["tests"] if "LTHW-R-R2-L2" in row.text("section_ids").split("; ")]
    for row in tests:
        row["joints_left_out"] = joint["joint_id"]
    building.plant(
        "boundary-joint-in-no-test", joint, "joint_id", f"at the blank of {tests[0]['test_id']}, and in no other test"
    )


def section_in_no_test(building: Building) -> None:
    name = "LTHW-R-R2-FOOT"
    tests = [row for row in building["tests"] if name in row.text("section_ids").split("; ")]
    for row in tests:
        row["section_ids"] = "; ".join(part for part in row.text("section_ids").split("; ") if part != name)
    section = building.find("sections", section_id=name)
    building.plant("section-in-no-test", section, "section_id", f"was left out of {tests[0]['test_id']}")


def guarantee_registered_late(building: Building) -> None:
    building.settings["registered_on"] = "2026-05-15"
    building.plant_file(
        "guarantee-registered-late", "project.yml", "registered_on", "day 31 of 30 after commissioning on 2026-04-14"
    )


def name_and_signature_for_facilities(building: Building) -> None:
    for row, note in add_personal_papers(building):
        building.plant("name-and-signature-for-facilities", row, "edition", note)


def missing_end_reading(building: Building) -> None:
    test = _test_of(building, "DHW-R-L2-N", "strength")
    test["end_pressure_bar"] = None
    building.plant("missing-end-reading", test, "end_pressure_bar", "no reading at the end of the hold")


def certificate_for_another_serial(building: Building) -> None:
    calibration = building.find("calibrations", instrument_id="G-09")
    calibration["serial_on_certificate"] = "GA-51999"
    building.plant("certificate-for-another-serial", calibration, "serial_on_certificate", "not the serial of G-09")


def tool_service_overdue(building: Building) -> None:
    service = building.find("tool_services", tool_id="PT-08")
    service["serviced_on"], service["due_on"] = dt.date(2025, 2, 10), dt.date(2026, 2, 10)
    building.plant("tool-service-overdue", service, "due_on", "hired tool used after its service was due")


def quarantined_batch_in_use(building: Building) -> None:
    uses = Counter(joint.text("fitting_batch_id") for joint in building["joints"] if joint["fitting_batch_id"])
    batch = building.find("batches", batch_id=min(uses, key=lambda code: (uses[code], code)))
    batch["quarantined"] = True
    building.plant("quarantined-batch-in-use", batch, "quarantined", f"{uses[batch.text('batch_id')]} ends carry it")


def joint_missing_from_run(building: Building) -> None:
    rows = _joints(building, "BCW-L4-N", fitting_kind="coupling")
    stem = rows[0].text("joint_id").removesuffix("-A")
    for letter in "AB":
        building.tables["joints"].remove(building.find("joints", joint_id=f"{stem}-{letter}"))
    section = building.find("sections", section_id="BCW-L4-N")
    building.plant("joint-missing-from-run", section, "expected_ends", f"{stem} is in no row and was not voided")


def checked_by_the_presser(building: Building) -> None:
    rows = _joints(building, "BCW-R2-L2")
    for joint in rows:
        joint["checker_id"] = joint["operative_id"]
    building.plant(
        "checked-by-the-presser", rows[0], "checker_id", "all ends of the section checked by who pressed them"
    )


def depth_mark_not_visible(building: Building) -> None:
    joint = _joints(building, "CHW-R-R1-L4")[2]
    joint["depth_mark_visible"] = False
    building.plant("depth-mark-not-visible", joint, "depth_mark_visible", "mark swallowed by the fitting")


FAULTS: tuple[Fault, ...] = (
    strength_test_before_last_press,
    no_low_pressure_stage,
    tee_logged_as_one_row,
    gauge_due_between_two_tests,
    gauge_range_too_wide,
    jaw_of_another_profile,
    trained_the_day_after,
    copper_upstream_of_carbon_steel,
    epdm_on_compressed_air,
    riser_tested_at_the_base_only,
    same_readings_on_five_certificates,
    one_photo_on_two_joints,
    pressed_again_as_repair,
    rework_after_test_without_retest,
    boundary_joint_in_no_test,
    section_in_no_test,
    guarantee_registered_late,
    name_and_signature_for_facilities,
    missing_end_reading,
    certificate_for_another_serial,
    tool_service_overdue,
    quarantined_batch_in_use,
    joint_missing_from_run,
    checked_by_the_presser,
    depth_mark_not_visible,
    *AFTER_TESTS,
)
