"""How much the tube of a section grows between its lowest and its highest temperature."""

from dataclasses import dataclass

from witnessmark.checks.materials.section_service import low_and_high
from witnessmark.engineering.expansion import change_of_length
from witnessmark.model.project import Project
from witnessmark.model.records import Section, System
from witnessmark.workings.materials import material_figure


@dataclass(frozen=True, slots=True)
class Movement:
    """Change of length, mm, and how it came about: '30 m of copper between 10 and 80 °C moves 35 mm'."""

    mm: float
    words: str


def movement_of(project: Project, section: Section, system: System | None) -> Movement | None:
    """Movement of all tube of a section; ``None`` where a length, a material or a temperature is not recorded."""
    low, high = low_and_high(section, system)
    tubes = project.tubes_of_section.get(section.section_id, [])
    if not tubes or low is None or high is None or high < low:
        return None
    lengths: dict[str, float] = {}
    for tube in tubes:
        if tube.material is None or tube.length_m is None or tube.length_m < 0:
            return None
        lengths[tube.material] = lengths.get(tube.material, 0.0) + tube.length_m
    total = 0.0
    for material, length in lengths.items():
        figure = material_figure(material, "linear_expansion", "highest")
        if figure is None:
            return None
        total += change_of_length(length, figure.value, low, high)
    tube_words = " and ".join(f"{length:.3g} m of {name.replace('_', ' ')}" for name, length in sorted(lengths.items()))
    moves = "moves" if len(lengths) == 1 else "move"
    return Movement(total, f"{tube_words} between {low:g} and {high:g} °C {moves} {total:.0f} mm")
