"""Computed columns of ``systems.csv``: the sums that a system's page shows, unrounded."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from witnessmark.model.quantity import Worked
from witnessmark.pack.data_table import DataColumn, figure
from witnessmark.workings.aids import system_masses

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome


def system_figures(outcome: Outcome) -> tuple[DataColumn, ...]:
    """Columns that stand behind the record columns of ``systems.csv``."""
    worked, sections = outcome.workings.systems, outcome.project.sections_of_system
    aids = outcome.workings.aids

    @cache
    def masses(system_id: str) -> tuple[Worked, Worked]:
        return system_masses(aids[s.section_id] for s in sections.get(system_id, ()) if s.section_id in aids)

    return (
        figure("section_count", "integer", "Sections", "Sections that name the system.",
               lambda s: len(sections.get(s.system_id, ()))),
        figure("length_m", "number", "Length of tube", "Sum over its sections; empty as soon as one is unknown.",
               lambda s: worked[s.system_id].length_m.value, "m"),
        figure("length_m_missing", "string", "Length: missing", "What is not recorded where there is no length.",
               lambda s: "; ".join(worked[s.system_id].length_m.missing) or None),
        figure("content_l", "number", "Water content", "Sum over its sections; empty as soon as one is unknown.",
               lambda s: worked[s.system_id].content_l.value, "l"),
        figure("content_l_missing", "string", "Content: missing", "What is not recorded where there is no content.",
               lambda s: "; ".join(worked[s.system_id].content_l.missing) or None),
        figure("fittings_allowance_l", "number", "Allowance for fittings", "Declared share of the content; not in "
               "content_l.", lambda s: worked[s.system_id].fittings_allowance_l.value, "l"),
        figure("empty_mass_kg", "number", "Mass of the empty tube", "Sum over its sections; empty as soon as one is "
               "unknown.", lambda s: masses(s.system_id)[0].value, "kg"),
        figure("filled_mass_kg", "number", "Mass of the filled tube", "Sum over its sections; empty as soon as one is "
               "unknown.", lambda s: masses(s.system_id)[1].value, "kg"),
    )  # fmt: skip
