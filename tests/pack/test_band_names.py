"""Colour names stand whole on every face: a cut name could be another colour."""

import pytest

from witnessmark.pack.tag_face import Band, TagFace
from witnessmark.pack.tag_layout import Text, draw_tag
from witnessmark.workings.reference import services


@pytest.mark.parametrize("form", ["flag", "plate"])
@pytest.mark.parametrize("key", [key for key, service in services().items() if service.bands])
def test_every_colour_name_of_every_service_fits_its_block(form: str, key: str) -> None:
    service = services()[key]
    band = tuple(Band(colour.name, colour.srgb) for colour in service.bands)
    face = TagFace(
        "F7KX2MR",
        "HTTPS://TAGS.EXAMPLE/T/F7KX2MR/",
        "S1",
        "Riser",
        service.words,
        "flows up",
        "up",
        band,
        "3 bar",
        "1",
        22.0,
    )
    drawing = draw_tag(face, form=form, width=90, height=52)  # type: ignore[arg-type]  # the parameter is a plain string
    words = " ".join(mark.text for mark in drawing.marks if isinstance(mark, Text))
    for colour in service.bands:
        assert all(part in words for part in colour.name.split()), colour.name
    assert "…" not in words
