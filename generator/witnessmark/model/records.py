"""Records as the contract describes them: one frozen class a table, one attribute a field.

Field names, units and meanings are those of ``shared/contract/*.schema.json``; a test compares the two.
``None`` means that the records do not say. Pressures are gauge pressures.
"""

import datetime
from dataclasses import dataclass

from witnessmark.model.source import RowSource


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """A record with the row it was read from."""

    source: RowSource


@dataclass(frozen=True, slots=True, kw_only=True)
class System(Record):
    """One row a system: what it carries, how hot, at what pressure, and what stops with it."""

    system_id: str
    name: str | None
    service: str | None
    medium: str | None
    glycol_percent: float | None
    max_operating_pressure_bar: float | None
    max_design_pressure_bar: float | None
    min_temperature_c: float | None
    max_temperature_c: float | None
    upset_temperature_c: float | None
    relief_set_bar: float | None
    potable: bool | None
    closed_circuit: bool | None
    oil_free: bool | None
    critical_for: str | None
    stops: str | None
    responsible_role: str | None
    water_treatment: str | None
    schematic: str | None
    fittings_allowance_percent: float | None
    plant_content_l: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Section(Record):
    """One row a section: what is tagged, tested and isolated as one."""

    section_id: str
    system_id: str | None
    name: str | None
    from_node: str | None
    to_node: str | None
    flow: str | None
    level: str | None
    rooms: str | None
    location: str | None
    riser: str | None
    system_family: str | None
    seal: str | None
    max_operating_pressure_bar: float | None
    max_design_pressure_bar: float | None
    max_temperature_c: float | None
    min_temperature_c: float | None
    elevation_high_m: float | None
    elevation_low_m: float | None
    expected_ends: int | None
    insulation: str | None
    access: str | None
    concealed: bool | None
    cover_up_date: datetime.date | None
    subcontractor: str | None
    delivered_on: datetime.date | None
    installed_on: datetime.date | None
    commissioned_on: datetime.date | None
    drawing: str | None
    drawing_revision: str | None
    tag_position: str | None
    sensitive: bool | None
    status: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeLength(Record):
    """One row per section, material and size: how much tube of which bore."""

    section_id: str | None
    material: str | None
    od_mm: float | None
    wall_mm: float | None
    tube_series: str | None
    length_m: float | None
    batch_id: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Node(Record):
    """One row a node: valve, drain, vent, tee, plant, terminal or cap, where sections meet."""

    node_id: str
    kind: str | None
    system_id: str | None
    name: str | None
    od_mm: float | None
    level: str | None
    location: str | None
    elevation_m: float | None
    normal_position: str | None
    close_by: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint(Record):
    """One row a joint: ONE pressed end. An elbow has two, a tee three."""

    joint_id: str
    unit_of_count: str | None
    section_id: str | None
    level: str | None
    location: str | None
    drawing: str | None
    drawing_revision: str | None
    joint_type: str | None
    fitting_kind: str | None
    od_mm: float | None
    material_tube: str | None
    material_fitting: str | None
    system_family: str | None
    press_profile: str | None
    seal: str | None
    fitting_batch_id: str | None
    tube_batch_id: str | None
    operative_id: str | None
    tool_id: str | None
    jaw_id: str | None
    adapter_id: str | None
    press_date: datetime.date | None
    press_time: datetime.time | None
    cut_square: bool | None
    deburred: bool | None
    coating_stripped: bool | None
    seal_present: bool | None
    depth_marked: bool | None
    fully_inserted: bool | None
    lubricated: bool | None
    tool_isolated: bool | None
    depth_mark_visible: bool | None
    fitting_closed: bool | None
    sling_left_on: bool | None
    excess_wiped: bool | None
    marked_complete: bool | None
    pressed_check: bool | None
    checker_id: str | None
    check_date: datetime.date | None
    press_count: int | None
    status: str | None
    replaces_joint: str | None
    boundary: bool | None
    tube_to_next_mm: float | None
    photo: str | None
    remarks: str | None
    recorded_as_end: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TestStage(Record):
    """One row per attempt and stage; failed attempts are kept."""

    test_id: str
    attempt: int | None
    stage: str | None
    section_ids: tuple[str, ...]
    joints_left_out: tuple[str, ...]
    boundary: str | None
    procedure: str | None
    medium: str | None
    required_pressure_bar: float | None
    pressure_basis: str | None
    start_pressure_bar: float | None
    end_pressure_bar: float | None
    date: datetime.date | None
    start_time: datetime.time | None
    end_time: datetime.time | None
    settle_min: float | None
    hold_min: float | None
    ambient_start_c: float | None
    ambient_end_c: float | None
    pipe_start_c: float | None
    pipe_end_c: float | None
    barometer_start_mbar: float | None
    barometer_end_mbar: float | None
    instrument_id: str | None
    gauge_elevation_m: float | None
    relief_set_bar: float | None
    energy_assessed: bool | None
    exclusion_zone: bool | None
    topped_up: bool | None
    joints_inspected: bool | None
    result: str | None
    leaks_found: str | None
    made_safe: str | None
    made_safe_date: datetime.date | None
    tester: str | None
    witness: str | None
    witness_organisation: str | None
    witness_date: datetime.date | None
    certificate_no: str | None
    document_id: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument(Record):
    """One row a gauge, logger or thermometer."""

    instrument_id: str
    kind: str | None
    serial: str | None
    range_min_bar: float | None
    range_max_bar: float | None
    class_percent: float | None
    resolution_bar: float | None
    owner: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration(Record):
    """One row a calibration of an instrument."""

    instrument_id: str | None
    certificate_no: str | None
    serial_on_certificate: str | None
    calibrated_on: datetime.date | None
    due_on: datetime.date | None
    laboratory: str | None
    accreditation_no: str | None
    error_found_bar: float | None
    result: str | None
    document_id: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool(Record):
    """One row a tool, jaw, sling or adapter."""

    tool_id: str
    kind: str | None
    serial: str | None
    press_profile: str | None
    od_mm: float | None
    system_family: str | None
    force_kn: float | None
    owner: str | None
    cycle_limit: int | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolService(Record):
    """One row a service or inspection of a tool, jaw or sling."""

    tool_id: str | None
    serviced_on: datetime.date | None
    due_on: datetime.date | None
    cycle_count: int | None
    provider: str | None
    certificate_no: str | None
    result: str | None
    document_id: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Operative(Record):
    """One row a person; outside the audit edition only the code is shown."""

    operative_id: str
    name: str | None
    initials: str | None
    also_written: str | None
    role: str | None
    employer: str | None
    inducted_on: datetime.date | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Training(Record):
    """One row a training of an operative."""

    operative_id: str | None
    system_family: str | None
    max_od_mm: float | None
    provider: str | None
    certificate_no: str | None
    trained_on: datetime.date | None
    expires_on: datetime.date | None
    sample_joint: bool | None
    document_id: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch(Record):
    """One row a batch of tube, fittings or seals."""

    batch_id: str
    item: str | None
    description: str | None
    material: str | None
    standard: str | None
    od_mm: float | None
    wall_mm: float | None
    tube_series: str | None
    system_family: str | None
    press_profile: str | None
    seal: str | None
    certificate_type: str | None
    certificate_no: str | None
    delivery_note: str | None
    received_on: datetime.date | None
    quantity: float | None
    quarantined: bool | None
    potable_approval: str | None
    document_id: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rating(Record):
    """One row a point of an envelope: the highest pressure a class of component carries at a temperature."""

    rating_id: str
    component: str | None
    applies_to: str | None
    material: str | None
    od_from_mm: float | None
    od_to_mm: float | None
    temperature_c: float | None
    pressure_bar: float | None
    medium: str | None
    basis: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Document(Record):
    """One row a file that the pack carries."""

    document_id: str
    file: str | None
    title: str | None
    kind: str | None
    revision: str | None
    date: datetime.date | None
    about: str | None
    edition: str | None
    declared_sha256: str | None
    legible: bool | None
    sha256: str | None
    """Of the file below documents/; ``None`` where there is none to read."""
    size_bytes: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tag(Record):
    """One row a tag code. Written by the build; rows are only ever added."""

    code: str
    section_id: str
    first_issue: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Valve(Record):
    """One row a valve."""

    valve_id: str
    node_id: str | None
    kind: str | None
    od_mm: float | None
    pressure_rating_bar: float | None
    max_temperature_c: float | None
    normal_position: str | None
    closes: str | None
    turns: float | None
    key: str | None
    level: str | None
    location: str | None
    access: str | None
    section_ids: tuple[str, ...]
    ports_shut: str | None
    photo_near: str | None
    photo_far: str | None
    exercised_on: datetime.date | None
    holds_tight: bool | None
    consequence: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Flushing(Record):
    """One row a flush, chemical clean or disinfection."""

    flushing_id: str
    kind: str | None
    section_ids: tuple[str, ...]
    procedure: str | None
    date: datetime.date | None
    flow_l_s: float | None
    velocity_m_s: float | None
    duration_min: float | None
    water_changes: float | None
    strainers_cleaned: bool | None
    chemical: str | None
    concentration_mg_l: float | None
    contact_min: float | None
    neutralised: bool | None
    result: str | None
    done_by_role: str | None
    certificate_no: str | None
    document_id: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Treatment(Record):
    """One row an event."""

    treatment_id: str
    kind: str | None
    system_id: str | None
    section_ids: tuple[str, ...]
    date: datetime.date | None
    from_date: datetime.date | None
    sample_point: str | None
    water_source: str | None
    ph: float | None
    conductivity_us_cm: float | None
    chloride_mg_l: float | None
    iron_mg_l: float | None
    oxygen_mg_l: float | None
    inhibitor_mg_l: float | None
    glycol_percent: float | None
    colonies_cfu_ml: float | None
    legionella_cfu_l: float | None
    hours_per_day: float | None
    laboratory: str | None
    accreditation_no: str | None
    result: str | None
    done_by_role: str | None
    document_id: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Snag(Record):
    """One row a defect found, and what became of it."""

    snag_id: str
    description: str | None
    snag_class: str | None
    kind: str | None
    section_ids: tuple[str, ...]
    joint_ids: tuple[str, ...]
    raised_by_role: str | None
    raised_on: datetime.date | None
    due_on: datetime.date | None
    owner_role: str | None
    action: str | None
    closed_on: datetime.date | None
    closed_by_role: str | None
    retest_required: bool | None
    retest_test_id: str | None
    document_id: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Concession(Record):
    """One row an accepted departure."""

    concession_id: str
    check: str | None
    section_ids: tuple[str, ...]
    joint_ids: tuple[str, ...]
    subject: str | None
    departure: str | None
    reason: str | None
    risk: str | None
    decision: str | None
    approved_by_role: str | None
    approved_on: datetime.date | None
    expires_on: datetime.date | None
    guarantee_effect: str | None
    guarantor_consent: bool | None
    document_id: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Alteration(Record):
    """One row a change to what was made."""

    alteration_id: str
    kind: str | None
    section_ids: tuple[str, ...]
    joint_ids: tuple[str, ...]
    node_id: str | None
    into_section_ids: tuple[str, ...]
    date: datetime.date | None
    time: datetime.time | None
    reason: str | None
    done_by_role: str | None
    test_id: str | None
    watched_bar: float | None
    watched_min: float | None
    seen_dry: bool | None
    document_id: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Support(Record):
    """One row a run of supports, an anchor, guide or expansion device."""

    support_id: str
    section_id: str | None
    kind: str | None
    od_mm: float | None
    orientation: str | None
    spacing_m: float | None
    from_fitting_mm: float | None
    lined: bool | None
    takes_up_mm: float | None
    inspected_on: datetime.date | None
    inspected_by_role: str | None
    result: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Insulation(Record):
    """One row an insulation of one or more sections, and its inspection."""

    insulation_id: str
    section_ids: tuple[str, ...]
    material: str | None
    thickness_mm: float | None
    vapour_barrier: bool | None
    joints_sealed: bool | None
    chloride_free: bool | None
    fire_class: str | None
    applied_on: datetime.date | None
    inspected_on: datetime.date | None
    inspected_by_role: str | None
    result: str | None
    tag_outside: bool | None
    bands_fixed: bool | None
    document_id: str | None
    remarks: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedTag(Record):
    """One row a tag code that an earlier issue of the pack gave out."""

    issue: str
    code: str
    section_id: str | None


RECORD_CLASSES: dict[str, type[Record]] = {
    "systems": System,
    "sections": Section,
    "tubes": TubeLength,
    "nodes": Node,
    "joints": Joint,
    "tests": TestStage,
    "instruments": Instrument,
    "calibrations": Calibration,
    "tools": Tool,
    "tool_services": ToolService,
    "operatives": Operative,
    "trainings": Training,
    "batches": Batch,
    "ratings": Rating,
    "documents": Document,
    "valves": Valve,
    "flushings": Flushing,
    "treatments": Treatment,
    "snags": Snag,
    "concessions": Concession,
    "alterations": Alteration,
    "supports": Support,
    "insulations": Insulation,
    "issued_tags": IssuedTag,
    "tags": Tag,
}
