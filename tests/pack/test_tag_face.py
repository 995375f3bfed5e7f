"""Faces that cannot be printed are refused before anything is drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields

import pytest

from witnessmark.pack.tag_face import Band, TagFace, UnknownFlowArrow, UnreadableBandColour, UnusableTagCode, typed_code


def test_the_typed_code_is_grouped_and_the_hyphen_is_no_part_of_it() -> None:
    assert typed_code("KM74XR2") == "KM7-4XR2"
    assert typed_code("KM74XR2").replace("-", "") == "KM74XR2"


@pytest.mark.parametrize("code", ["", "../../X", "km74xr2", "KM7 4XR", "A/B", "KM7", "K" * 17, "KM74XR2\n"])
def test_a_code_that_is_no_file_name_is_refused(make_face: Callable[..., TagFace], code: str) -> None:
    with pytest.raises(UnusableTagCode, match="A-Z and 0-9"):
        make_face(code)


@pytest.mark.parametrize("srgb", ["green", "#6A6C3", 'red" onload="x', "#6A6C3C;"])
def test_a_band_colour_must_be_written_as_six_hex_digits(srgb: str) -> None:
    with pytest.raises(UnreadableBandColour, match="#RRGGBB"):
        Band("green", srgb)


def test_an_arrow_that_nobody_can_draw_is_refused(make_face: Callable[..., TagFace]) -> None:
    with pytest.raises(UnknownFlowArrow, match="right, left, up, down, both, none"):
        make_face(flow_arrow="sideways")


def test_a_face_has_no_place_for_a_revision_a_date_or_a_person() -> None:
    names = {field.name for field in fields(TagFace)}
    assert names == {
        "code",
        "address",
        "section_id",
        "section_name",
        "service",
        "flow_words",
        "flow_arrow",
        "band",
        "limits",
        "duty",
        "od_mm",
    }
