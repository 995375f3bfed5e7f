"""A tag says what the records say, rounds no limit up, names nobody, and leads to a page that exists."""

from __future__ import annotations

import csv
import dataclasses
import datetime
from pathlib import Path
from typing import Any

import pytest

from witnessmark.checks.judgement import collect
from witnessmark.model.contract import Edition
from witnessmark.model.project import Project, Records
from witnessmark.model.records import RECORD_CLASSES
from witnessmark.model.settings import Duty, Issue, ProjectSettings, SheetSettings, TagSettings
from witnessmark.model.source import RowSource, SourceTable
from witnessmark.pack.tag_address import tag_address
from witnessmark.pack.tag_face import TagFace
from witnessmark.pack.tags_output import UnusableTags, tag_faces, write_tags
from witnessmark.pages.address import section_address
from witnessmark.pages.context import Context
from witnessmark.pipeline import Outcome
from witnessmark.workings.work import work

TAGS = TagSettings("pipes.quarry-wharf.example")


def record(table: str, **fields: Any) -> Any:
    cls = RECORD_CLASSES[table]
    blank: dict[str, Any] = {f.name: None for f in dataclasses.fields(cls) if f.name != "source"}
    return cls(source=RowSource(SourceTable(f"records/{table}.csv", "", {}, ()), 2, ()), **(blank | fields))


def outcome(tags: TagSettings = TAGS, od_mm: float | None = 22.0, **section: Any) -> Outcome:
    issue = Issue("P02", datetime.date(2026, 6, 1), "For use")
    settings = ProjectSettings("QW", "Quarry Wharf", "Europe/London", issue,
                               tags, duty=Duty("Duty engineer", "01632 960 123"))  # fmt: skip
    system = record("systems", system_id="LTHW", service="heating_flow", max_operating_pressure_bar=3.0,
                    max_temperature_c=80.0)  # fmt: skip
    fields = {"section_id": "S-1", "system_id": "LTHW", "name": "Riser 2", "flow": "up"} | section
    project = Project(Path(), settings, Records(
        systems=(system,), sections=(record("sections", **fields),),
        tubes=(record("tubes", section_id="S-1", od_mm=od_mm),),
    ))  # fmt: skip
    return Outcome(project, work(project), collect((), ()))


def face(**section: Any) -> TagFace:
    (one,) = tag_faces(outcome(**section))
    return one


def printed(folder: Path) -> dict[str, str]:
    with (folder / "tags.csv").open(encoding="utf-8-sig", newline="") as stream:
        (row,) = csv.DictReader(stream)
    return dict(row)


def test_a_face_says_service_flow_limits_and_whom_to_call() -> None:
    tag = face()
    assert (tag.service, tag.flow_words, tag.flow_arrow) == ("Heating flow", "flows up", "up")
    assert (tag.limits, tag.duty) == ("up to 3.0 bar · 80 °C", "01632 960 123")
    # BS 1710:2014, heating: green with blue, crimson, blue in the middle, as shared/reference/services.json cites it.
    assert [block.name for block in tag.band] == ["green", "blue", "crimson", "blue", "green"]


def test_limits_of_the_section_win_and_are_never_rounded_up() -> None:
    assert face(max_operating_pressure_bar=2.75, max_temperature_c=79.6).limits == "up to 2.75 bar · 79.6 °C"


def test_what_is_not_in_the_records_says_so() -> None:
    tag = face(system_id=None, flow=None, name=None)
    assert (tag.limits, tag.service, tag.flow_words, tag.flow_arrow) == ("limits: not in the records", "", "", "none")
    assert tag.band == ()
    assert face(system_id=None, max_temperature_c=60.0).limits == "pressure: no data · 60 °C"


def test_a_sensitive_section_is_not_named_in_public() -> None:
    assert face(sensitive=True).section_name == ""
    assert face(sensitive=False).section_name == "Riser 2"


def test_no_revision_date_or_status_stands_on_a_tag(tmp_path: Path) -> None:
    write_tags(outcome(), tmp_path)
    (svg,) = [path.read_text(encoding="utf-8") for path in tmp_path.glob("*.svg")]
    for word in ("P02", "2026", "For use"):
        assert word not in svg


@pytest.mark.parametrize(("path", "middle"), [("", ""), ("b-2", "B-2/"), ("/estate//b-2/", "ESTATE/B-2/")])
def test_the_address_is_upper_case_and_ends_at_the_page_of_the_section(path: str, middle: str) -> None:
    code = "2346789"
    address = tag_address(TagSettings("pipes.example", path), code)
    assert address == f"HTTPS://PIPES.EXAMPLE/{middle}T/{code}/"
    assert section_address(code) == address.removeprefix(f"HTTPS://PIPES.EXAMPLE/{middle}") + "index.html"


def test_every_edition_has_its_page_where_the_tag_points() -> None:
    built = outcome()
    (tag,) = tag_faces(built)
    for edition in Edition:
        (page,) = Context(built, edition).section_addresses.values()
        assert tag.address.endswith("/" + page.removesuffix("index.html"))


@pytest.mark.parametrize(("form", "below", "od_mm", "printed_form"), [
    ("auto", 54.0, 53.9, "flag"), ("auto", 54.0, 54.0, "plate"), ("auto", 20.0, 22.0, "plate"),
    ("auto", 54.0, None, "flag"), ("plate", 54.0, 15.0, "plate"), ("flag", 54.0, 108.0, "flag"),
])  # fmt: skip
def test_thin_pipe_gets_a_flag_unless_the_project_says_otherwise(
    tmp_path: Path, form: str, below: float, od_mm: float | None, printed_form: str
) -> None:
    write_tags(outcome(TagSettings("pipes.example", form=form, flag_below_mm=below), od_mm=od_mm), tmp_path)
    assert printed(tmp_path)["form"] == printed_form


@pytest.mark.parametrize("settings", [
    TagSettings("pipes.example", sheet=SheetSettings(label_width_mm=20, label_height_mm=20)),
    TagSettings("pipes.example", sheet=SheetSettings(columns=9)),
    TagSettings("p" * 4000 + ".example"),
], ids=["label too small", "labels do not fit", "address too long"])  # fmt: skip
def test_settings_that_give_no_readable_tag_are_refused_in_a_sentence(tmp_path: Path, settings: TagSettings) -> None:
    with pytest.raises(UnusableTags, match=r"project\.yml"):
        write_tags(outcome(settings), tmp_path)


@pytest.mark.parametrize("page", ["A3", "A4", "LETTER"])
def test_every_paper_of_the_settings_can_be_printed(tmp_path: Path, page: str) -> None:
    sheet = SheetSettings(page=page, columns=2, rows=4)
    assert write_tags(outcome(TagSettings("pipes.example", sheet=sheet)), tmp_path).labels == 1
