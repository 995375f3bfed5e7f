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
    press_date: datetime.date | None
    press_time: datetime.time | None
    cut_square: bool | None
    deburred: bool | None
    seal_present: bool | None
    depth_marked: bool | None
    fully_inserted: bool | None
    depth_mark_visible: bool | None
    pressed_check: bool | None
    checker_id: str | None
    check_date: datetime.date | None
    press_count: int | None
    status: str | None
    replaces_joint: str | None
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
    sha256: str | None
    """Of the file below documents/; ``None`` where there is none to read."""
    size_bytes: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tag(Record):
    """One row a tag code. Written by the build; rows are only ever added."""

    code: str
    section_id: str
    first_issue: str | None


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
    "tags": Tag,
}
