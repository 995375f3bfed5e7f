"""Records made in Python, and a browser without a network, for every test that needs them."""

import dataclasses
import datetime
import hashlib
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from witnessmark.checks.judgement import CheckRun, Judgement, collect
from witnessmark.model.contract import Edition, Field, contract
from witnessmark.model.finding import Finding, Rule, Severity, Subject
from witnessmark.model.finding import Outcome as Answer
from witnessmark.model.procedure import ProcedureStage, TestProcedure
from witnessmark.model.project import Project, Records, Repair, SetAside, SourceAccount
from witnessmark.model.records import RECORD_CLASSES, Record
from witnessmark.model.settings import Duty, GuaranteeTerms, Issue, ProjectSettings, TagSettings
from witnessmark.model.source import RowSource, SourceColumn, SourceLocation, SourceTable
from witnessmark.model.trace import Trace
from witnessmark.pipeline import Outcome
from witnessmark.site.build_site import build_edition
from witnessmark.workings.work import work

if TYPE_CHECKING:
    from playwright.sync_api import ConsoleMessage, Page, Playwright, Route


def _as_written(value: Any) -> str:
    if value is None or value == ():
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, datetime.time):
        return value.strftime("%H:%M")
    return "; ".join(value) if isinstance(value, tuple) else str(value)


class RecordFactory:
    """Makes records of any table: fields not given are not in the records."""

    def __init__(self) -> None:
        self._rows: dict[str, int] = {}

    def __call__(self, table: str, raw: dict[str, str] | None = None, **values: Any) -> Record:
        """A record of ``table``; ``raw`` says how a cell stood in the file where it differs from the value."""
        kind = RECORD_CLASSES[table]
        names = [f.name for f in dataclasses.fields(kind) if f.name not in ("source", "recorded_as_end")]
        defaults = {field.name: () for field in contract()[table].fields if field.reads == "refs"}
        filled = {name: values.get(name, defaults.get(name)) for name in names}
        row = self._rows[table] = self._rows.get(table, 1) + 1
        texts = tuple((raw or {}).get(name, _as_written(filled[name])) for name in names)
        columns = {name: SourceColumn(i, chr(65 + i % 26), name) for i, name in enumerate(names)}
        source = RowSource(SourceTable(f"records/{table}.csv", "", columns, tuple(names)), row, texts)
        if table == "joints":
            filled["recorded_as_end"] = values.get("recorded_as_end", True)
        return kind(source=source, **filled)


RULE = Rule(
    slug="test-before-last-joint",
    question="Was every section tested after its last joint was pressed?",
    severity=Severity.BREAKS,
    closes="A strength test of the section after its last joint.",
    whose="Contractor",
    what="The date of the last strength test against the date of the last pressed joint.",
    why="A joint pressed after the test has never been under pressure.",
    example="Joint J014 was pressed on 12 May; the only strength test of the section was on 9 May.",
)


@pytest.fixture
def record() -> RecordFactory:
    """Makes single records."""
    return RecordFactory()


@pytest.fixture
def settings() -> ProjectSettings:
    """Settings of a small invented project."""
    return ProjectSettings(
        id="quayside",
        name="Quayside House",
        time_zone="Europe/London",
        issue=Issue("P03", datetime.date(2026, 5, 15), "For information", "Handover"),
        tags=TagSettings(host="tags.example.org"),
        building="Offices on five levels",
        client="The client",
        contractor="MECH-1",
        completion_date=datetime.date(2026, 5, 8),
        duty=Duty("Duty engineer", "+44 20 7946 0018"),
        guarantee={
            "copper": GuaranteeTerms(
                "copper", 30, "completion", "GUAR-1", 30, datetime.date(2026, 5, 20), ("Only parts of one family.",)
            ),
        },
    )


@pytest.fixture
def make_outcome(settings: ProjectSettings, tmp_path: Path) -> Callable[..., Outcome]:
    """Works records out and judges them with the findings given."""

    def make(
        findings: tuple[Finding, ...] = (),
        runs: tuple[CheckRun, ...] = (),
        settings: ProjectSettings = settings,
        repairs: tuple[Repair, ...] = (),
        set_aside: tuple[SetAside, ...] = (),
        accounts: tuple[SourceAccount, ...] = (),
        folder: Path | None = None,
        **tables: tuple[Record, ...],
    ) -> Outcome:
        records = Records(**tables)  # type: ignore[arg-type]  # tables by name
        project = Project(folder or tmp_path / "project", settings, records, repairs, set_aside, accounts)
        judgement: Judgement = collect(runs, findings)
        return Outcome(project, work(project), judgement)

    return make


@pytest.fixture
def small_outcome(record: RecordFactory, make_outcome: Callable[..., Outcome]) -> Outcome:
    """Two systems, three sections (one sensitive, one of which little is known), joints, tests and a finding."""
    day = datetime.date
    return make_outcome(
        systems=(
            record(
                "systems",
                system_id="LTHW-F",
                name="Low temperature heating, flow",
                service="heating_flow",
                medium="treated_water",
                max_operating_pressure_bar=3.0,
                max_temperature_c=80.0,
                min_temperature_c=10.0,
                stops="Heating on levels 0 to 5",
                responsible_role="Duty engineer",
            ),
            record("systems", system_id="GAS", name="Natural gas", service="natural_gas", medium="natural_gas"),
        ),
        sections=(
            record(
                "sections",
                section_id="LTHW-F-R2",
                system_id="LTHW-F",
                name="Heating flow riser 2, levels 1 to 5",
                flow="up",
                level="1 to 5",
                location="Riser cupboard 2, left of the door",
                access="Key from the front desk",
                from_node="V-2-014",
                to_node="V-2-031",
                installed_on=day(2026, 3, 2),
                status="in_service",
                drawing="HTG-L02-104",
            ),
            record("sections", section_id="GAS-B1", system_id="GAS", name="Gas to the kitchen", sensitive=True),
            record("sections", section_id="X?", name=None),
        ),
        tubes=(
            record("tubes", section_id="LTHW-F-R2", material="copper", od_mm=54.0, wall_mm=1.2, length_m=12.5),
            record(
                "tubes",
                raw={"od_mm": "22mm"},
                section_id="LTHW-F-R2",
                material="copper",
                od_mm=22.0,
                wall_mm=0.9,
                length_m=3.0,
            ),
            record("tubes", section_id="GAS-B1", material="carbon_steel", od_mm=28.0),
        ),
        nodes=(
            record(
                "nodes",
                node_id="V-2-014",
                kind="valve",
                system_id="LTHW-F",
                name="Riser 2 isolating valve",
                close_by="Clockwise, quarter turn",
            ),
        ),
        joints=tuple(
            record(
                "joints",
                raw={"press_date": "02/03/2026", "od_mm": "54mm"},
                joint_id=f"LTHW-F-R2-J{n:03}",
                section_id="LTHW-F-R2",
                level="2",
                fitting_kind="elbow",
                od_mm=54.0,
                joint_type="press",
                material_tube="copper",
                operative_id="OP-03",
                tool_id="PT-02",
                press_date=day(2026, 3, 2),
                pressed_check=n % 2 == 0 or None,
                status="checked",
            )
            for n in range(1, 7)
        ),
        tests=(
            record(
                "tests",
                test_id="PT-014",
                attempt=1,
                stage="strength",
                section_ids=("LTHW-F-R2",),
                date=day(2026, 3, 9),
                result="pass",
                medium="water",
                required_pressure_bar=4.5,
                start_pressure_bar=4.6,
                end_pressure_bar=4.6,
                instrument_id="G-01",
                tester="OP-09",
                witness="W. Itness",
                certificate_no="TC-0142",
            ),
        ),
        instruments=(record("instruments", instrument_id="G-01", kind="gauge", serial="GA-50117", range_max_bar=16.0),),
        calibrations=(
            record("calibrations", instrument_id="G-01", calibrated_on=day(2026, 1, 8), certificate_no="CAL-7731"),
        ),
        tools=(record("tools", tool_id="PT-02", kind="press_tool", serial="T-88231"),),
        operatives=(
            record("operatives", operative_id="OP-03", name="Ada Press", initials="A.P.", role="Pipefitter"),
            record("operatives", operative_id="OP-09", name="Bo Check", initials="B.C.", role="Supervisor"),
        ),
        findings=(
            Finding(
                RULE,
                Answer.FAIL,
                "Joint LTHW-F-R2-J006 was pressed on 12 May by Ada Press; the only strength test was on 9 March.",
                "Test the section again.",
                Subject("section", "LTHW-F-R2"),
                SourceLocation("records/joints.csv", "", 7, "U", "press_date"),
                section_ids=("LTHW-F-R2",),
            ),
        ),
        runs=(CheckRun(RULE, 3, 1, 1, 0),),
        repairs=(Repair(SourceLocation("records/tubes.csv", "", 3, "C"), "tubes", "od_mm", "22mm", "22", "unit sign"),),
        set_aside=(SetAside(SourceLocation("records/joints.csv", "", 9), "joints", "sub-total", "Total;6"),),
        accounts=(SourceAccount("records/joints.csv", "", "joints", 7, 6, 1, 6, "ab" * 32),),
    )


RISER: dict[str, dict[str, Any]] = {
    "systems": {
        "system_id": "BCW", "name": "Boosted cold water", "service": "boosted_cold_water", "medium": "drinking_water",
        "max_operating_pressure_bar": 6.0, "max_design_pressure_bar": 9.0, "min_temperature_c": 5.0,
        "max_temperature_c": 60.0, "upset_temperature_c": 95.0,
    },
    "sections": {
        "section_id": "R1", "system_id": "BCW", "name": "Riser 1", "system_family": "FAM-S", "seal": "EPDM",
        "from_node": "V-1", "elevation_low_m": 0.0, "elevation_high_m": 20.0,
    },
    "tubes": {
        "section_id": "R1", "material": "stainless_steel", "od_mm": 54.0, "wall_mm": 1.5, "length_m": 20.0,
    },
    "nodes": {"node_id": "V-1", "kind": "valve", "od_mm": 54.0},
    "tests": {
        "test_id": "PT-1", "attempt": 1, "stage": "strength", "section_ids": ("R1",), "procedure": "wet",
        "medium": "water", "required_pressure_bar": 9.0, "start_pressure_bar": 11.5, "end_pressure_bar": 11.5,
        "date": datetime.date(2026, 3, 2), "start_time": datetime.time(10), "end_time": datetime.time(11),
        "settle_min": 30.0, "hold_min": 60.0, "pipe_start_c": 12.0, "pipe_end_c": 12.0, "instrument_id": "G-1",
        "gauge_elevation_m": 0.0, "topped_up": False, "joints_inspected": True, "result": "pass",
        "document_id": "DOC-1",
    },
    "instruments": {
        "instrument_id": "G-1", "serial": "GA-1", "range_min_bar": 0.0, "range_max_bar": 25.0, "class_percent": 1.0,
        "resolution_bar": 0.1,
    },
    "calibrations": {
        "instrument_id": "G-1", "serial_on_certificate": "GA-1", "calibrated_on": datetime.date(2026, 1, 5),
        "due_on": datetime.date(2027, 1, 5), "result": "pass",
    },
    "documents": {"document_id": "DOC-1", "title": "Logger file", "file": "logs/one.csv", "edition": "audit"},
}  # fmt: skip


def logger_trace(hours: float = 2.0) -> Trace:
    """Ten minutes of filling, then a steady pressure of 11.5 bar; one reading every ten seconds from 09:50."""
    seconds = np.arange(0.0, hours * 3600, 10.0)
    pressures = np.where(seconds < 600, 11.5 * seconds / 600, 11.5)
    started = datetime.datetime(2026, 3, 2, 9, 50, tzinfo=ZoneInfo("Europe/London"))
    return Trace("DOC-1", "logs/one.csv", started, seconds, pressures, None)


@pytest.fixture
def riser_outcome(record: RecordFactory, settings: ProjectSettings, tmp_path: Path) -> Callable[..., Outcome]:
    """One riser of 20 m with ratings, a procedure and its test; keywords change fields, a list replaces the records.

    ``ratings`` are (component, applies to, ((°C, bar), ...)); ``traces`` are logger traces.
    """
    wet = ProcedureStage(
        stage="strength", medium="water", basis="mop", factor=1.5, cap_bar=16, settle_min=30, hold_min=60,
        allowed_drop_bar=0.0,
    )  # fmt: skip
    dry = dataclasses.replace(wet, medium="nitrogen", factor=1.1)
    procedures = {
        name: TestProcedure(name, f"Test, {name}", "Invented specification", (stage,))
        for name, stage in (("wet", wet), ("dry", dry))
    }
    declared = (
        ("fitting", "FAM-S", ((-20.0, 16.0), (95.0, 16.0), (110.0, 10.0))),
        ("seal", "EPDM", ((-20.0, 16.0), (110.0, 12.0))),
        ("valve", None, ((-10.0, 16.0), (110.0, 14.0))),
    )

    def make(ratings: Any = declared, traces: tuple[Trace, ...] = (), testing: str = "wet", **changes: Any) -> Outcome:
        tables: dict[str, Any] = {}
        for name, values in RISER.items():
            change = changes.get(name, {})
            rows = change if isinstance(change, list) else [values | change]
            tables[name] = tuple(record(name, **row) for row in rows)
        tables["ratings"] = tuple(
            record("ratings", rating_id=f"R-{n}", component=component, applies_to=name, temperature_c=celsius,
                   pressure_bar=bar, basis="Data sheet")
            for n, (component, name, points) in enumerate(ratings, 1)
            for celsius, bar in points
        )  # fmt: skip
        chosen = dataclasses.replace(settings, testing={"boosted_cold_water": testing}, procedures=procedures)
        project = Project(tmp_path / "project", chosen, Records(**tables), traces=traces)
        return Outcome(project, work(project), collect((), ()))

    return make


@pytest.fixture
def riser_trace() -> Callable[..., Trace]:
    """Makes the trace of the riser's test."""
    return logger_trace


@pytest.fixture
def finding_rule() -> Rule:
    """An example of a rule, for findings made in a test."""
    return RULE


@pytest.fixture
def planted_outcome(record: RecordFactory, make_outcome: Callable[..., Outcome]) -> Outcome:
    """One record a table with every field filled: text holds 'PLANTED-table-field', cells hold 'RAW-table-field'.

    Numbers and dates are planted too, as figures that occur nowhere else (see ``planted_text``).
    """
    tables: dict[str, tuple[Record, ...]] = {}
    ids = {name: f"PLANTED-{name}-{table.key[0]}-END" for name, table in contract().items() if len(table.key) == 1}
    for name, table in contract().items():
        if name == "tags":
            continue
        values: dict[str, Any] = {}
        for field in table.fields:
            values[field.name] = planted_value(name, field, ids)
        raw = {field.name: f"RAW-{name}-{field.name}-END" for field in table.fields}
        tables[name] = (record(name, raw=raw, **values),)
    message = f"Pressed by {planted_text('operatives', 'name')}, certificate {planted_text('tests', 'certificate_no')}."
    place = SourceLocation("records/RAW-FILE.csv", "", 2, "A", "RAW-HEADING")
    subject = Subject("operative", planted_text("operatives", "name"))
    sections = (ids["sections"],)
    finding = Finding(RULE, Answer.FAIL, message, f"Ask {subject.id}.", subject, place, section_ids=sections)
    return make_outcome(
        findings=(finding,),
        runs=(CheckRun(RULE, 1, 1, 0, 0),),
        repairs=(Repair(place, "operatives", "name", "RAW-REPAIR", "x", "y"),),
        set_aside=(SetAside(place, "operatives", "z", "RAW-ASIDE"),),
        **tables,
    )


def planted_text(table: str, field: str) -> str:
    """The text planted in a field."""
    return f"PLANTED-{table}-{field}-END"


def planted_value(table: str, field: Field, ids: dict[str, str]) -> Any:
    """A value for the field that can be told from every other."""
    number = int(hashlib.sha256(f"{table}.{field.name}".encode()).hexdigest()[:6], 16) % 8000 + 1000
    if field.reads == "refs":
        return (ids[field.refers_to],)
    if field.refers_to and field.refers_to in ids:
        return ids[field.refers_to]
    if field.enum:
        return field.enum[0]
    if field.type == "integer":
        return 7 if field.maximum is not None and field.maximum < number else number
    if field.type == "number":
        return number + 0.25
    if field.type == "boolean":
        return False
    if field.type == "date":
        return datetime.date(1990, 1, 1) + datetime.timedelta(days=number)
    if field.type == "time":
        return datetime.time(number % 24, number % 60)
    return planted_text(table, field.name)


HOSTILE = (
    '<script>alert(1)</script><img src=x onerror="alert(2)">"\'&amp;',
    "\u202etxet desrever\u202c \u0627\u0644\u0623\u0646\u0628\u0648\u0628 \U0001f6bf\U0001f525",
    "a\x00b\x07c\x1bd\x7fe\x85f\ufffegh",
    "L" * 300,
    "{{ 7 * 7 }}{% raw %} ]]> --> </style></title>",
    "../../etc/passwd",
    "CON",
    "javascript:alert(3)",
)


@pytest.fixture
def hostile_outcome(record: RecordFactory, make_outcome: Callable[..., Outcome], settings: ProjectSettings) -> Outcome:
    """Every text of every table is something that a careless page would choke on, or run."""
    tables: dict[str, tuple[Record, ...]] = {}
    for name, table in contract().items():
        if name == "tags":
            continue
        rows = []
        for index, text in enumerate(HOSTILE):
            values: dict[str, Any] = {}
            for field in table.fields:
                if field.reads == "refs":
                    values[field.name] = (text,)
                elif field.type == "string" and not field.enum:
                    values[field.name] = text
            if name == "joints":
                values["joint_id"] = f"{text}{index}"
            rows.append(record(name, raw={field.name: text for field in table.fields}, **values))
        tables[name] = tuple(rows)
    place = SourceLocation(HOSTILE[0], HOSTILE[1], 2, "A", HOSTILE[2])
    findings = tuple(
        Finding(RULE, Answer.FAIL, text, text, Subject("section", text), place, (place,), text, (text,))
        for text in HOSTILE
    )
    return make_outcome(
        settings=dataclasses.replace(
            settings, name=HOSTILE[0], building=HOSTILE[1], duty=Duty(HOSTILE[0], HOSTILE[7]), client=HOSTILE[2]
        ),
        findings=findings,
        runs=(CheckRun(RULE, 8, 8, 0, 0, HOSTILE[0]),),
        repairs=tuple(Repair(place, text, text, text, text, text) for text in HOSTILE),
        set_aside=tuple(SetAside(place, text, text, text) for text in HOSTILE),
        accounts=tuple(SourceAccount(text, text, text, 1, 1, 0, 1) for text in HOSTILE),
        **tables,
    )


@pytest.fixture
def build_all(tmp_path: Path) -> Callable[[Outcome], Path]:
    """Builds the three editions of an outcome and returns the folder that holds them."""

    def build(outcome: Outcome) -> Path:
        out = tmp_path / "out"
        for edition in Edition:
            build_edition(outcome, edition, out / edition.value)
        return out

    return build


CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"
BROWSER_ARGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--no-first-run",
    "--disable-component-update",
    "--disable-sync",
    "--disable-quic",
)


@pytest.fixture(scope="session")
def browser_driver() -> "Iterator[Playwright]":
    """The one driver of Chromium that a test run may have: a second one in the same process is refused."""
    from playwright.sync_api import sync_playwright  # heavy, and few tests need it

    with sync_playwright() as driver:
        yield driver


@pytest.fixture
def open_page(browser_driver: "Playwright", tmp_path: Path) -> Iterator["Callable[..., Page]"]:
    """Opens an address in Chromium with a fresh profile. Only files and the loopback answer; all else is recorded.

    The page carries its troubles as ``troubles``: console errors, failed requests and requests that left the machine.
    """
    contexts = []

    def visit(address: str, width: int = 360, height: int = 640, scripts: bool = True, dark: bool = False) -> "Page":
        context = browser_driver.chromium.launch_persistent_context(
            tmp_path / f"profile-{len(contexts)}",
            executable_path=CHROMIUM,
            args=list(BROWSER_ARGS),
            viewport={"width": width, "height": height},
            java_script_enabled=scripts,
            color_scheme="dark" if dark else "light",
        )
        contexts.append(context)
        page = context.new_page()
        troubles: list[str] = []
        page.troubles = troubles  # type: ignore[attr-defined]  # carried along for the test

        def gate(route: "Route") -> None:
            url = route.request.url
            if url.startswith(("file:", "data:", "http://127.0.0.1:")):
                route.continue_()
            else:
                troubles.append(f"left the machine: {url}")
                route.abort()

        context.route("**/*", gate)

        def hear(message: "ConsoleMessage") -> None:
            if message.type in ("error", "warning"):
                troubles.append(f"console: {message.text}")

        page.on("console", hear)
        page.on("pageerror", lambda error: troubles.append(f"script: {error}"))
        page.on("requestfailed", lambda request: troubles.append(f"failed: {request.url}"))
        page.on("response", lambda r: troubles.append(f"status {r.status}: {r.url}") if r.status >= 400 else None)
        page.goto(address)
        return page

    yield visit
    for context in contexts:
        context.close()


def pytest_addoption(parser: pytest.Parser) -> None:
    """``pytest tests/site/test_golden.py --rewrite-golden`` writes the golden pages anew."""
    parser.addoption("--rewrite-golden", action="store_true", help="write the golden pages anew")
