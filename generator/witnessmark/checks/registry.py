"""All checks, written by hand in the order in which people read them. A test fails when a file is missing here."""

from witnessmark.checks.description import guarantee_dates_unknown, system_not_described
from witnessmark.checks.identity import ids_differ_only_in_case, joint_id_used_twice, tag_code_miswritten
from witnessmark.checks.judgement import Check
from witnessmark.checks.making import (
    check_not_dated,
    checker_unknown,
    depth_mark_not_visible,
    excess_lubricant_left,
    fitting_not_closed,
    insertion_depth_not_marked,
    jaw_unknown,
    joint_not_checked,
    joint_not_marked_complete,
    operative_unknown,
    press_tool_unknown,
    sling_not_lubricated,
    sling_taken_off_between_presses,
    tool_not_isolated,
    tube_not_cut_square,
    tube_not_deburred,
    tube_not_fully_inserted,
)
from witnessmark.checks.rating import pressure_above_rating, seal_not_for_medium
from witnessmark.checks.sizes import joint_size_unknown, tube_content_unknown
from witnessmark.checks.structure import (
    ends_do_not_add_up,
    ends_not_recorded_one_by_one,
    fitting_end_missing,
    joint_without_section,
    section_without_joints,
    section_without_system,
    test_without_section,
)
from witnessmark.checks.testing import (
    certificate_differs_from_trace,
    drop_beyond_tolerance,
    gauge_not_in_calibration,
    gauge_unfit,
    hold_too_short,
    test_could_not_see_one_joint,
    test_pressure_above_rating,
    test_pressure_not_reached,
    test_procedure_not_declared,
    test_readings_missing,
    zero_drop_with_temperature_change,
)
from witnessmark.intake.rules import RULES as INTAKE_RULES
from witnessmark.model.finding import Rule, Severity

CHECKS: tuple[Check, ...] = (
    joint_id_used_twice.CHECK,
    ids_differ_only_in_case.CHECK,
    tag_code_miswritten.CHECK,
    joint_without_section.CHECK,
    section_without_system.CHECK,
    section_without_joints.CHECK,
    test_without_section.CHECK,
    ends_do_not_add_up.CHECK,
    fitting_end_missing.CHECK,
    ends_not_recorded_one_by_one.CHECK,
    joint_size_unknown.CHECK,
    tube_content_unknown.CHECK,
    operative_unknown.CHECK,
    press_tool_unknown.CHECK,
    jaw_unknown.CHECK,
    tube_not_cut_square.CHECK,
    tube_not_deburred.CHECK,
    insertion_depth_not_marked.CHECK,
    tube_not_fully_inserted.CHECK,
    sling_not_lubricated.CHECK,
    tool_not_isolated.CHECK,
    depth_mark_not_visible.CHECK,
    fitting_not_closed.CHECK,
    sling_taken_off_between_presses.CHECK,
    excess_lubricant_left.CHECK,
    joint_not_marked_complete.CHECK,
    joint_not_checked.CHECK,
    checker_unknown.CHECK,
    check_not_dated.CHECK,
    system_not_described.CHECK,
    guarantee_dates_unknown.CHECK,
    pressure_above_rating.CHECK,
    seal_not_for_medium.CHECK,
    test_procedure_not_declared.CHECK,
    test_pressure_not_reached.CHECK,
    test_pressure_above_rating.CHECK,
    test_readings_missing.CHECK,
    hold_too_short.CHECK,
    drop_beyond_tolerance.CHECK,
    zero_drop_with_temperature_change.CHECK,
    test_could_not_see_one_joint.CHECK,
    gauge_not_in_calibration.CHECK,
    gauge_unfit.CHECK,
    certificate_differs_from_trace.CHECK,
)

CRASHED = Rule(
    slug="check-could-not-run",
    question="Did every check run to its end?",
    severity=Severity.BREAKS,
    closes="Report it with the records that bring it about; until then take its question as unanswered.",
    whose="whoever maintains the program",
    what="A check that stopped on an error of its own.",
    why="A question that was not asked has not been answered.",
    example="Check ends-do-not-add-up could not run.",
)

RULES: tuple[Rule, ...] = (*(check.rule for check in CHECKS), *INTAKE_RULES, CRASHED)
"""Every rule that a finding can name: the checks, the faults of reading, and a check that could not run."""
