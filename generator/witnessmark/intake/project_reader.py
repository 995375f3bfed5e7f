"""A project folder to a project: settings, every record, every repair, and what could not be read."""

from collections import defaultdict
from collections.abc import Callable
from pathlib import Path
from typing import Any

from witnessmark.intake.document_files import look_at_documents, read_traces
from witnessmark.intake.draft import Draft, Ledger, PendingFinding
from witnessmark.intake.errors import UnusableProject
from witnessmark.intake.grid import column_letter
from witnessmark.intake.joint_ends import expand_fittings
from witnessmark.intake.model_sections import read_model_elements
from witnessmark.intake.project_file import read_settings
from witnessmark.intake.references import keep_one_of_each, recount, resolve
from witnessmark.intake.rules import BY_SLUG, INFORMATION
from witnessmark.intake.source_plan import FileProblem, Plan, plan
from witnessmark.intake.table_reader import TableReader
from witnessmark.model.contract import contract
from witnessmark.model.finding import Finding, Outcome, Subject
from witnessmark.model.project import Project, Records, Repair
from witnessmark.model.records import RECORD_CLASSES, Record
from witnessmark.model.settings import ProjectSettings
from witnessmark.model.source import SourceLocation

SINGULAR = {
    "systems": "system",
    "sections": "section",
    "tubes": "tube length",
    "nodes": "node",
    "joints": "joint",
    "tests": "test",
    "instruments": "instrument",
    "calibrations": "calibration",
    "tools": "tool",
    "tool_services": "tool service",
    "operatives": "operative",
    "trainings": "training",
    "batches": "batch",
    "ratings": "rating",
    "documents": "document",
    "valves": "valve",
    "flushings": "flushing",
    "treatments": "treatment",
    "snags": "snag",
    "concessions": "concession",
    "alterations": "alteration",
    "supports": "support",
    "insulations": "insulation",
    "issued_tags": "issued tag",
    "tags": "tag",
}


def read_project(folder: Path, progress: Callable[[str], None] = lambda _: None) -> Project:
    """Read a project folder.

    Raises ``UnusableProject`` where nothing can be built: no readable ``project.yml``, or no section in the records.
    """
    settings = read_settings(folder)
    ledger = Ledger()
    planned = plan(folder, settings, progress)
    _tell_file_problems(planned.problems, ledger)
    drafts = _drafts(planned, settings, ledger)
    for draft in drafts.values():
        keep_one_of_each(draft, ledger)
    resolve(drafts, ledger)
    expand_fittings(drafts["joints"], ledger)
    look_at_documents(drafts["documents"], folder, ledger)
    traces = read_traces(drafts["documents"], folder, settings, ledger)
    records = _records(drafts)
    if not records.sections:
        raise UnusableProject(_nothing_to_build(folder, planned, ledger))
    return Project(
        folder=folder,
        settings=settings,
        records=records,
        repairs=tuple(ledger.repairs),
        set_aside=tuple(ledger.set_aside),
        accounts=tuple(recount(ledger.accounts, drafts)),
        traces=traces,
        findings=_findings(ledger, drafts),
    )


def _tell_file_problems(problems: tuple[FileProblem, ...], ledger: Ledger) -> None:
    for problem in problems:
        letter = column_letter(problem.column) if problem.column is not None else ""
        location = SourceLocation(problem.file, problem.sheet, problem.row, letter)
        if problem.kind in INFORMATION:
            ledger.repairs.append(Repair(location, "", "", "", "", problem.message))
        else:
            ledger.findings.append(PendingFinding(problem.kind, problem.message, problem.remedy, location))


def _drafts(planned: Plan, settings: ProjectSettings, ledger: Ledger) -> dict[str, Draft]:
    """All rows of all sheets, one draft a table."""
    parts: dict[str, list[Draft]] = defaultdict(list)
    for sheet in planned.sheets:
        if sheet.settings.reader == "model_elements":
            for draft in read_model_elements(sheet, ledger):
                parts[draft.table].append(draft)
        else:
            parts[sheet.settings.table].append(TableReader(sheet, settings, ledger).read())
    return {name: _joined(name, parts[name]) for name in contract()}


def _joined(name: str, parts: list[Draft]) -> Draft:
    joined = Draft(name, columns={field.name: [] for field in contract()[name].fields})
    for part in parts:
        joined.sources.extend(part.sources)
        for field, values in joined.columns.items():
            values.extend(part.columns[field])
    return joined


def _records(drafts: dict[str, Draft]) -> Records:
    tables: dict[str, tuple[Record, ...]] = {}
    for name, draft in drafts.items():
        make: Any = RECORD_CLASSES[name]
        names = [*draft.columns, "source"]
        columns: list[list[Any]] = [*draft.columns.values(), draft.sources]
        if name == "joints":
            names.append("recorded_as_end")
            columns.append(draft.as_end)
        tables[name] = tuple(make(**dict(zip(names, row, strict=True))) for row in zip(*columns, strict=True))
    fields: dict[str, Any] = tables
    return Records(**fields)


def _findings(ledger: Ledger, drafts: dict[str, Draft]) -> tuple[Finding, ...]:
    ids: dict[int, tuple[str, tuple[str, ...]]] = {}
    for name, draft in drafts.items():
        key = contract()[name].key
        for position, source in enumerate(draft.sources):
            record_id = draft.columns[key[0]][position] if key else None
            ids.setdefault(id(source), (record_id or "", _sections(draft, position)))
    made = []
    for pending in ledger.findings:
        rule = BY_SLUG[pending.kind]
        if pending.row is not None:
            record_id, sections = ids.get(id(pending.row), ("", ()))
            subject = Subject(SINGULAR[pending.table], record_id or f"row {pending.row.row} of {pending.location.file}")
        else:
            sections = ()
            subject = Subject(
                "file", pending.location.file + (f" [{pending.location.sheet}]" if pending.location.sheet else "")
            )
        made.append(
            Finding(
                rule,
                Outcome.CANNOT_TELL if pending.cannot_tell else Outcome.FAIL,
                _sentence(pending.message),
                _sentence(pending.remedy or rule.closes),
                subject,
                pending.location,
                pending.related,
                rule.whose,
                sections,
            )
        )
    return tuple(made)


def _sections(draft: Draft, position: int) -> tuple[str, ...]:
    if draft.table == "tests":
        return tuple(draft.columns["section_ids"][position] or ())
    if "section_id" in draft.columns:
        section_id = draft.columns["section_id"][position]
        return (section_id,) if section_id else ()
    return ()


def _sentence(text: str) -> str:
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?", "!")) else ".")


def _nothing_to_build(folder: Path, planned: Plan, ledger: Ledger) -> str:
    breaking = [f for f in ledger.findings if f.kind not in ("unknown-column", "file-not-used")]
    if breaking:
        first = breaking[0]
        more = f" ({len(breaking) - 1} more; this one first.)" if len(breaking) > 1 else ""
        reason = f"{first.location.words}: {_sentence(first.message)} {_sentence(first.remedy or 'see above')}"
        return f"No section could be read, so no pack can be built. {reason}{more}"
    if planned.sheets:
        return f"{folder}: the records hold no section, so no pack can be built; fill in the sections table."
    return f"{folder}: it holds no records; put the tables as CSV or XLSX files into its folder 'records'."
