"""The formula book: every formula with its range, its source, and an example worked out when the book is made."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache

import numpy as np

from witnessmark.engineering import (
    calendar_terms,
    closed_pipe,
    dosing,
    drainage,
    expansion,
    gas_law,
    gauge_fitness,
    head,
    hoop_stress,
    leak_sensitivity,
    procedure,
    rating,
    stored_energy,
    trend,
    tube,
    water,
)
from witnessmark.engineering.inputs import STANDARD_ATMOSPHERE
from witnessmark.engineering.trace import Trace
from witnessmark.model.quantity import Worked
from witnessmark.workings.calculation import Known, calculated, given
from witnessmark.workings.formulas import FORMULAS, Formula

EXAMPLE = "invented example"


@dataclass(frozen=True, slots=True)
class FormulaEntry:
    """One formula with its worked example; the end of a guarantee is a day, so its example is in words."""

    formula: Formula
    example: Worked | None
    example_words: str = ""


Example = tuple[tuple[Known, ...], Callable[..., float]]


def _given(*figures: tuple[float, str, str]) -> tuple[Known, ...]:
    return tuple(given(value, name, unit, EXAMPLE) for value, name, unit in figures)


_D, _T = (54.0, "outside diameter D", "mm"), (1.5, "wall t", "mm")
_BORE = (2042.8, "bore area A", "mm²")


@cache
def _examples() -> dict[str, Example]:
    steel = closed_pipe.Wall(16e-6, closed_pipe.wall_compliance(54, 1.5, 200, 0.30))
    contents = closed_pipe.water_contents(20, 10)

    def line(start: float, end: float, hours: float) -> float:
        return trend.fit(Trace(np.array([0.0, hours * 3600]), np.array([start, end])), resolution=0.0).slope

    return {
        "bore": (_given(_D, _T), tube.bore),
        "tube-content": (_given(_D, _T, (30.0, "length L", "m")), tube.volume),
        "fittings-allowance": (_given((800.0, "content V", "L"), (5.0, "share x", "%")), dosing.dose),
        "empty-mass": (_given(_D, _T, (8000.0, "density of the tube ρw", "kg/m³")), tube.empty_mass_per_metre),
        "filled-mass": (
            _given(_D, _T, (8000.0, "density of the tube ρw", "kg/m³"), (998.2, "density of the content ρ", "kg/m³")),
            tube.filled_mass_per_metre,
        ),
        "hoop-rating": (
            _given((22.0, "outside diameter D", "mm"), (0.9, "wall t", "mm"), (60.0, "allowable stress S", "MPa")),
            hoop_stress.rating,
        ),
        "envelope-rating": (
            _given((95.0, "T1", "°C"), (16.0, "p1", "bar"), (110.0, "T2", "°C"), (10.0, "p2", "bar"),
                   (100.0, "T", "°C")),
            lambda t1, p1, t2, p2, t: rating.rating_at([rating.Point(t1, p1), rating.Point(t2, p2)], t) or 0.0,
        ),
        "section-rating": (
            _given((16.0, "fitting", "bar"), (10.0, "valve", "bar"), (34.0, "tube", "bar")),
            lambda *bars: min(bars),
        ),
        "rating-margin": (
            _given((10.0, "rating pr", "bar"), (6.0, "pressure p", "bar")),
            lambda pr, p: 100 * rating.margin(pr, p),
        ),
        "static-head": (
            _given((40.0, "difference of height Δz", "m"), (998.2, "density ρ", "kg/m³")),
            head.static_head,
        ),
        "pressure-at-height": (
            _given((40.0, "elevation z", "m"), (9.0, "gauge pg", "bar"), (0.0, "elevation of the gauge zg", "m"),
                   (998.2, "density ρ", "kg/m³")),
            head.gauge_at,
        ),
        "boiling-limit": (
            _given((110.0, "temperature T", "°C"), (STANDARD_ATMOSPHERE, "atmosphere pa", "bar")),
            water.least_gauge_pressure,
        ),
        "required-pressure": (
            _given((5.0, "maximum operating pressure", "bar"), (1.5, "factor", "")),
            procedure.required_pressure,
        ),
        "required-hold": (
            _given((120.0, "base", "min"), (600.0, "content V", "L"), (100.0, "V0", "L"), (20.0, "extra", "min")),
            lambda base, litres, free, extra: procedure.required_hold(
                base, volume=litres, free_volume=free, extra_per_100_litres=extra
            ),
        ),
        "hold-by-clock": (
            _given((23 * 60 + 30.0, "start, minutes after midnight", "min"), (24 * 60 + 45.0, "end, next day", "min")),
            lambda start, end: end - start,
        ),
        "gas-correction": (
            _given((0.150, "p1", "bar"), (0.146, "p2", "bar"), (20.0, "start", "°C"), (19.0, "end", "°C"),
                   (1.01325, "pa1", "bar"), (1.01325, "pa2", "bar")),
            lambda p1, p2, t1, t2, a1, a2: gas_law.unexplained_drop(
                p1, p2, t1, t2, start_atmosphere=a1, end_atmosphere=a2
            ),
        ),
        "closed-pipe": (
            _given((20.0, "temperature T", "°C"), (10.0, "absolute pressure p", "bar"), (0.01, "trapped air f", "")),
            lambda t, p, f: closed_pipe.pressure_per_kelvin(contents, steel, temperature=t, pressure=p, air_share=f),
        ),
        "gas-energy": (
            _given((3.0, "gauge pressure", "bar"), (100.0, "content V", "L")),
            lambda bar, litres: stored_energy.of_gas(bar, litres) / 1000,
        ),
        "gauge-share": (
            _given((9.0, "reading p", "bar"), (0.0, "p0", "bar"), (16.0, "p1", "bar")),
            lambda p, p0, p1: 100 * gauge_fitness.share_of_span(p, p0, p1),
        ),
        "gauge-error": (
            _given((1.6, "class", "%"), (0.0, "p0", "bar"), (25.0, "p1", "bar")),
            gauge_fitness.class_error,
        ),
        "smallest-leak-water": (
            _given((500.0, "content V", "L"), (0.1, "Δp", "bar"), (60.0, "hold t", "min"), (0.01, "trapped air f", ""),
                   (10.0, "absolute pressure p", "bar")),
            lambda litres, drop, minutes, air, bar: leak_sensitivity.water_test(
                litres, contents, steel, pressure=bar, air_share=air, visible_drop=drop, hold=minutes, reference_leak=3
            ).smallest_leak,
        ),
        "smallest-leak-gas": (
            _given((100.0, "content V", "L"), (0.001, "Δp", "bar"), (30.0, "hold t", "min"), (1.01325, "pa", "bar")),
            lambda litres, drop, minutes, outside: leak_sensitivity.gas_test(
                litres, atmosphere=outside, visible_drop=drop, hold=minutes, reference_leak=16.7
            ).smallest_leak,
        ),
        "drain-time": (
            _given(_BORE, (30.0, "height h", "m"), (13.0, "bore of the drain", "mm"), (0.6, "Cd", "")),
            drainage.drain_time,
        ),
        "expansion": (
            _given((10.0, "length L", "m"), (17.0, "α", "10⁻⁶/K"), (20.0, "start", "°C"), (60.0, "end", "°C")),
            expansion.change_of_length,
        ),
        "dose": (_given((800.0, "content V", "L"), (1.0, "dose x", "%")), dosing.dose),
        "flow": (_given(_BORE, (1.0, "velocity v", "m/s")), drainage.flow_at_velocity),
        "flush-time": (
            _given((60.0, "content V", "L"), (20.0, "changes n", ""), (4.09, "flow Q", "L/s")),
            lambda litres, changes, flow: drainage.flush_time(litres, changes, flow) / 60,
        ),
        "hole-leak": (
            _given((3.0, "diameter of the hole", "mm"), (3.0, "pressure p", "bar"), (998.2, "density ρ", "kg/m³"),
                   (0.61, "Cd", "")),
            drainage.hole_leak,
        ),
        "support-spacing": (_given((2.7, "row of 54 mm, horizontal", "m")), lambda metres: metres),
        "trace-trend": (
            _given((9.02, "start of the line", "bar"), (8.98, "end of the line", "bar"), (2.0, "hours", "h")), line,
        ),
    }  # fmt: skip


@cache
def formula_book() -> tuple[FormulaEntry, ...]:
    """All entries, in the order of the formulas."""
    entries = []
    for formula in FORMULAS:
        example = _examples().get(formula.id)
        if example is None:
            start = date(2024, 2, 29)
            end = calendar_terms.last_day_of_cover(start, calendar_terms.Term(years=10), first_day_counts=False)
            words = f"Ten years from {start.isoformat()} end with {end.isoformat()}."
            entries.append(FormulaEntry(formula, None, words))
            continue
        entries.append(FormulaEntry(formula, calculated("Example", formula.id, example[0], example[1])))
    return tuple(entries)
