"""Which fields each register shows, and in which order; the gate leaves out what an edition may not show."""

from dataclasses import dataclass

from witnessmark.model.contract import contract

JOINT_FIELDS = (
    "joint_id",
    "level",
    "location",
    "fitting_kind",
    "od_mm",
    "joint_type",
    "material_tube",
    "status",
    "press_date",
    "operative_id",
    "tool_id",
    "jaw_id",
    "fitting_batch_id",
    "pressed_check",
    "checker_id",
    "check_date",
)
TEST_FIELDS = (
    "test_id",
    "attempt",
    "stage",
    "date",
    "result",
    "medium",
    "required_pressure_bar",
    "start_pressure_bar",
    "end_pressure_bar",
    "hold_min",
    "instrument_id",
    "joints_inspected",
    "tester",
    "witness",
    "certificate_no",
)


@dataclass(frozen=True, slots=True)
class Companion:
    """A table that belongs to the records of another: calibrations, services, trainings."""

    table: str
    key: str
    fields: tuple[str, ...]
    caption: str
    strays: str


@dataclass(frozen=True, slots=True)
class Plan:
    """What a register shows."""

    table: str
    title: str
    intro: str
    fields: tuple[str, ...]
    empty: str
    companion: Companion | None = None


def _whole(table: str, title: str, intro: str, empty: str) -> Plan:
    """A plan that shows every field of its table."""
    return Plan(table, title, intro, tuple(field.name for field in contract()[table].fields), empty)


PLANS = (
    Plan(
        "joints",
        "Joint register",
        "One row is one pressed end: an elbow has two, a tee three.",
        (
            "joint_id",
            "section_id",
            *JOINT_FIELDS[1:],
            "material_fitting",
            "system_family",
            "press_profile",
            "seal",
            "tube_batch_id",
            "press_time",
            "press_count",
            "adapter_id",
            "cut_square",
            "deburred",
            "coating_stripped",
            "seal_present",
            "depth_marked",
            "fully_inserted",
            "lubricated",
            "tool_isolated",
            "depth_mark_visible",
            "fitting_closed",
            "sling_left_on",
            "excess_wiped",
            "marked_complete",
            "boundary",
            "tube_to_next_mm",
            "unit_of_count",
            "drawing",
            "drawing_revision",
            "replaces_joint",
            "photo",
            "remarks",
        ),
        "The records show no joint.",
    ),
    Plan(
        "tests",
        "Test register",
        "One row is one stage of one attempt; failed attempts are kept. A passed pressure test does not prove that "
        "every joint was pressed.",
        (
            "test_id",
            "attempt",
            "stage",
            "section_ids",
            *TEST_FIELDS[3:],
            "procedure",
            "pressure_basis",
            "start_time",
            "end_time",
            "settle_min",
            "ambient_start_c",
            "ambient_end_c",
            "pipe_start_c",
            "pipe_end_c",
            "barometer_start_mbar",
            "barometer_end_mbar",
            "gauge_elevation_m",
            "relief_set_bar",
            "energy_assessed",
            "exclusion_zone",
            "topped_up",
            "joints_left_out",
            "boundary",
            "leaks_found",
            "made_safe",
            "made_safe_date",
            "witness_organisation",
            "witness_date",
            "document_id",
            "remarks",
        ),
        "The records show no test.",
    ),
    Plan(
        "nodes",
        "Nodes",
        "Where sections meet: valves, drains, vents, tees, plant, terminals and caps, as recorded. What must be closed "
        "for a section is not worked out from them.",
        (
            "node_id",
            "kind",
            "system_id",
            "name",
            "level",
            "location",
            "od_mm",
            "elevation_m",
            "normal_position",
            "close_by",
            "remarks",
        ),
        "The records show no valve and no other node.",
    ),
    Plan(
        "instruments",
        "Instruments",
        "Gauges, loggers and thermometers with which tests were read.",
        (
            "instrument_id",
            "kind",
            "serial",
            "range_min_bar",
            "range_max_bar",
            "class_percent",
            "resolution_bar",
            "owner",
            "remarks",
        ),
        "The records show no instrument.",
        Companion(
            "calibrations",
            "instrument_id",
            (
                "instrument_id",
                "calibrated_on",
                "due_on",
                "result",
                "certificate_no",
                "serial_on_certificate",
                "laboratory",
                "accreditation_no",
                "error_found_bar",
                "document_id",
            ),
            "Calibrations",
            "Calibrations that name no instrument of the register",
        ),
    ),
    Plan(
        "tools",
        "Press tools, jaws and slings",
        "What the joints were pressed with.",
        (
            "tool_id",
            "kind",
            "serial",
            "press_profile",
            "od_mm",
            "system_family",
            "force_kn",
            "owner",
            "cycle_limit",
            "remarks",
        ),
        "The records show no press tool.",
        Companion(
            "tool_services",
            "tool_id",
            (
                "tool_id",
                "serviced_on",
                "due_on",
                "result",
                "cycle_count",
                "provider",
                "certificate_no",
                "document_id",
            ),
            "Services",
            "Services that name no tool of the register",
        ),
    ),
    Plan(
        "operatives",
        "Operatives",
        "Who pressed and who checked, by register code.",
        (
            "operative_id",
            "name",
            "initials",
            "also_written",
            "role",
            "employer",
            "inducted_on",
            "remarks",
        ),
        "The records show no operative.",
        Companion(
            "trainings",
            "operative_id",
            (
                "operative_id",
                "system_family",
                "max_od_mm",
                "trained_on",
                "expires_on",
                "sample_joint",
                "provider",
                "certificate_no",
                "document_id",
            ),
            "Trainings",
            "Trainings that name no operative of the register",
        ),
    ),
    Plan(
        "batches",
        "Batches",
        "Batches of tube, fittings and seals.",
        (
            "batch_id",
            "item",
            "description",
            "material",
            "standard",
            "od_mm",
            "wall_mm",
            "tube_series",
            "system_family",
            "press_profile",
            "seal",
            "certificate_type",
            "certificate_no",
            "delivery_note",
            "received_on",
            "quantity",
            "quarantined",
            "potable_approval",
            "document_id",
        ),
        "The records show no batch.",
    ),
    _whole(
        "valves",
        "Valves",
        "What each valve shuts, how it closes, where it is and how it is reached, as recorded. Prove that it holds "
        "before you rely on it.",
        "The records show no valve.",
    ),
    _whole(
        "flushings",
        "Flushing and cleaning",
        "One row is one flush, clean or disinfection.",
        "The records show no flushing.",
    ),
    _whole(
        "treatments",
        "Water treatment and samples",
        "Fillings, doses, samples with their results, and circulation kept up.",
        "The records show no water treatment.",
    ),
    _whole(
        "insulations",
        "Insulation",
        "What was insulated, with what, and who looked at it.",
        "The records show no insulation.",
    ),
    _whole(
        "supports",
        "Supports, anchors and expansion",
        "Supports with their largest spacing, anchors, guides and what takes up movement.",
        "The records show no support.",
    ),
    _whole("snags", "Snags", "Defects found, and what became of them.", "The records show no snag."),
    _whole(
        "concessions",
        "Concessions",
        "Departures that somebody accepted: until when, and what that does to the guarantee.",
        "The records show no concession.",
    ),
    _whole(
        "alterations",
        "Rework and alterations",
        "What was changed after it was made. Each change reopens the sections it touches until a later test closes "
        "them; nothing is overwritten.",
        "The records show no rework and no alteration.",
    ),
    Plan(
        "documents",
        "Documents",
        "Files that came with the records.",
        (),
        "The records show no document.",
    ),
)

_SHOWN = {plan.table for plan in PLANS} | {plan.companion.table for plan in PLANS if plan.companion} | {"tags"}
AS_RECORDED = tuple(
    Plan(
        table.name,
        f"{table.title} as recorded",
        table.description,
        tuple(field.name for field in table.fields),
        "The records hold no such row.",
    )
    for table in contract().values()
    if table.name not in _SHOWN
)
"""Every other table of the contract, as plain rows for the auditor: no table can be forgotten."""
