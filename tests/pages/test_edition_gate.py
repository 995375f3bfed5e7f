"""One gate decides what an edition may show."""

import pytest

from witnessmark.model.contract import Edition, contract
from witnessmark.pages.edition_gate import shown


@pytest.mark.parametrize("table", list(contract()))
def test_a_wider_edition_never_shows_what_a_closer_one_hides(table: str) -> None:
    for field in contract()[table].fields:
        tag, facilities, audit = (shown(table, field.name, edition) for edition in Edition)
        assert audit
        assert facilities or not tag
        assert facilities == (field.visibility is not Edition.AUDIT)
        assert tag == (field.visibility is Edition.TAG)


def test_what_the_contract_does_not_declare_is_for_the_auditor_only() -> None:
    for table, field in (("joints", "mood"), ("weather", "rain")):
        assert [shown(table, field, edition) for edition in Edition] == [False, False, True]


@pytest.mark.parametrize(
    ("table", "field"),
    [
        ("operatives", "name"),
        ("operatives", "initials"),
        ("tests", "witness"),
        ("tests", "certificate_no"),
        ("trainings", "certificate_no"),
    ],
)
def test_names_initials_and_certificate_numbers_are_for_the_auditor_only(table: str, field: str) -> None:
    assert not shown(table, field, Edition.FACILITIES)
