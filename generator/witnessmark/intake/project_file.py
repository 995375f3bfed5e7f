"""``project.yml``: read safely, checked against its JSON Schema, returned as types.

A broken file ends the run, since nothing can be read without it; the sentence names the line.
"""

import datetime
import json
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import yaml
from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError, best_match

from witnessmark.intake.errors import UnusableProject
from witnessmark.intake.testing_settings import read_logger, read_procedure, read_testing, read_tube_stress
from witnessmark.model.bundled import shared_path
from witnessmark.model.contract import contract
from witnessmark.model.settings import (
    GUARANTEE_NEEDS,
    ColumnAnswer,
    Duty,
    GuaranteeTerms,
    Issue,
    Limits,
    ProjectSettings,
    SheetSettings,
    SourceSettings,
    TagSettings,
    WitnessSettings,
)
from witnessmark.model.threshold import thresholds

PROJECT_FILE = "project.yml"
_MAX_BYTES = 2_000_000
_MAX_NODES = 200_000


class _Loader(yaml.SafeLoader):
    """Safe loader that leaves dates as text, refuses keys given twice and alias bombs, and counts nodes."""


# Dates stay text so that one reader decides what a date is, with the same words as for the records.
_Loader.yaml_implicit_resolvers = {
    first: [(tag, regexp) for tag, regexp in resolvers if tag != "tag:yaml.org,2002:timestamp"]
    for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def _compose(text: str) -> yaml.Node | None:
    loader = _Loader(text)
    try:
        node: yaml.Node | None = loader.get_single_node()
    finally:
        loader.dispose()
    return node


def _plain(node: yaml.Node, budget: list[int]) -> Any:
    """The node as plain values. ``budget`` bounds the number of values, aliases expanded."""
    budget[0] -= 1
    if budget[0] < 0:
        raise UnusableProject(
            f"{PROJECT_FILE}: it repeats itself through aliases beyond {_MAX_NODES:,} values; write the values out."
        )
    if isinstance(node, yaml.MappingNode):
        plain: dict[Any, Any] = {}
        for key_node, value_node in node.value:
            key = _plain(key_node, budget)
            if not isinstance(key, (str, int, float, bool)):
                raise UnusableProject(
                    f"{PROJECT_FILE}, line {_line(key_node)}: a key must be one word; write it as text."
                )
            key = key_node.value if isinstance(key_node, yaml.ScalarNode) else key
            if key in plain:
                raise UnusableProject(
                    f"{PROJECT_FILE}, line {_line(key_node)}: '{key}' is given twice; keep one of the two."
                )
            plain[key] = _plain(value_node, budget)
        return plain
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item, budget) for item in node.value]
    constructor = yaml.SafeLoader("")
    try:
        return constructor.construct_object(node)
    except (yaml.YAMLError, ValueError) as error:
        raise UnusableProject(
            f"{PROJECT_FILE}, line {_line(node)}: '{node.value}' cannot be read as a plain value; put it in quotes."
        ) from error


def _line(node: yaml.Node) -> int:
    return int(node.start_mark.line) + 1


def _node_at(root: yaml.Node, path: list[Any]) -> yaml.Node:
    node = root
    for step in path:
        if isinstance(node, yaml.MappingNode):
            found = next((v for k, v in node.value if getattr(k, "value", None) == str(step)), None)
        elif isinstance(node, yaml.SequenceNode) and isinstance(step, int) and step < len(node.value):
            found = node.value[step]
        else:
            found = None
        if found is None:
            return node
        node = found
    return node


@cache
def _validator() -> Draft202012Validator:
    schema = json.loads(shared_path("contract/project.schema.json").read_text(encoding="utf-8"))
    return Draft202012Validator(schema)


def _sentence(error: ValidationError) -> str:
    where = ".".join(str(step) for step in error.absolute_path) or "the file"
    instance: Any = error.instance
    expected: Any = error.validator_value
    schema: Any = error.schema
    if error.validator == "required":
        return f"{where} lacks '{next(name for name in expected if name not in instance)}'; add it"
    if error.validator == "additionalProperties":
        known = list(schema.get("properties", {}))
        extra = next(key for key in instance if key not in known)
        near = get_close_matches(str(extra), known, n=1)
        hint = f"did you mean '{near[0]}'?" if near else f"known here: {', '.join(known)}"
        return f"{where} has an unknown key '{extra}'; {hint}"
    if error.validator == "enum":
        return f"{where} is {instance!r}; use one of {', '.join(map(repr, expected))}"
    if error.validator == "type":
        return f"{where} is {_short(instance)}, which is not of type {expected}; correct it"
    return f"{where} is {_short(instance)}, which does not fit: {schema.get('description', '') or error.message}"


def _short(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _date(text: str, where: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise UnusableProject(
            f"{PROJECT_FILE}: {where} is '{text}', which is no day of the calendar; write it as 2026-05-15."
        ) from None


def _optional_date(raw: Mapping[str, Any], key: str, where: str) -> datetime.date | None:
    return _date(raw[key], f"{where}.{key}") if raw.get(key) else None


def _answer(raw: Mapping[str, Any] | str) -> ColumnAnswer:
    if isinstance(raw, str):
        return ColumnAnswer(heading=raw)
    words = {str(word): _text(value) for word, value in raw.get("words", {}).items()}
    return ColumnAnswer(
        heading=raw.get("heading", ""),
        unit=raw.get("unit", ""),
        date_order=raw.get("date_order", ""),
        decimal=raw.get("decimal", ""),
        blank=raw.get("blank", ""),
        words=words,
        sizes={str(size): float(od) for size, od in raw.get("sizes", {}).items()},
        date_serial=raw.get("date_serial", ""),
        clock=raw.get("clock", ""),
    )


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _source(raw: Mapping[str, Any], number: int) -> SourceSettings:
    reader = raw.get("reader", "table")
    table = raw.get("table", "")
    where = f"{PROJECT_FILE}: records entry {number} ({raw['file']})"
    if reader == "table" and not table:
        raise UnusableProject(f"{where} does not say which table it holds; add 'table:'.")
    if table:
        known = {f.name for f in contract()[table].fields}
        for field in (*raw.get("columns", {}), *raw.get("fixed", {})):
            if field not in known:
                near = get_close_matches(field, known, n=1)
                hint = f"did you mean '{near[0]}'?" if near else f"the table has {', '.join(sorted(known))}"
                raise UnusableProject(f"{where} maps '{field}', which is no column of {table}; {hint}")
    return SourceSettings(
        table=table,
        file=raw["file"],
        sheets=tuple(raw.get("sheets", ())),
        reader=reader,
        header_row=raw.get("header_row"),
        first_row=raw.get("first_row"),
        last_row=raw.get("last_row"),
        encoding=raw.get("encoding", ""),
        delimiter=raw.get("delimiter", ""),
        columns={field: _answer(answer) for field, answer in raw.get("columns", {}).items()},
        fixed={field: _text(value) for field, value in raw.get("fixed", {}).items()},
        ignore=tuple(raw.get("ignore", ())),
        options=raw.get("options", {}),
    )


def _answers(raw: Mapping[str, Any]) -> dict[str, ColumnAnswer]:
    answers = {}
    for key, answer in raw.items():
        table, _, field = key.partition(".")
        if table not in contract() or field not in {f.name for f in contract()[table].fields}:
            raise UnusableProject(
                f"{PROJECT_FILE}: answers names '{key}', which is no column of the contract; write TABLE.FIELD, "
                "for example joints.press_date."
            )
        answers[key] = _answer(answer)
    return answers


def _terms(material: str, raw: Mapping[str, Any]) -> GuaranteeTerms:
    return GuaranteeTerms(
        material=material,
        years=raw["years"],
        basis=raw["basis"],
        guarantor=raw.get("guarantor", ""),
        register_within_days=raw.get("register_within_days"),
        registered_on=_optional_date(raw, "registered_on", f"guarantee.{material}"),
        conditions=tuple(raw.get("conditions", ())),
        needs=tuple(raw.get("needs", GUARANTEE_NEEDS)),
        certificate_type=raw.get("certificate_type", ""),
        registration=raw.get("registration", ""),
    )


def _thresholds(raw: Mapping[str, float]) -> dict[str, float]:
    for name in raw:
        if name not in thresholds():
            near = get_close_matches(name, thresholds(), n=1)
            hint = f"did you mean '{near[0]}'?" if near else f"known are {', '.join(thresholds())}."
            raise UnusableProject(f"{PROJECT_FILE}: thresholds names '{name}', which no check uses; {hint}")
    return dict(raw)


def read_settings(folder: Path) -> ProjectSettings:
    """Read ``project.yml`` of a project folder.

    Raises ``UnusableProject`` for a missing, unreadable or broken file, naming the line where there is one.
    """
    path = folder / PROJECT_FILE
    if not folder.is_dir():
        raise UnusableProject(f"{folder}: there is no such folder; name a folder that holds a {PROJECT_FILE}.")
    if not path.is_file():
        raise UnusableProject(
            f"{folder}: it holds no {PROJECT_FILE}; start one with 'witnessmark init', or name another folder."
        )
    try:
        data = path.read_bytes()
        if len(data) > _MAX_BYTES:
            raise UnusableProject(f"{PROJECT_FILE}: it is larger than 2 MB; keep only settings in it.")
        text = data.decode("utf-8-sig")
    except OSError as error:
        raise UnusableProject(
            f"{PROJECT_FILE}: it cannot be read ({error.strerror}); check its permissions."
        ) from error
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise UnusableProject(f"{PROJECT_FILE}, line {line}: it is not UTF-8 text; save it as UTF-8.") from error
    try:
        root = _compose(text)
    except yaml.reader.ReaderError as error:
        line = text[: error.position].count("\n") + 1 if isinstance(error.position, int) else 1
        raise UnusableProject(
            f"{PROJECT_FILE}, line {line}: it holds a character that YAML does not allow; delete it."
        ) from error
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line_words = f", line {mark.line + 1}" if mark else ""
        raise UnusableProject(
            f"{PROJECT_FILE}{line_words}: {error.problem or error.context}; correct the line or the indent above it."
        ) from error
    except RecursionError as error:
        raise UnusableProject(f"{PROJECT_FILE}: it is nested too deeply to read; flatten it.") from error
    if not isinstance(root, yaml.MappingNode):
        raise UnusableProject(f"{PROJECT_FILE}: it holds no settings; see the one that 'witnessmark init' writes.")
    try:
        raw = _plain(root, [_MAX_NODES])
    except RecursionError as error:
        raise UnusableProject(f"{PROJECT_FILE}: it refers to itself; write the values out.") from error
    _refuse_invalid(raw, root)
    return _settings(raw)


def _refuse_invalid(raw: dict[str, Any], root: yaml.Node) -> None:
    error = best_match(_validator().iter_errors(raw))
    if error is None:
        return
    path = list(error.absolute_path)
    if error.validator == "additionalProperties":
        instance: Any = error.instance
        schema: Any = error.schema
        path.append(next(key for key in instance if key not in schema.get("properties", {})))
    line = _line(_node_at(root, path))
    raise UnusableProject(f"{PROJECT_FILE}, line {line}: {_sentence(error)}.".replace("?.", "?"))


def _settings(raw: dict[str, Any]) -> ProjectSettings:
    project, issue, tags = raw["project"], raw["issue"], raw["tags"]
    try:
        ZoneInfo(project["time_zone"])
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise UnusableProject(
            f"{PROJECT_FILE}: project.time_zone is '{project['time_zone']}', which names no time zone; "
            "write one such as Europe/London."
        ) from error
    limits = raw.get("limits", {})
    return ProjectSettings(
        id=project["id"],
        name=project["name"],
        time_zone=project["time_zone"],
        issue=Issue(
            number=issue["number"],
            date=_date(issue["date"], "issue.date"),
            status=issue.get("status", ""),
            reason=issue.get("reason", ""),
        ),
        tags=TagSettings(
            host=tags["host"],
            path=tags.get("path", "").strip("/"),
            level=tags.get("level", "Q"),
            form=tags.get("form", "auto"),
            flag_below_mm=float(tags.get("flag_below_mm", 54)),
            sheet=SheetSettings(**tags.get("sheet", {})),
        ),
        building=project.get("building", ""),
        address=project.get("address", ""),
        client=project.get("client", ""),
        contractor=project.get("contractor", ""),
        completion_date=_optional_date(project, "completion_date", "project"),
        duty=Duty(**raw.get("duty", {})),
        sources=tuple(_source(entry, number) for number, entry in enumerate(raw.get("records", []), start=1)),
        answers=_answers(raw.get("answers", {})),
        guarantee={material: _terms(material, terms) for material, terms in raw.get("guarantee", {}).items()},
        testing=read_testing(raw.get("testing", {}), raw.get("procedures", {}), PROJECT_FILE),
        procedures={
            name: read_procedure(name, procedure, PROJECT_FILE) for name, procedure in raw.get("procedures", {}).items()
        },
        tube_stress={material: read_tube_stress(stress) for material, stress in raw.get("tube_stress", {}).items()},
        loggers={entry["file"]: read_logger(entry) for entry in raw.get("loggers", [])},
        limits=Limits(
            max_file_mb=limits.get("max_file_mb", 100),
            oldest_date=_optional_date(limits, "oldest_date", "limits") or datetime.date(1990, 1, 1),
            newest_date=_optional_date(limits, "newest_date", "limits"),
        ),
        thresholds=_thresholds(raw.get("thresholds", {})),
        concession_approvers=tuple(raw.get("concession_approvers", ())),
        witness=WitnessSettings(**{key: tuple(value) for key, value in raw.get("witness", {}).items()}),
    )
