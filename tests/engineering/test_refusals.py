"""No function returns a number that looks right for an input that is none."""

import inspect
import pkgutil
from collections.abc import Callable
from importlib import import_module
from math import inf, isfinite, nan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import witnessmark.engineering
from witnessmark.engineering import (
    closed_pipe,
    dosing,
    drainage,
    expansion,
    expansion_vessel,
    gas_law,
    gas_volume,
    gauge_fitness,
    head,
    hoop_stress,
    leak_sensitivity,
    procedure,
    rating,
    stored_energy,
    supports,
    trend,
    tube,
    unit_swap,
    water,
)
from witnessmark.engineering.errors import EngineeringError

CONTENTS, WALL = closed_pipe.Contents(4.6e-5, 2.1e-4), closed_pipe.Wall(16e-6, 1.6e-5)
ENVELOPE = rating.checked([(0, 16), (110, 10)])
GAS = {"start_atmosphere": 1.01, "end_atmosphere": 1.02}

# One valid call of every function that takes numbers: arguments by name.
CALLS: list[tuple[Callable[..., Any], dict[str, Any]]] = [
    (tube.bore, {"outside_diameter": 22, "wall": 0.9}),
    (tube.bore_area, {"outside_diameter": 22, "wall": 0.9}),
    (tube.litres_per_metre, {"outside_diameter": 22, "wall": 0.9}),
    (tube.volume, {"outside_diameter": 22, "wall": 0.9, "length": 10}),
    (tube.length_for_volume, {"outside_diameter": 22, "wall": 0.9, "litres": 10}),
    (tube.empty_mass_per_metre, {"outside_diameter": 22, "wall": 0.9, "wall_density": 8940}),
    (
        tube.filled_mass_per_metre,
        {"outside_diameter": 22, "wall": 0.9, "wall_density": 8940, "medium_density": 998},
    ),
    (water.density, {"temperature": 20, "pressure": 5}),
    (water.compressibility, {"temperature": 20, "pressure": 5}),
    (water.volumetric_expansion, {"temperature": 20, "pressure": 5}),
    (water.volume_growth, {"start": 10, "end": 60, "pressure": 3}),
    (water.saturation_pressure, {"temperature": 60}),
    (water.boiling_temperature, {"pressure": 2}),
    (water.least_gauge_pressure, {"temperature": 105, "atmosphere": 1.01}),
    (
        expansion.change_of_length,
        {"length": 10, "linear_expansion": 16.6, "start_temperature": 10, "end_temperature": 60},
    ),
    (expansion.leg_length, {"outside_diameter": 28, "movement": 10, "leg_constant": 61}),
    (hoop_stress.rating, {"outside_diameter": 22, "wall": 0.9, "allowable_stress": 60}),
    (hoop_stress.stress, {"outside_diameter": 22, "wall": 0.9, "gauge": 10}),
    (head.static_head, {"height": 10, "density": 998}),
    (head.gauge_at, {"elevation": 10, "gauge": 9, "gauge_elevation": 0, "density": 998}),
    (head.metres_per_bar, {"density": 998}),
    (
        closed_pipe.wall_compliance,
        {"outside_diameter": 28, "wall": 1.2, "elastic_modulus": 200, "poisson_ratio": 0.3},
    ),
    (closed_pipe.water_contents, {"temperature": 20, "pressure": 5}),
    (
        closed_pipe.pressure_per_kelvin,
        {"contents": CONTENTS, "wall": WALL, "temperature": 20, "pressure": 5, "air_share": 0.01},
    ),
    (closed_pipe.softness, {"contents": CONTENTS, "wall": WALL, "pressure": 5, "air_share": 0.01}),
    (closed_pipe.litres_per_bar, {"volume": 100, "contents": CONTENTS, "wall": WALL, "pressure": 5, "air_share": 0.01}),
    (
        closed_pipe.water_pressure_change,
        {"start_temperature": 20, "end_temperature": 22, "wall": WALL, "pressure": 5, "air_share": 0.01},
    ),
    (closed_pipe.litres_taken_by_air, {"air": 1, "start_pressure": 1, "end_pressure": 11}),
    (gas_law.gauge_after, {"start_gauge": 0.15, "start_temperature": 20, "end_temperature": 19, **GAS}),
    (
        gas_law.unexplained_drop,
        {"start_gauge": 0.15, "end_gauge": 0.14, "start_temperature": 20, "end_temperature": 19, **GAS},
    ),
    (expansion_vessel.expanded_litres, {"volume": 500, "cold_temperature": 10, "hot_temperature": 80, "pressure": 3}),
    (expansion_vessel.vessel_volume, {"gain": 20, "cold_gauge": 1, "hot_gauge": 2.5, "atmosphere": 1.013}),
    (gas_volume.installation_volume, {"pipe": 1.26, "fittings_share": 0.1, "meter": 8}),
    (gas_volume.purge_volume, {"installation": 9.4, "factor": 1.5}),
    (gas_law.leak_rate, {"volume": 100, "drop": 0.001, "minutes": 120, "atmosphere": 1.01}),
    (gas_law.pressure_per_kelvin, {"gauge": 0.15, "temperature": 20, "atmosphere": 1.01}),
    (stored_energy.of_water, {"gauge": 9, "volume": 100, "compressibility": 4.6e-5, "wall_compliance": 1e-5}),
    (stored_energy.of_gas, {"gauge": 3, "volume": 100}),
    (stored_energy.of_gas_by_brode, {"gauge": 3, "volume": 100}),
    (stored_energy.tnt_equivalent, {"energy": 1000}),
    (stored_energy.distance_by_formula, {"energy": 1000}),
    (stored_energy.distance, {"energy": 1000}),
    (leak_sensitivity.smallest_visible_drop, {"resolution": 0.1, "allowed_drop": 0.2}),
    (
        leak_sensitivity.water_test,
        {
            "volume": 500,
            "contents": CONTENTS,
            "wall": WALL,
            "pressure": 10,
            "air_share": 0.01,
            "visible_drop": 0.1,
            "hold": 60,
            "reference_leak": 3,
        },
    ),
    (
        leak_sensitivity.highest_air_share,
        {
            "volume": 500,
            "contents": CONTENTS,
            "wall": WALL,
            "pressure": 10,
            "visible_drop": 0.1,
            "hold": 60,
            "reference_leak": 3,
        },
    ),
    (
        leak_sensitivity.gas_test,
        {"volume": 100, "atmosphere": 1.01, "visible_drop": 0.001, "hold": 120, "reference_leak": 3},
    ),
    (drainage.drain_time, {"bore_area": 2042, "height": 30, "drain_bore": 13, "discharge_coefficient": 0.6}),
    (drainage.hole_leak, {"hole_diameter": 3, "gauge": 3, "density": 998, "discharge_coefficient": 0.61}),
    (drainage.flow_at_velocity, {"bore_area": 2042, "velocity": 2}),
    (drainage.velocity_at_flow, {"bore_area": 2042, "flow": 4}),
    (drainage.flush_time, {"volume": 100, "changes": 20, "flow": 2}),
    (drainage.flush_volume, {"volume": 100, "changes": 20}),
    (dosing.dose, {"volume": 100, "dose_percent": 1}),
    (dosing.top_up, {"volume": 100, "now": 10, "target": 20, "product": 90}),
    (dosing.concentration_after, {"volume": 100, "now": 10, "product": 90, "added": 12}),
    (dosing.glycol_by_volume, {"volume": 100, "percent_by_volume": 30}),
    (dosing.glycol_by_mass, {"volume": 100, "percent_by_mass": 30, "specific_gravity": 1.11}),
    (dosing.percent_by_mass, {"percent_by_volume": 30, "specific_gravity": 1.11}),
    (gauge_fitness.span, {"range_min": 0, "range_max": 16}),
    (gauge_fitness.share_of_span, {"pressure": 9, "range_min": 0, "range_max": 16}),
    (gauge_fitness.class_error, {"class_percent": 1.6, "range_min": 0, "range_max": 16}),
    (
        gauge_fitness.judge,
        {
            "pressure": 9,
            "range_min": 0,
            "range_max": 16,
            "rules": gauge_fitness.GaugeRules(0.25, 0.75, 0.5),
            "class_percent": 1.6,
            "resolution": 0.1,
            "smallest_drop": 0.2,
        },
    ),
    (supports.row_for, {"rows": (), "basis": "uk", "material": "copper", "size": 22}),
    (supports.is_within, {"actual": 1.8, "row": supports.SupportRow("uk", "copper", 22, 1.8, 2.4), "vertical": False}),
    (supports.count_for, {"length": 10, "spacing": 1.8}),
    (rating.rating_at, {"envelope": ENVELOPE, "temperature": 20}),
    (rating.weakest, {"components": {"valve": ENVELOPE}, "temperature": 20}),
    (rating.margin, {"rating": 16, "pressure": 9}),
    (procedure.required_pressure, {"basis_pressure": 6, "factor": 1.5, "cap": 16.0, "least": 3.0}),
    (procedure.is_capped, {"basis_pressure": 6, "factor": 1.5, "cap": 16}),
    (procedure.required_hold, {"base": 60, "volume": 200, "free_volume": 100, "extra_per_100_litres": 20}),
    (
        procedure.zero_drop_is_implausible,
        {"drop": 0.0, "temperature_change": 3, "least_bar_per_kelvin": 0.3, "resolution": 0.1},
    ),
    (unit_swap.units_that_fit, {"value": 130.5, "lowest": 5, "highest": 12}),
]
CASES = [
    (function, arguments, name)
    for function, arguments in CALLS
    for name, value in arguments.items()
    if isinstance(value, int | float) and not isinstance(value, bool)
]
# Checked in their own tests: they take arrays, dates, text, or records of many fields.
ELSEWHERE = {
    "trace", "trace_stages", "trend", "calendar_terms", "check_character", "errors", "inputs",
    "rating.checked", "rating.lowest", "procedure.judge", "acceptance_sampling",
}  # fmt: skip


def identify(case: tuple[Callable[..., Any], dict[str, Any], str]) -> str:
    return f"{case[0].__module__.rsplit('.', 1)[-1]}.{case[0].__name__}-{case[2]}"


@pytest.mark.parametrize(("function", "arguments"), CALLS, ids=lambda value: getattr(value, "__name__", ""))
def test_the_valid_call_is_valid(function: Callable[..., Any], arguments: dict[str, Any]) -> None:
    found = function(**arguments)
    assert not isinstance(found, float) or isfinite(found)


@pytest.mark.parametrize("case", CASES, ids=identify)
def test_what_no_building_can_hold_is_refused_with_a_sentence(
    case: tuple[Callable[..., Any], dict[str, Any], str],
) -> None:
    function, arguments, name = case
    for bad in (nan, inf, -inf, 1e308, -1e308, 10**400):
        with pytest.raises(EngineeringError, match=r"^[A-Z].*\.$"):
            function(**{**arguments, name: bad})


@pytest.mark.parametrize("call", CALLS, ids=lambda call: call[0].__name__)
@settings(max_examples=25)
@given(data=st.data())
def test_any_number_gives_a_finite_answer_or_a_refusal(
    call: tuple[Callable[..., Any], dict[str, Any]], data: st.DataObject
) -> None:
    function, arguments = call
    name = data.draw(st.sampled_from([name for other, _, name in CASES if other is function]))
    try:
        found = function(**{**arguments, name: data.draw(st.floats())})
    except EngineeringError:
        return
    figures = found if isinstance(found, tuple) else (found,)
    assert all(isfinite(figure) for figure in figures if isinstance(figure, float))


def test_every_function_of_the_package_is_tried_here_or_named_elsewhere() -> None:
    tried = {f"{function.__module__.rsplit('.', 1)[-1]}.{function.__name__}" for function, _ in CALLS}
    for module in pkgutil.iter_modules(witnessmark.engineering.__path__):
        loaded = import_module(f"witnessmark.engineering.{module.name}")
        for name, function in inspect.getmembers(loaded, inspect.isfunction):
            full = f"{module.name}.{name}"
            if function.__module__ != loaded.__name__ or name.startswith("_") or module.name in ELSEWHERE:
                continue
            assert full in tried or full in ELSEWHERE, f"{full} is not tried with bad input"


def test_a_slope_with_a_nonsense_resolution_is_refused() -> None:
    trace = import_module("witnessmark.engineering.trace").Trace([0.0, 1.0], [9.0, 9.0])
    with pytest.raises(EngineeringError):
        trend.fit(trace, resolution=nan)


def test_engineering_imports_nothing_of_the_project_but_itself() -> None:
    for module in pkgutil.iter_modules(witnessmark.engineering.__path__):
        source = inspect.getsource(import_module(f"witnessmark.engineering.{module.name}"))
        for line in source.splitlines():
            if line.startswith(("from witnessmark", "import witnessmark")):
                assert line.startswith("from witnessmark.engineering"), (module.name, line)
