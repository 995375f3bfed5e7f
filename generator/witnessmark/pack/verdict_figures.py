"""Columns of ``tests.csv`` on what each stage needed, reached, could show, and what its trace shows, unrounded."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from witnessmark.model.records import TestStage
from witnessmark.pack.data_table import DataColumn, figure
from witnessmark.workings.stage_point import QUESTIONS

if TYPE_CHECKING:
    from witnessmark.pipeline import Outcome


def verdict_figures(outcome: Outcome) -> tuple[DataColumn, ...]:
    """Figures and answers of the verdict, one column a question."""
    verdicts, seen, traces = outcome.workings.verdicts, outcome.workings.sensitivities, outcome.workings.traces

    def of(table: dict[Any, Any], get: Callable[[Any], Any]) -> Callable[[TestStage], Any]:
        def value(stage: TestStage) -> Any:
            worked = table.get(stage.source.location)
            return None if worked is None else get(worked)

        return value

    def answer(key: str) -> Callable[[TestStage], Any]:
        def get(verdict: Any) -> str | None:
            point = verdict.answer(key)
            return None if point is None else point.outcome.value

        return of(verdicts, get)

    return (
        figure("verdict", "string", "Verdict", "Worst answer of all questions: pass, fail, or cannot tell.",
               of(verdicts, lambda v: v.outcome.value)),
        figure("verdict_reason", "string", "Verdict: reason", "The verdict in a sentence.",
               of(verdicts, lambda v: v.sentence)),
        figure("procedure_used", "string", "Procedure, used", "Procedure that its sections need by project.yml, or "
               "that the record names.", of(verdicts, lambda v: v.procedure.id if v.procedure else None)),
        figure("needed_pressure_bar", "number", "Required pressure, worked out", "Gauge pressure that this system "
               "needs at the highest point, by the procedure.", of(verdicts, lambda v: v.required_bar.value), "bar"),
        figure("highest_point_bar", "number", "Pressure at the highest point", "Reading at the start, brought to the "
               "highest point.", of(verdicts, lambda v: v.highest_point_bar.value), "bar"),
        figure("lowest_point_bar", "number", "Pressure at the lowest point", "Reading at the start, brought to the "
               "lowest point.", of(verdicts, lambda v: v.lowest_point_bar.value), "bar"),
        figure("weakest_rating_bar", "number", "Weakest rating", "Least known rating of its sections at the "
               "temperature of the test.", of(verdicts, lambda v: v.rating_bar.value), "bar"),
        figure("hold_used_min", "number", "Hold, used", "Hold by the clock where times are recorded, else as typed.",
               of(verdicts, lambda v: v.hold_min.value), "min"),
        figure("needed_hold_min", "number", "Required hold, worked out", "Hold that the procedure asks for.",
               of(verdicts, lambda v: v.required_hold_min.value), "min"),
        figure("stored_energy_kj", "number", "Stored energy", "Energy of a test with gas, by ASME PCC-2; information, "
               "no clearance.", of(verdicts, lambda v: v.stored_energy_kj.value if v.stored_energy_kj else None), "kJ"),
        *(
            figure(f"question_{key}", "string", f"Question: {key.replace('_', ' ')}", question, answer(key))
            for key, question in QUESTIONS.items()
        ),
        figure("smallest_leak_vented_ml_min", "number", "Smallest leak, vented", "Smallest leak that the record could "
               "show with the low share of trapped air.", of(seen, lambda s: s.smallest_leak_vented.value), "mL/min"),
        figure("smallest_leak_with_air_ml_min", "number", "Smallest leak, with air", "The same with the high share; "
               "of a gas at atmospheric pressure.", of(seen, lambda s: s.smallest_leak_with_air.value), "mL/min"),
        figure("could_see_one_joint", "string", "Could it see one unpressed joint", "pass, fail, or cannot tell.",
               of(seen, lambda s: s.outcome.value)),
        figure("trace_start_bar", "number", "Trace: start", "Start of the hold by the curve of the logger.",
               of(traces, lambda t: t.start_bar.value), "bar"),
        figure("trace_end_bar", "number", "Trace: end", "End of the hold by the curve of the logger.",
               of(traces, lambda t: t.end_bar.value), "bar"),
        figure("trace_slope_bar_h", "number", "Trace: slope", "Slope of the hold by the curve.",
               of(traces, lambda t: t.slope_bar_per_h.value), "bar/h"),
        figure("trace_slope_half_width_bar_h", "number", "Trace: range of the slope", "Half of its 95 % range.",
               of(traces, lambda t: t.slope_half_width), "bar/h"),
        figure("trace_drop_bar", "number", "Trace: drop", "Drop over the hold; of a gas with logged temperature, "
               "corrected.", of(traces, lambda t: t.corrected_drop_bar.value), "bar"),
        figure("trace_hold_min", "number", "Trace: hold", "Steady stretch after settling, by the curve.",
               of(traces, lambda t: t.hold.hold_min if t.hold else None), "min"),
        figure("trace_outcome", "string", "Trace: outcome", "Whether the trace shows what the certificate says.",
               of(traces, lambda t: t.outcome.value)),
    )  # fmt: skip
