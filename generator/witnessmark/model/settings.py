"""What ``project.yml`` says, as types; ``shared/contract/project.schema.json`` documents it field by field."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from witnessmark.model.procedure import TestProcedure


@dataclass(frozen=True, slots=True)
class Issue:
    """The released state of the pack that a build makes."""

    number: str
    date: datetime.date
    status: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Duty:
    """The role to call, day and night. A role, never a person."""

    role: str = ""
    phone: str = ""


@dataclass(frozen=True, slots=True)
class SheetSettings:
    """Label sheet, all lengths in mm."""

    page: str = "A4"
    orientation: str = "portrait"
    columns: int = 2
    rows: int = 5
    label_width_mm: float = 90.0
    label_height_mm: float = 52.0
    margin_left_mm: float = 12.0
    margin_top_mm: float = 12.0
    gap_x_mm: float = 6.0
    gap_y_mm: float = 3.0
    cut_marks: bool = True


@dataclass(frozen=True, slots=True)
class TagSettings:
    """How tags are addressed and drawn."""

    host: str
    path: str = ""
    level: str = "Q"
    form: str = "auto"
    flag_below_mm: float = 54.0
    sheet: SheetSettings = field(default_factory=SheetSettings)


@dataclass(frozen=True, slots=True)
class ColumnAnswer:
    """What project.yml says of one column: its heading, its unit, and the answers that settle what could be two."""

    heading: str = ""
    unit: str = ""
    date_order: str = ""
    decimal: str = ""
    blank: str = ""
    words: Mapping[str, str] = field(default_factory=dict)
    sizes: Mapping[str, float] = field(default_factory=dict)
    date_serial: str = ""
    clock: str = ""


@dataclass(frozen=True, slots=True)
class SourceSettings:
    """One entry of ``records``: which table a file or its sheets hold, and how."""

    table: str
    file: str
    sheets: tuple[str, ...] = ()
    reader: str = "table"
    header_row: int | None = None
    first_row: int | None = None
    last_row: int | None = None
    encoding: str = ""
    delimiter: str = ""
    columns: Mapping[str, ColumnAnswer] = field(default_factory=dict)
    fixed: Mapping[str, str] = field(default_factory=dict)
    ignore: tuple[str, ...] = ()
    options: Mapping[str, Any] = field(default_factory=dict)


GUARANTEE_NEEDS = (
    "registered_in_time",
    "system_parts_only",
    "trained_operatives",
    "serviced_tools",
    "tested",
    "inside_envelope",
    "water_treated",
)
"""Conditions that guarantees put to the records, in the order in which pages show them."""


@dataclass(frozen=True, slots=True)
class GuaranteeTerms:
    """Terms of the guarantee for one material, as the guarantor states them."""

    material: str
    years: int
    basis: str
    """'delivery', 'installation', 'commissioning' or 'completion'."""
    guarantor: str = ""
    register_within_days: int | None = None
    registered_on: datetime.date | None = None
    conditions: tuple[str, ...] = ()
    needs: tuple[str, ...] = GUARANTEE_NEEDS
    """What the terms ask of the records, of :data:`GUARANTEE_NEEDS`."""
    certificate_type: str = ""
    """EN 10204 type that the terms ask for; '' where they ask for none."""
    registration: str = ""
    """Document that shows the registration and what was sent with it."""


@dataclass(frozen=True, slots=True)
class WitnessSettings:
    """Which test stages need a witness, and from which organisations."""

    stages: tuple[str, ...] = ()
    organisations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TubeStress:
    """Allowable stress of the tube of one material, MPa, up to a temperature, °C, as declared for the project."""

    stress_mpa: float
    up_to_c: float
    source: str


@dataclass(frozen=True, slots=True)
class LoggerAnswer:
    """What settles a logger file that could be read in more than one way."""

    file: str
    encoding: str = ""
    delimiter: str = ""
    decimal: str = ""
    date_order: str = ""
    time: str = ""
    pressure: str = ""
    pressure_unit: str = ""
    temperature: str = ""
    no_reading: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Limits:
    """Bounds on what is read."""

    max_file_mb: int = 100
    oldest_date: datetime.date = datetime.date(1990, 1, 1)
    newest_date: datetime.date | None = None
    """Last plausible date; ``None`` means the date of the issue."""


@dataclass(frozen=True, slots=True)
class ProjectSettings:
    """The whole of ``project.yml``."""

    id: str
    name: str
    time_zone: str
    issue: Issue
    tags: TagSettings
    building: str = ""
    address: str = ""
    client: str = ""
    contractor: str = ""
    completion_date: datetime.date | None = None
    duty: Duty = field(default_factory=Duty)
    sources: tuple[SourceSettings, ...] = ()
    answers: Mapping[str, ColumnAnswer] = field(default_factory=dict)
    guarantee: Mapping[str, GuaranteeTerms] = field(default_factory=dict)
    testing: Mapping[str, str] = field(default_factory=dict)
    """Service to the id of the test procedure it needs."""
    procedures: Mapping[str, TestProcedure] = field(default_factory=dict)
    tube_stress: Mapping[str, TubeStress] = field(default_factory=dict)
    loggers: Mapping[str, LoggerAnswer] = field(default_factory=dict)
    """By file below documents/."""
    limits: Limits = field(default_factory=Limits)
    thresholds: Mapping[str, float] = field(default_factory=dict)
    """Thresholds that differ from their defaults, by name; see :mod:`witnessmark.model.threshold`."""
    concession_approvers: tuple[str, ...] = ()
    """Roles that may accept a departure; empty where the project does not say."""
    witness: WitnessSettings = field(default_factory=WitnessSettings)
