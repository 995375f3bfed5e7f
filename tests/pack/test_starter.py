"""The starter project must be right as it stands: valid, complete, understood by the reader, the same every time."""

from __future__ import annotations

import dataclasses
import io
import json
import re
import zipfile
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator
from openpyxl import load_workbook

from witnessmark import pipeline
from witnessmark.intake.project_file import read_settings
from witnessmark.intake.rules import RULES as INTAKE_RULES
from witnessmark.model.bundled import shared_path
from witnessmark.model.contract import FILLED_IN, contract
from witnessmark.model.finding import Outcome
from witnessmark.pack.starter import WORKBOOK, StarterExists, StarterNotWritable, write_starter


@pytest.fixture(scope="module")
def starter(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("starter") / "project"
    write_starter(folder)
    return folder


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def schema() -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(shared_path("contract/project.schema.json").read_text(encoding="utf-8"))
    return loaded


class Texts(yaml.SafeLoader):
    """A loader that leaves days as text, which is what the schema asks for."""


Texts.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in resolvers if tag != "tag:yaml.org,2002:timestamp"]
    for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def test_settings_fit_the_schema_that_lies_beside_them(starter: Path) -> None:
    text = (starter / "project.yml").read_text(encoding="utf-8")
    beside = json.loads((starter / "project.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(beside).validate(yaml.load(text, Texts))
    assert text.startswith("# yaml-language-server: $schema=project.schema.json\n")


def test_every_setting_is_there_or_shown_as_an_example(starter: Path) -> None:
    text = (starter / "project.yml").read_text(encoding="utf-8")

    def names(part: dict[str, Any]) -> set[str]:
        found: set[str] = set(part.get("properties", {}))
        for inner in (*part.get("properties", {}).values(), part.get("items"), part.get("additionalProperties")):
            if isinstance(inner, dict):
                found |= names(inner)
        return found

    assert [name for name in sorted(names(schema())) if f"{name}:" not in text] == []


def test_settings_with_every_example_taken_in_are_valid(starter: Path, tmp_path: Path) -> None:
    """Who takes the # of an example away must not be told that the example is wrong."""
    _, *lines = (starter / "project.yml").read_text(encoding="utf-8").splitlines()
    example = re.compile(r"^( *)# ")
    text = "\n".join(example.sub(r"\1", line) if example.match(line) else line for line in lines)
    settings = yaml.load(text, Texts)
    assert set(settings) == set(schema()["properties"])
    Draft202012Validator(schema()).validate(settings)
    (tmp_path / "project.yml").write_text(text, encoding="utf-8")
    assert read_settings(tmp_path).guarantee["copper"].years == 10


def test_it_is_read_with_no_repair_and_only_findings_that_say_what_to_do(starter: Path) -> None:
    outcome = pipeline.run(starter)
    assert outcome.project.repairs == ()
    assert {row.reason for row in outcome.project.set_aside} == {"heading row"}
    findings = outcome.judgement.findings
    assert {finding.outcome for finding in findings} == {Outcome.CANNOT_TELL}
    assert not {finding.rule.slug for finding in findings} & {rule.slug for rule in INTAKE_RULES}
    assert {"guarantee-dates-unknown", "test-procedure-not-declared"} <= {finding.rule.slug for finding in findings}
    assert len(findings) <= 12
    assert not outcome.judgement.breaks_chain


def test_every_table_has_an_example_that_nobody_takes_for_real(starter: Path) -> None:
    records = pipeline.run(starter).project.records
    for name in FILLED_IN:
        rows = records.table(name)
        assert rows, name
        for row in rows:
            texts = [str(value) for value in dataclasses.asdict(row).values()]
            assert any(text.startswith("EX-") for text in texts), (name, texts)


def test_an_elbow_is_shown_as_two_ends(starter: Path) -> None:
    joints = pipeline.run(starter).project.records.joints
    assert [joint.joint_id for joint in joints] == ["EX-LTHW-F-R2-J014-A", "EX-LTHW-F-R2-J014-B"]
    assert {joint.fitting_kind for joint in joints} == {"elbow"}


def test_the_workbook_holds_the_same_records_as_the_csv_files(starter: Path, tmp_path: Path) -> None:
    write_starter(tmp_path)
    for path in (tmp_path / "records").iterdir():
        path.unlink()
    (tmp_path / "records" / "all.xlsx").write_bytes((tmp_path / WORKBOOK).read_bytes())

    def values(folder: Path) -> dict[str, list[dict[str, Any]]]:
        records = pipeline.run(folder).project.records
        return {
            name: [
                {field.name: getattr(row, field.name) for field in contract()[name].fields}
                for row in records.table(name)
            ]
            for name in FILLED_IN
        }  # fmt: skip

    assert values(tmp_path) == values(starter)


def test_the_workbook_lies_where_its_rows_are_not_read_twice(starter: Path) -> None:
    assert list((starter / "records").glob("*.xlsx")) == []
    assert (starter / WORKBOOK).is_file()


def test_sheets_have_headings_units_choices_and_formats(starter: Path) -> None:
    book = load_workbook(starter / WORKBOOK)
    assert book.sheetnames == ["Read me", *FILLED_IN]
    words = " ".join(str(cell.value) for (cell,) in book["Read me"].iter_rows(max_col=1) if cell.value)
    assert "ONE press end" in words
    assert "An empty cell means: not known." in words
    for name in FILLED_IN:
        sheet, fields = book[name], contract()[name].fields
        assert [cell.value for cell in sheet[1]] == [field.title for field in fields]
        units = any(field.unit for field in fields)
        assert sheet.freeze_panes == ("B3" if units else "B2")
        choices = {str(rule.sqref).split(":")[0]: rule.formula1 for rule in sheet.data_validations.dataValidation}
        for cell, field in zip(sheet[3 if units else 2], fields, strict=True):
            wanted = ("yes", "no") if field.type == "boolean" else field.enum
            assert choices.get(cell.coordinate) == (f'"{",".join(wanted)}"' if wanted else None)
            # A spreadsheet program refuses a longer list.
            assert len(choices.get(cell.coordinate) or "") <= 257
            if field.type == "date" and cell.value is not None:
                assert cell.is_date
            if field.unit == "bar":
                assert sheet.cell(2, cell.column).value == "bar"


def test_the_same_bytes_every_time_and_no_clock_in_the_workbook(starter: Path, tmp_path: Path) -> None:
    write_starter(tmp_path)
    assert contents(tmp_path) == contents(starter)
    with zipfile.ZipFile(io.BytesIO((starter / WORKBOOK).read_bytes())) as archive:
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        core = archive.read("docProps/core.xml").decode()
        assert b"<Application>Witnessmark</Application>" in archive.read("docProps/app.xml")
    assert core.count("2000-01-01T00:00:00Z") == 2


@pytest.mark.parametrize("there", ["project.yml", "records/joints.csv", "documents/EXAMPLE.txt", "templates/mine.xlsx"])
def test_nothing_is_written_over(tmp_path: Path, there: str) -> None:
    (tmp_path / there).parent.mkdir(exist_ok=True)
    (tmp_path / there).write_text("mine")
    with pytest.raises(StarterExists, match="writes over nothing"):
        write_starter(tmp_path)
    assert (tmp_path / there).read_text() == "mine"
    assert not (tmp_path / "project.schema.json").exists()


def test_a_file_in_the_place_of_the_folder_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(StarterExists):
        write_starter(tmp_path / "file")
    with pytest.raises(StarterNotWritable, match="cannot be written there"):
        write_starter(tmp_path / "file" / "below")
