"""Revisions of drawings as records cite them, against the drawings of the pack."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.drawing import drawing_revision_not_as_built
from witnessmark.checks.judgement import Answer
from witnessmark.model.finding import Outcome as Result
from witnessmark.pipeline import Outcome

Make = Callable[..., Outcome]
Record = Callable[..., Any]
DRAWING = "HTG-L02-104"


def asked(outcome: Outcome) -> Answer:
    return drawing_revision_not_as_built.CHECK.run(outcome.project, outcome.workings)


def _section(record: Record, revision: str | None = "C02", **values: Any) -> Any:
    return record(
        "sections", **{"section_id": "S1", "system_id": "H", "drawing": DRAWING, "drawing_revision": revision, **values}
    )


def _drawing(record: Record, revision: str | None = "C02", **values: Any) -> Any:
    return record(
        "documents", **{"document_id": "D1", "title": DRAWING, "kind": "drawing", "revision": revision, **values}
    )


def test_a_project_without_records_is_no_pass(make_outcome: Make) -> None:
    assert asked(make_outcome()) == Answer(0, ())


@pytest.mark.parametrize("cited", ["C02", "c02", "Rev C02", "rev. C02", "Revision C02"])
def test_the_revision_in_the_pack_passes_however_it_is_written(cited: str, record: Record, make_outcome: Make) -> None:
    outcome = make_outcome(sections=(_section(record, cited),), documents=(_drawing(record),))
    assert asked(outcome) == Answer(1, ())


def test_a_drawing_is_found_by_its_document_id_too(record: Record, make_outcome: Make) -> None:
    document = _drawing(record, document_id=DRAWING, title="Level 2, heating")
    assert asked(make_outcome(sections=(_section(record),), documents=(document,))) == Answer(1, ())


def test_a_superseded_revision_is_one_finding_for_all_that_cite_it(record: Record, make_outcome: Make) -> None:
    joints = tuple(
        record("joints", joint_id=f"J{n}", section_id="S1", drawing=DRAWING, drawing_revision="C01") for n in range(14)
    )
    outcome = make_outcome(sections=(_section(record, "C01"),), joints=joints, documents=(_drawing(record),))
    (finding,) = asked(outcome).findings
    assert finding.outcome is Result.FAIL
    assert finding.message == (
        "Section S1 and 14 joints cite drawing HTG-L02-104 at revision C01; the documents table has revision C02."
    )
    assert (finding.subject.id, finding.section_ids, finding.joint_ids) == (DRAWING, ("S1",), ())


def test_a_joint_alone_concerns_that_joint_alone(record: Record, make_outcome: Make) -> None:
    joint = record("joints", joint_id="J1", section_id="S1", drawing=DRAWING, drawing_revision="C01")
    (finding,) = asked(
        make_outcome(sections=(_section(record),), joints=(joint,), documents=(_drawing(record),))
    ).findings
    assert finding.message.startswith("Joint J1 cites drawing")
    assert (finding.section_ids, finding.joint_ids) == (("S1",), ("J1",))


def test_of_two_revisions_in_the_pack_the_later_is_as_built(record: Record, make_outcome: Make) -> None:
    old = _drawing(record, "C01", document_id="D0", date=dt.date(2026, 1, 5))
    new = _drawing(record, "C02", date=dt.date(2026, 3, 5))
    for documents in ((old, new), (new, old)):
        assert asked(make_outcome(sections=(_section(record),), documents=documents)).findings == ()
        (finding,) = asked(make_outcome(sections=(_section(record, "C01"),), documents=documents)).findings
        assert finding.outcome is Result.FAIL


@pytest.mark.parametrize(
    ("cited", "held", "words"),
    [
        (None, "C02", "without a revision; the cell 'Drawing revision' is empty"),
        ("C02", None, "does not say which revision it carries"),
    ],
)
def test_a_revision_that_is_not_recorded_cannot_be_told(
    cited: str | None, held: str | None, words: str, record: Record, make_outcome: Make
) -> None:
    (finding,) = asked(make_outcome(sections=(_section(record, cited),), documents=(_drawing(record, held),))).findings
    assert finding.outcome is Result.CANNOT_TELL
    assert words in finding.message


def test_two_revisions_of_which_nobody_knows_the_later_cannot_be_told(record: Record, make_outcome: Make) -> None:
    documents = (_drawing(record, "C01", document_id="D0"), _drawing(record, "C02", date=dt.date(2026, 3, 5)))
    (finding,) = asked(make_outcome(sections=(_section(record),), documents=documents)).findings
    assert finding.outcome is Result.CANNOT_TELL
    assert "revisions C01 and C02 and not the date of each" in finding.message


def test_a_drawing_that_the_pack_does_not_carry_is_one_finding(record: Record, make_outcome: Make) -> None:
    sections = tuple(_section(record, section_id=f"S{n}", drawing="X-1") for n in (1, 2))
    (finding,) = asked(make_outcome(sections=sections, documents=(_drawing(record),))).findings
    assert finding.outcome is Result.CANNOT_TELL
    assert finding.message == "2 sections from S1 on cite drawing X-1, which is no drawing of the documents table."


def test_a_pack_without_drawings_is_told_once(record: Record, make_outcome: Make) -> None:
    sections = tuple(_section(record, section_id=f"S{n}", drawing=f"X-{n}") for n in range(6))
    photo = record("documents", document_id="X-1", kind="photo", revision="C02")
    (finding,) = asked(make_outcome(sections=sections, documents=(photo,))).findings
    assert (finding.subject.kind, finding.outcome) == ("project", Result.CANNOT_TELL)
    assert "X-0, X-1, X-2, X-3 and 2 more" in finding.message


def test_a_section_that_cites_no_drawing_is_a_gap_of_its_system(record: Record, make_outcome: Make) -> None:
    sections = tuple(record("sections", section_id=f"S{n}", system_id="H") for n in (1, 2, 3))
    joint = record("joints", joint_id="J1", section_id="S3", drawing=DRAWING, drawing_revision="C02")
    (finding,) = asked(make_outcome(sections=sections, joints=(joint,), documents=(_drawing(record),))).findings
    assert (finding.subject.id, finding.section_ids) == ("H", ("S1", "S2"))
    assert "the drawing of the section" in finding.message
