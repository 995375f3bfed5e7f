"""Elements of a building model to systems, sections, tube lengths and nodes.

A model says which elements touch; it does not say what is tested and isolated as one. Sections are therefore grouped,
by the project's own pattern or by what touches what, and every one of them says so.
"""

import re
from collections import defaultdict
from typing import Any

from witnessmark.intake.draft import Draft, Ledger, PendingFinding
from witnessmark.intake.errors import UnusableProject
from witnessmark.intake.model_elements import Element, ElementReader
from witnessmark.intake.source_plan import PlannedSheet
from witnessmark.model.contract import contract
from witnessmark.model.source import RowSource, SourceLocation

_SYSTEM = {"system_id": "system", "name": "system"}
_SECTION = {"section_id": "name", "system_id": "system", "level": "storey", "rooms": "space"}
_TUBE = {
    "section_id": "name",
    "material": "material",
    "od_mm": "outer_diameter",
    "wall_mm": "material",
    "length_m": "length",
}
_NODE = {
    "node_id": "id",
    "kind": "class",
    "system_id": "system",
    "name": "name",
    "level": "storey",
    "location": "space",
}


class _Builder:
    """Rows of one derived table."""

    def __init__(self, table: str) -> None:
        self.draft = Draft(table, columns={field.name: [] for field in contract()[table].fields})

    def add(self, source: RowSource, **values: Any) -> None:
        """Append a row; what is not given is not known."""
        self.draft.sources.append(source)
        for name, column in self.draft.columns.items():
            column.append(values.get(name))


def read_model_elements(planned: PlannedSheet, ledger: Ledger) -> list[Draft]:
    """Drafts of systems, sections, tubes and nodes from one list of elements."""
    reader = ElementReader(planned, ledger)
    elements = reader.read()
    options = planned.settings.options
    systems, system_ids = _systems(reader, elements, options)
    sections, tubes = _Builder("sections"), _Builder("tubes")
    section_table, tube_table = reader.table(_SECTION), reader.table(_TUBE)
    groups = _groups(elements, options)
    for section_id, (members, how) in sorted(_named(groups, system_ids).items()):
        first = members[0]
        segments = [element for element in members if element.kind == "segment"]
        levels = list(dict.fromkeys(e.storey for e in members if e.storey))
        sections.add(
            reader.source(section_table, first),
            section_id=section_id,
            system_id=system_ids.get(first.system or ""),
            name=_section_name(first, levels),
            level=", ".join(levels) or None,
            rooms=", ".join(dict.fromkeys(e.space for e in members if e.space)) or None,
            status="installed",
            remarks=f"{how}: {_count(members)}. Where it begins and ends is not recorded.",
        )
        for element in segments:
            tubes.add(
                reader.source(tube_table, element),
                section_id=section_id,
                material=element.material,
                od_mm=element.od_mm,
                wall_mm=element.wall_mm,
                length_m=element.length_m,
            )
    nodes = _nodes(reader, elements, system_ids)
    if len(sections.draft):
        ledger.findings.append(
            PendingFinding(
                "sections-inferred",
                f"its {len(sections.draft)} sections were grouped from {len(elements)} elements of a building model; "
                "where each begins and ends, and what is tested and isolated as one, is not recorded",
                "list the sections in a sections table, or give the pattern of the run in the names as section_name",
                SourceLocation(planned.grid.file, planned.grid.sheet or ""),
            )
        )
    return [systems, sections.draft, tubes.draft, nodes]


def _systems(reader: ElementReader, elements: list[Element], options: Any) -> tuple[Draft, dict[str, str]]:
    """The systems draft, and the model's system name to its id."""
    said: dict[str, dict[str, Any]] = {}
    given = options.get("systems")
    if isinstance(given, dict):
        known = {field.name: field for field in contract()["systems"].fields}
        for name, values in given.items():
            said[" ".join(str(name).split())] = _checked(name, values, known)
    builder = _Builder("systems")
    ids: dict[str, str] = {}
    table = reader.table(_SYSTEM)
    for element in elements:
        if element.system is None or element.system in ids:
            continue
        values = {"system_id": element.system, "name": element.system, **said.get(element.system, {})}
        ids[element.system] = values["system_id"]
        if values["system_id"] not in builder.draft.columns["system_id"]:
            builder.add(reader.source(table, element), **values)
    return builder.draft, ids


def _checked(name: object, values: object, known: dict[str, Any]) -> dict[str, Any]:
    where = f"project.yml: options.systems, '{name}'"
    if not isinstance(values, dict):
        raise UnusableProject(f"{where} must list columns of the systems table, such as 'service: heating_flow'.")
    checked: dict[str, Any] = {}
    for key, value in values.items():
        field = known.get(str(key))
        if field is None:
            raise UnusableProject(f"{where} gives '{key}', which is no column of the systems table.")
        if field.enum and str(value) not in field.enum:
            raise UnusableProject(f"{where}: {key} is '{value}'; use one of {', '.join(field.enum)}.")
        if field.type == "number":
            if isinstance(value, bool) or not isinstance(value, (int, float)):
                raise UnusableProject(f"{where}: {key} is '{value}', which is no number in {field.unit or 'figures'}.")
            checked[str(key)] = float(value)
        elif field.type == "boolean":
            checked[str(key)] = value is True or str(value).casefold() == "yes"
        else:
            checked[str(key)] = str(value)
    return checked


def _groups(elements: list[Element], options: Any) -> list[tuple[str, list[Element], str]]:
    """(key for naming, members, how they were grouped); devices are nodes, not members."""
    pattern = options.get("section_name")
    try:
        named = re.compile(str(pattern)) if pattern else None
    except re.error as error:
        raise UnusableProject(
            f"project.yml: options.section_name is no regular expression ({error}); correct it."
        ) from error
    pipework = [element for element in elements if element.kind != "device"]
    by_name: dict[tuple[str, str], list[Element]] = defaultdict(list)
    rest = []
    for element in pipework:
        match = named.search(element.name or "") if named else None
        if match:
            by_name[(element.system or "", match.group(1) if match.groups() else match.group(0))].append(element)
        else:
            rest.append(element)
    groups = [(run, members, "Grouped by the run in the element names") for (_, run), members in by_name.items()]
    loose: dict[tuple[str, str, str], list[Element]] = defaultdict(list)
    for members in _connected(rest):
        if len(members) == 1:
            only = members[0]
            size = f"{only.od_mm:g} mm" if only.od_mm is not None else "size not recorded"
            loose[(only.system or "", only.storey or "storey not recorded", size)].append(only)
        else:
            lead = min(members, key=lambda e: e.id)
            groups.append((lead.name or lead.id, members, "Grouped because the model says that they touch"))
    groups += [
        (f"{storey}, {size}, unconnected", members, "Pieces that the model leaves unconnected, by storey and size")
        for (_, storey, size), members in loose.items()
    ]
    return groups


def _connected(elements: list[Element]) -> list[list[Element]]:
    """Elements of one system that touch, each set in the order of the file."""
    by_id = {element.id: element for element in elements}
    leader = {element.id: element.id for element in elements}

    def find(identity: str) -> str:
        while leader[identity] != identity:
            leader[identity] = leader[leader[identity]]
            identity = leader[identity]
        return identity

    for element in elements:
        for other in element.connected:
            if other in by_id and by_id[other].system == element.system:
                leader[find(element.id)] = find(other)
    sets: dict[str, list[Element]] = defaultdict(list)
    for element in elements:
        sets[find(element.id)].append(element)
    return list(sets.values())


def _named(
    groups: list[tuple[str, list[Element], str]], system_ids: dict[str, str]
) -> dict[str, tuple[list[Element], str]]:
    """Section ids, each once: system and name, with the lowest element id added where two would be the same."""
    wanted: dict[str, int] = defaultdict(int)
    names = []
    for key, members, how in groups:
        system = system_ids.get(members[0].system or "", "no system")
        section_id = f"{system}/{key}"
        wanted[section_id.casefold()] += 1
        names.append((section_id, members, how))
    result: dict[str, tuple[list[Element], str]] = {}
    for section_id, members, how in names:
        unique = section_id
        if wanted[section_id.casefold()] > 1:
            unique = f"{section_id}/{min(element.id for element in members)}"
        result[unique] = (members, how)
    return result


def _section_name(first: Element, levels: list[str]) -> str | None:
    parts = [first.system, ", ".join(levels)]
    return ", ".join(part for part in parts if part) or None


def _count(members: list[Element]) -> str:
    segments = sum(element.kind == "segment" for element in members)
    fittings = len(members) - segments
    return f"{segments} {'pipe' if segments == 1 else 'pipes'}, {fittings} {'fitting' if fittings == 1 else 'fittings'}"


def _nodes(reader: ElementReader, elements: list[Element], system_ids: dict[str, str]) -> Draft:
    builder = _Builder("nodes")
    table = reader.table(_NODE)
    for element in elements:
        if element.kind != "device":
            continue
        builder.add(
            reader.source(table, element),
            node_id=element.id,
            kind=_node_kind(element.words),
            system_id=system_ids.get(element.system or ""),
            name=element.name,
            level=element.storey,
            location=element.space,
        )
    return builder.draft


def _node_kind(words: str) -> str:
    folded = words.casefold()
    for kind, marks in (
        ("valve", ("valve",)),
        ("terminal", ("terminal", "spaceheater", "radiator", "outlet", "sanitary")),
        ("plant", ("boiler", "pump", "chiller", "heatexchanger", "tank", "moving")),
    ):
        if any(mark in folded for mark in marks):
            return kind
    return "other"
