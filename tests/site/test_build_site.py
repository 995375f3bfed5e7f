"""An edition is a folder of plain files."""

from pathlib import Path

import pytest

from witnessmark.model.contract import Edition
from witnessmark.pipeline import Outcome
from witnessmark.site.build_site import build_edition


@pytest.mark.parametrize("edition", list(Edition))
def test_every_edition_has_a_front_page_and_a_page_at_every_tag_address(
    small_outcome: Outcome, tmp_path: Path, edition: Edition
) -> None:
    build_edition(small_outcome, edition, tmp_path / "out")
    assert (tmp_path / "out" / "index.html").is_file()
    for code in small_outcome.workings.tags.by_section.values():
        assert code in (tmp_path / "out" / "T" / code / "index.html").read_text("utf-8")
