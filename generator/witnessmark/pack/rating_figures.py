"""Columns of ``sections.csv`` on what a section may carry, and its working aids, unrounded."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from witnessmark.model.records import Section, TubeLength
from witnessmark.pack.data_table import DataColumn, figure
from witnessmark.workings.aids import SectionAids
from witnessmark.workings.section_rating import RatedState, SectionRating, worst

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome

STATES = (
    ("operating", "at the highest temperature and the maximum operating pressure"),
    ("upset", "at the upset temperature and the maximum design pressure, or the relief setting"),
    ("coldest", "at the lowest temperature and the maximum operating pressure"),
)


def rating_figures(outcome: Outcome) -> tuple[DataColumn, ...]:
    """What the weakest component carries, the pressures at both ends, and the seals."""
    rated = outcome.workings.ratings

    def of(get: Callable[[SectionRating], Any]) -> Callable[[Section], Any]:
        return lambda section: get(rated[section.section_id])

    def state(name: str, get: Callable[[RatedState], Any]) -> Callable[[Section], Any]:
        return of(lambda rating: get(getattr(rating, name)))

    columns: list[DataColumn] = []
    for name, words in STATES:
        title = name.capitalize()
        columns += [
            figure(f"{name}_rating_bar", "number", f"{title}: rating", f"Least rating of its components {words}; empty "
                   "where one is not known.", state(name, lambda s: s.rating_bar.value), "bar"),
            figure(f"{name}_governs", "string", f"{title}: weakest component", "Component with the least rating among "
                   "those known.", state(name, lambda s: s.governs or None)),
            figure(f"{name}_pressure_bar", "number", f"{title}: pressure", f"Gauge pressure {words}, at the lowest "
                   "point.", state(name, lambda s: s.pressure_bar.value), "bar"),
            figure(f"{name}_temperature_c", "number", f"{title}: temperature", f"Temperature {words}.",
                   state(name, lambda s: s.temperature_c.value), "degC"),
            figure(f"{name}_margin_percent", "number", f"{title}: margin", "Share of the rating that is not used.",
                   state(name, lambda s: s.margin_percent.value), "%"),
            figure(f"{name}_outcome", "string", f"{title}: outcome", "pass, fail, or cannot tell.",
                   state(name, lambda s: s.outcome.value)),
            figure(f"{name}_missing", "string", f"{title}: missing", "What is not known where there is no rating.",
                   state(name, lambda s: "; ".join(s.rating_bar.missing) or None)),
        ]  # fmt: skip
    columns += [
        figure("static_head_bar", "number", "Static head", "Pressure of the column between its highest and lowest "
               "point.", of(lambda r: r.static_head_bar.value), "bar"),
        figure("high_point_bar", "number", "Working pressure at the highest point", "Maximum operating pressure less "
               "the static head.", of(lambda r: r.high_point_bar.value), "bar"),
        figure("boiling_bar", "number", "Pressure that keeps it liquid", "Least gauge pressure that keeps plain water "
               "liquid at the upset temperature, or at the highest where none is recorded.",
               of(lambda r: r.boiling_bar.value), "bar"),
        figure("seal_outcome", "string", "Seals: outcome", "Worst answer on its seals, their medium and temperatures.",
               of(lambda r: worst([s.outcome for s in r.seals]).value)),
        figure("seal_answer", "string", "Seals: answer", "Answers on its seals.",
               of(lambda r: " ".join(s.sentence for s in r.seals))),
    ]  # fmt: skip
    return tuple(columns)


def aid_figures(outcome: Outcome) -> tuple[DataColumn, ...]:
    """Working aids of the recorded case."""
    aids = outcome.workings.aids
    values: dict[str, tuple[float | None, ...]] = {}

    def value(position: int) -> Callable[[Section], float | None]:
        def get(section: Section) -> float | None:
            # Columns are written one after the other, and aids are worked out whenever they are asked for.
            if section.section_id not in values:
                values[section.section_id] = _figures(aids[section.section_id])
            return values[section.section_id][position]

        return get

    return (
        figure("drain_time_s", "number", "Time to drain, at least", "Of one straight column through a 13 mm bore, vent "
               "open.", value(0), "s"),
        figure("flush_flow_l_s", "number", "Flow to flush at", "Flow at 2 m/s in the largest pipe.", value(1), "L/s"),
        figure("flush_time_min", "number", "Time to flush", "Time for 20 changes of water at that flow.", value(2),
               "min"),
        figure("leak_1_mm_l_min", "number", "Leak through a hole of 1 mm", "At the maximum operating pressure.",
               value(3), "L/min"),
        figure("leak_3_mm_l_min", "number", "Leak through a hole of 3 mm", "At the maximum operating pressure.",
               value(4), "L/min"),
        figure("leak_5_mm_l_min", "number", "Leak through a hole of 5 mm", "At the maximum operating pressure.",
               value(5), "L/min"),
        figure("empty_mass_kg", "number", "Mass of the empty tube", "Tube alone; fittings, valves, insulation and "
               "brackets are not in it.", value(7), "kg"),
        figure("filled_mass_kg", "number", "Mass of the filled tube", "The same with its content at the lowest "
               "temperature.", value(8), "kg"),
        figure("glycol_l", "number", "Glycol in the filling", "Content times the recorded share; empty where it is "
               "no glycol.", value(6), "l"),
    )  # fmt: skip


def tube_aid_figures(outcome: Outcome) -> tuple[DataColumn, ...]:
    """Aids of a tube size, for ``tubes.csv``."""
    sizes: dict[int, tuple[float | None, float | None, float | None]] = {}
    for section_id in outcome.workings.sections:
        for size in outcome.workings.aids[section_id].sizes if section_id in outcome.workings.aids else ():
            sizes[id(size.working.tube)] = (
                size.expansion_mm.value,
                size.filled_mass_kg_m.value,
                size.flow_at_one_m_s.value,
            )

    def value(position: int) -> Callable[[TubeLength], float | None]:
        return lambda tube: sizes[id(tube)][position] if id(tube) in sizes else None

    return (
        figure("expansion_mm", "number", "Expansion", "Between the lowest and the highest temperature.", value(0),
               "mm"),
        figure("filled_mass_kg_m", "number", "Filled mass per metre", "Bare tube with its content.", value(1), "kg/m"),
        figure("flow_at_1_m_s_l_s", "number", "Flow at 1 m/s", "Bore area times 1 m/s.", value(2), "L/s"),
    )  # fmt: skip


def _figures(aids: SectionAids) -> tuple[float | None, ...]:
    return (
        aids.drain_time_s.value,
        aids.flush_flow_l_s.value,
        aids.flush_time_min.value,
        *(leak.value for _, leak in aids.hole_leaks),
        aids.glycol_l.value,
        aids.empty_mass_kg.value,
        aids.filled_mass_kg.value,
    )
