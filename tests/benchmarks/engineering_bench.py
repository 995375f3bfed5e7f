"""Processor seconds of the bare engineering functions: sections, tests, and a logger trace of 500,000 readings.

    python tests/benchmarks/engineering_bench.py

The last column holds each against sorting a million random numbers in the same run, so that machines compare.
"""

import time
from collections.abc import Callable

import numpy as np

from witnessmark.engineering import (
    closed_pipe,
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
    trace,
    trace_stages,
    trend,
    tube,
    water,
)


def section(number: int) -> None:
    outside, wall, metres, celsius, bar = 28.0, 1.2, 10 + number % 90, 20 + number % 80, 3 + number % 7
    litres = tube.volume(outside, wall, metres)
    tube.empty_mass_per_metre(outside, wall, 8000)
    tube.filled_mass_per_metre(outside, wall, 8000, water.density(celsius, bar))
    ends = {"fitting": rating.checked([(-20, 16), (110, 16)]), "valve": rating.checked([(0, 25), (110, 10)])}
    weakest = rating.weakest(ends, celsius)
    assert weakest.rating is not None
    rating.margin(weakest.rating, bar)
    rating.lowest(ends)
    hoop_stress.rating(outside, wall, 100)
    head.gauge_at(30, bar, 0, 998)
    water.least_gauge_pressure(celsius, 1.013)
    area = tube.bore_area(outside, wall)
    drainage.drain_time(area, 20, 13, 0.6)
    drainage.flush_time(litres, 20, drainage.flow_at_velocity(area, 2))
    expansion.change_of_length(metres, 16, 10, celsius)


def pressure_test(number: int) -> None:
    celsius, bar, litres = 12 + number % 15, 9.0, 50.0 + number % 500
    contents = closed_pipe.water_contents(celsius, bar + 1)
    wall = closed_pipe.Wall(16e-6, closed_pipe.wall_compliance(28, 1.2, 200, 0.3))
    for share in (0.0, 0.01):
        closed_pipe.pressure_per_kelvin(contents, wall, temperature=celsius, pressure=bar + 1, air_share=share)
        closed_pipe.water_pressure_change(celsius, celsius + 0.5, wall, pressure=bar + 1, air_share=share)
        leak_sensitivity.water_test(
            litres,
            contents,
            wall,
            pressure=bar + 1,
            air_share=share,
            visible_drop=0.1,
            hold=60,
            reference_leak=3,
        )
    needed = procedure.Requirement(procedure.required_pressure(6, 1.5, cap=16), 30, 60, 0.2)
    procedure.judge(needed, procedure.Reading(9.1, 9.0, 30, 60, topped_up=False))
    gauge_fitness.judge(9, 0, 16, gauge_fitness.GaugeRules(0.25, 0.75, 0.5), class_percent=1.0)
    gas_law.gauge_after(0.15, 20, 19, start_atmosphere=1.01, end_atmosphere=1.01)
    stored_energy.distance(stored_energy.of_gas(3, litres))


def long_trace() -> None:
    """Six days at one reading a second, out of order: put in order, stages found, hold fitted, thinned."""
    draw = np.random.default_rng(7)
    order = draw.permutation(500_000)
    bars = np.interp(np.arange(500_000.0), [0, 3600, 498_000, 498_300, 500_000], [0, 9.1, 8.9, 0, 0])
    tidied = trace.tidy(order.astype(float), (bars + draw.normal(0, 0.005, 500_000))[order]).trace
    stages = trace_stages.held_stages(tidied)
    trend.fit(trace.between(tidied, stages[0].start, stages[0].end), resolution=0.01)
    trace.decimate(tidied, 360)


def seconds(act: Callable[[], object]) -> float:
    """Lowest processor seconds of three runs."""
    best = float("inf")
    for _ in range(3):
        began = time.process_time()
        act()
        best = min(best, time.process_time() - began)
    return best


def main() -> None:
    """Measure and print."""
    numbers = np.random.default_rng(1).random(1_000_000).tolist()
    unit = seconds(lambda: sorted(numbers))
    print("| what | s | in sorts of a million numbers |\n|---|---|---|")
    jobs: list[tuple[str, Callable[[], object]]] = [
        ("10,000 sections", lambda: [section(number) for number in range(10_000)]),
        ("4,000 tests", lambda: [pressure_test(number) for number in range(4_000)]),
        ("a trace of 500,000 readings", long_trace),
    ]
    for name, act in jobs:
        took = seconds(act)
        print(f"| {name} | {took:.2f} | {took / unit:.1f} |")


if __name__ == "__main__":
    main()
