"""How joints were made: days on the edge, cells that are blank, and what no question is put to.

Methods by size and intervals are common practice without a published source; the distance between fittings is from memory.
"""

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.registry import CHECKS
from witnessmark.model.finding import Finding
from witnessmark.model.project import Project, Records
from witnessmark.model.records import Record
from witnessmark.model.settings import ProjectSettings
from witnessmark.workings.work import work

BY_SLUG = {check.rule.slug: check for check in CHECKS}
MAKING = [check for check in CHECKS if check.run.__module__.startswith("witnessmark.checks.making.")]
DAY = datetime.date(2026, 5, 12)
BEFORE, AFTER = DAY - datetime.timedelta(days=1), DAY + datetime.timedelta(days=1)
Ask = Callable[..., Answer]
Make = Callable[..., Any]


@pytest.fixture
def ask(settings: ProjectSettings, tmp_path: Path) -> Ask:
    """Puts the question of a slug to tables of records."""

    def asked(slug: str, **tables: list[Record]) -> Answer:
        records = Records(**{name: tuple(rows) for name, rows in tables.items()})  # type: ignore[arg-type]  # tables by name
        project = Project(tmp_path, settings, records)
        return BY_SLUG[slug].run(project, work(project))

    return asked


@pytest.fixture
def joint(record: Make) -> Make:
    """A joint of 22 mm copper in section S1, pressed on 12 May 2026."""

    def made(joint_id: str = "J1", **values: Any) -> Record:
        plain = {
            "section_id": "S1",
            "od_mm": 22.0,
            "material_tube": "copper",
            "press_date": DAY,
            "operative_id": "OP-1",
        }
        made_with = {"tool_id": "PT-1", "jaw_id": "JW-1", "system_family": "FAM-C", "status": "made"}
        return record("joints", joint_id=joint_id, **{**plain, **made_with, **values})  # type: ignore[no-any-return]

    return made


@pytest.fixture
def section(record: Make) -> Record:
    """Section S1 of system H, of FAM-C."""
    return record("sections", section_id="S1", system_id="H", system_family="FAM-C")  # type: ignore[no-any-return]


def told(answer: Answer) -> list[tuple[str, str, tuple[str, ...]]]:
    """Outcome, subject and joints of every finding."""
    return [(f.outcome.value, f.subject.id, f.joint_ids) for f in answer.findings]


def only(answer: Answer) -> Finding:
    """The one finding."""
    (finding,) = answer.findings
    return finding


@pytest.mark.parametrize("check", MAKING, ids=lambda check: check.rule.slug)
def test_no_records_give_no_finding_and_no_pass(check: Check, settings: ProjectSettings, tmp_path: Path) -> None:
    project = Project(tmp_path, settings, Records())
    assert check.run(project, work(project)) == Answer(0, ())


@pytest.mark.parametrize("check", MAKING, ids=lambda check: check.rule.slug)
@pytest.mark.parametrize(
    "gone", [{"status": "void"}, {"status": "cut_out"}, {"joint_type": "threaded"}, {"joint_type": "solder"}]
)
def test_nothing_is_asked_of_joints_that_are_not_there_or_not_pressed(
    check: Check, gone: dict[str, str], settings: ProjectSettings, tmp_path: Path, record: Make, section: Any
) -> None:
    joints = (record("joints", joint_id="J1", section_id="S1", od_mm=108.0, **gone),)
    project = Project(tmp_path, settings, Records(sections=(section,), joints=joints))
    assert check.run(project, work(project)).findings == ()


@pytest.mark.parametrize("check", MAKING, ids=lambda check: check.rule.slug)
def test_a_joint_of_which_nothing_is_known_never_passes_by_a_crash(
    check: Check, settings: ProjectSettings, tmp_path: Path, record: Make
) -> None:
    joints = (
        record("joints", joint_id="J1"),
        record("joints", joint_id="J1"),
        record("joints", joint_id="J2", section_id="S9"),
    )
    project = Project(tmp_path, settings, Records(joints=joints))
    assert all(finding.outcome.value == "cannot tell" for finding in check.run(project, work(project)).findings)


@pytest.mark.parametrize("check", MAKING, ids=lambda check: check.rule.slug)
def test_every_rule_says_all_that_its_page_needs(check: Check) -> None:
    rule = check.rule
    assert rule.question.endswith("?")
    assert all((rule.closes, rule.whose, rule.what, rule.why, rule.example, rule.passes))


def test_a_blank_column_is_one_finding_a_system_and_names_the_column(
    ask: Ask, joint: Make, record: Make, section: Any
) -> None:
    chilled = record("sections", section_id="S2", system_id="C")
    joints = [joint(f"J{n}") for n in range(50)] + [joint(f"K{n}", section_id="S2") for n in range(3)]
    answer = ask("insertion-depth-not-marked", sections=[section, chilled], joints=joints)
    assert {(f.subject.kind, f.subject.id, len(f.joint_ids)) for f in answer.findings} == {
        ("system", "H", 50),
        ("system", "C", 3),
    }
    assert all("'Depth marked'" in f.message and "Depth marked" in f.remedy for f in answer.findings)
    assert answer.examined == 53


def test_a_no_is_one_finding_a_section_and_blank_cells_stand_beside_it(ask: Ask, joint: Make, section: Any) -> None:
    joints = [
        joint("J1", depth_marked=False),
        joint("J2", depth_marked=False),
        joint("J3"),
        joint("J4", depth_marked=True),
    ]
    answer = ask("insertion-depth-not-marked", sections=[section], joints=joints)
    assert sorted(told(answer)) == [("cannot tell", "H", ("J3",)), ("fail", "S1", ("J1", "J2"))]


def test_slings_are_asked_about_from_42_mm_only(ask: Ask, joint: Make, section: Any) -> None:
    joints = [joint("J22"), joint("J35", od_mm=35.0), joint("J42", od_mm=42.0), joint("J108", od_mm=108.0)]
    assert only(ask("sling-not-lubricated", sections=[section], joints=joints)).joint_ids == ("J108", "J42")
    assert only(ask("sling-taken-off-between-presses", sections=[section], joints=joints)).joint_ids == ("J108",)
    assert only(ask("second-adapter-missing", sections=[section], joints=joints)).joint_ids == ("J108",)


@pytest.mark.parametrize(
    ("od_mm", "joint_type", "presses", "fails"),
    [(22.0, "press", 1, False), (22.0, "press", 0, True), (108.0, "press", 1, True), (108.0, "press", 2, False),
     (76.1, "press", 1, False), (76.1, "two_stage_press", 1, True), (76.1, "two_stage_press", 2, False)],
)  # fmt: skip
def test_presses_are_counted_against_what_the_size_needs(
    ask: Ask, joint: Make, section: Any, od_mm: float, joint_type: str, presses: int, fails: bool
) -> None:
    joints = [joint(od_mm=od_mm, joint_type=joint_type, press_count=presses)]
    assert bool(told(ask("pressed-too-few-times", sections=[section], joints=joints))) is fails


def test_a_blank_number_of_presses_is_asked_about_only_where_two_are_needed(
    ask: Ask, joint: Make, section: Any
) -> None:
    joints = [joint("J22"), joint("J108", od_mm=108.0)]
    assert told(ask("pressed-too-few-times", sections=[section], joints=joints)) == [("cannot tell", "H", ("J108",))]


def _training(record: Make, **values: Any) -> Any:
    plain = {"operative_id": "OP-1", "system_family": "FAM-C; FAM-S", "max_od_mm": 54.0, "trained_on": BEFORE}
    return record("trainings", **{**plain, **values})


@pytest.mark.parametrize(
    ("training", "outcome", "words"),
    [
        ({}, None, ""),
        ({"trained_on": DAY}, None, ""),
        ({"trained_on": AFTER}, "fail", "only on 13 May 2026; joint J1 was pressed on 12 May 2026"),
        ({"expires_on": DAY}, None, ""),
        ({"expires_on": BEFORE}, "fail", "ended on 11 May 2026"),
        ({"max_od_mm": 22.0}, None, ""),
        ({"max_od_mm": 15.0}, "fail", "up to 15 mm"),
        ({"max_od_mm": None}, "cannot tell", "names no largest size"),
        ({"system_family": "FAM-K"}, "fail", "has no FAM-C for operative OP-1, only FAM-K"),
        ({"system_family": None}, "cannot tell", "names no system family"),
        ({"system_family": None, "expires_on": BEFORE}, "fail", "ended on 11 May 2026"),
        ({"trained_on": None}, "cannot tell", "has no date"),
        ({"operative_id": "OP-2"}, "cannot tell", "no row for operative OP-1"),
    ],
)
def test_a_training_covers_family_size_and_day(
    ask: Ask, joint: Make, record: Make, section: Any, training: dict[str, Any], outcome: str | None, words: str
) -> None:
    answer = ask(
        "operative-not-trained", sections=[section], joints=[joint()], trainings=[_training(record, **training)]
    )
    assert [f.outcome.value for f in answer.findings] == ([outcome] if outcome else [])
    assert all(words in f.message for f in answer.findings)
    assert answer.examined == 1


def test_one_training_that_covers_is_enough_beside_others_that_do_not(ask: Ask, joint: Make, record: Make) -> None:
    trainings = [_training(record, expires_on=BEFORE), _training(record), _training(record, system_family=None)]
    assert ask("operative-not-trained", joints=[joint()], trainings=trainings).findings == ()


def test_a_press_without_a_date_leaves_the_training_open(ask: Ask, joint: Make, record: Make) -> None:
    answer = ask("operative-not-trained", joints=[joint(press_date=None)], trainings=[_training(record)])
    assert only(answer).outcome.value == "cannot tell"
    assert "on a day that the log does not tell" in only(answer).message
    assert "press date" in only(answer).remedy
    tool = ask("tool-out-of-service", joints=[joint(press_date=None)], tool_services=[_service(record)])
    assert "press date" in only(tool).remedy


def test_one_operative_and_family_is_one_finding_with_all_its_joints(ask: Ask, joint: Make, record: Make) -> None:
    joints = [joint(f"J{n}") for n in range(9)] + [joint("K1", system_family="FAM-S")]
    answer = ask("operative-not-trained", joints=joints, trainings=[_training(record, trained_on=AFTER)])
    assert sorted((f.subject.id, len(f.joint_ids)) for f in answer.findings) == [("OP-1", 1), ("OP-1", 9)]


def _service(record: Make, **values: Any) -> Any:
    plain = {"tool_id": "PT-1", "serviced_on": datetime.date(2026, 1, 5), "due_on": DAY, "result": "pass"}
    return record("tool_services", **{**plain, **values})


@pytest.mark.parametrize(
    ("service", "outcome", "words"),
    [
        ({}, None, ""),
        ({"due_on": BEFORE}, "fail", "due again on 11 May 2026; joint J1 was pressed on 12 May 2026"),
        ({"serviced_on": DAY}, None, ""),
        ({"serviced_on": AFTER}, "cannot tell", "first service of press tool PT-1 in the records was on 13 May 2026"),
        ({"due_on": None}, "cannot tell", "when it was due again is not recorded"),
        ({"serviced_on": None}, "cannot tell", "has no date"),
        ({"tool_id": "PT-9"}, "cannot tell", "has no row for PT-1"),
    ],
)
def test_a_tool_is_in_service_until_the_day_it_is_due(
    ask: Ask, joint: Make, record: Make, service: dict[str, Any], outcome: str | None, words: str
) -> None:
    tools = [record("tools", tool_id="PT-1", kind="press_tool")]
    answer = ask("tool-out-of-service", joints=[joint()], tools=tools, tool_services=[_service(record, **service)])
    assert [f.outcome.value for f in answer.findings] == ([outcome] if outcome else [])
    assert all(words in f.message for f in answer.findings)


def test_the_last_service_before_the_press_counts(ask: Ask, joint: Make, record: Make) -> None:
    overdue = _service(record, due_on=BEFORE)
    renewed = _service(record, serviced_on=DAY, due_on=datetime.date(2027, 5, 11))
    for services in ([overdue, renewed], [renewed, overdue]):
        assert ask("tool-out-of-service", joints=[joint()], tool_services=services).findings == ()
    later = _service(record, serviced_on=AFTER, due_on=datetime.date(2027, 5, 11))
    assert only(ask("tool-out-of-service", joints=[joint()], tool_services=[overdue, later])).outcome.value == "fail"


def test_a_jaw_without_a_service_beside_one_that_has_one_cannot_be_told(ask: Ask, joint: Make, record: Make) -> None:
    joints = [joint("J1"), joint("J2", jaw_id="JW-2")]
    answer = ask("jaw-out-of-service", joints=joints, tool_services=[_service(record, tool_id="JW-1")])
    assert told(answer) == [("cannot tell", "JW-2", ("J2",))]


@pytest.mark.parametrize(
    ("result", "outcome"), [("pass", []), ("repaired", []), ("fail", ["fail"]), (None, ["cannot tell"])]
)
def test_a_service_that_was_not_passed_counts_until_the_next(
    ask: Ask, joint: Make, record: Make, result: str | None, outcome: list[str]
) -> None:
    first = _service(record, result=result)
    answer = ask("tool-service-failed", joints=[joint()], tool_services=[first])
    assert [f.outcome.value for f in answer.findings] == outcome
    repaired = _service(record, serviced_on=BEFORE, result="repaired")
    assert ask("tool-service-failed", joints=[joint()], tool_services=[first, repaired]).findings == ()


def test_a_tool_that_failed_its_next_service_puts_the_joints_before_in_doubt(
    ask: Ask, joint: Make, record: Make
) -> None:
    slug = "tool-found-faulty-afterwards"
    failed = _service(record, serviced_on=AFTER, result="fail")
    assert told(ask(slug, joints=[joint()], tool_services=[_service(record), failed])) == [("fail", "PT-1", ("J1",))]
    passed = _service(record, serviced_on=AFTER)
    later = _service(record, serviced_on=AFTER + datetime.timedelta(days=1), result="fail")
    assert ask(slug, joints=[joint()], tool_services=[passed, later]) == Answer(1, ())
    assert ask(slug, joints=[joint()], tool_services=[_service(record, serviced_on=DAY, result="fail")]) == Answer(
        0, ()
    )


def test_the_joints_beyond_the_limit_are_named_in_the_order_in_which_they_were_pressed(
    ask: Ask, joint: Make, record: Make
) -> None:
    days = [DAY, BEFORE, AFTER]
    joints = [joint(f"J{n}", press_date=day, press_count=2 if n == 1 else None) for n, day in enumerate(days)]
    tools = [record("tools", tool_id="PT-1", kind="press_tool", cycle_limit=3)]
    answer = ask("tool-counter-beyond-limit", joints=joints, tools=tools, tool_services=[_service(record)])
    assert told(answer) == [("fail", "PT-1", ("J2",))]
    tools = [record("tools", tool_id="PT-1", kind="press_tool", cycle_limit=4)]
    assert ask("tool-counter-beyond-limit", joints=joints, tools=tools, tool_services=[_service(record)]).findings == ()


def test_the_counter_from_one_service_to_the_next_tells_of_presses_that_no_log_shows(
    ask: Ask, joint: Make, record: Make
) -> None:
    tools = [record("tools", tool_id="PT-1", kind="press_tool", cycle_limit=1000)]
    services = [_service(record, cycle_count=500), _service(record, serviced_on=AFTER, cycle_count=1501)]
    answer = ask("tool-counter-beyond-limit", joints=[joint()], tools=tools, tool_services=services)
    assert "made 1,001 between 5 January 2026 and 13 May 2026 by its counter" in only(answer).message
    services[1] = _service(record, serviced_on=AFTER, cycle_count=1500)
    assert ask("tool-counter-beyond-limit", joints=[joint()], tools=tools, tool_services=services).findings == ()


def test_a_tool_without_a_limit_cannot_be_told(ask: Ask, joint: Make, record: Make) -> None:
    tools = [record("tools", tool_id="PT-1", kind="press_tool")]
    assert only(ask("tool-counter-beyond-limit", joints=[joint()], tools=tools)).outcome.value == "cannot tell"


@pytest.mark.parametrize(
    ("values", "outcome"),
    [
        ({"press_profile": "P1"}, []),
        ({"press_profile": "P2"}, [("fail", "JW-1")]),
        ({"fitting_batch_id": "B1"}, []),
        ({"fitting_batch_id": "B2"}, [("fail", "JW-1")]),
        ({"press_profile": "P1", "fitting_batch_id": "B2"}, [("fail", "JW-1")]),
        ({}, [("cannot tell", "H")]),
    ],
)
def test_a_jaw_has_the_contour_of_joint_and_batch(
    ask: Ask, joint: Make, record: Make, section: Any, values: dict[str, str], outcome: list[tuple[str, str]]
) -> None:
    tools = [record("tools", tool_id="JW-1", kind="jaw", press_profile="P1")]
    batches = [record("batches", batch_id=f"B{n}", item="fitting", press_profile=f"P{n}") for n in (1, 2)]
    answer = ask("jaw-of-another-profile", sections=[section], joints=[joint(**values)], tools=tools, batches=batches)
    assert [(f.outcome.value, f.subject.id) for f in answer.findings] == outcome


@pytest.mark.parametrize(
    ("jaw", "tube", "fails"), [(22.0, 22.0, False), (76.0, 76.1, False), (67.0, 66.7, False), (15.0, 16.0, True)]
)
def test_a_jaw_has_the_size_of_the_tube(
    ask: Ask, joint: Make, record: Make, jaw: float, tube: float, fails: bool
) -> None:
    tools = [record("tools", tool_id="JW-1", kind="jaw", od_mm=jaw)]
    assert bool(ask("jaw-of-another-size", joints=[joint(od_mm=tube)], tools=tools).findings) is fails


def test_a_jaw_that_no_row_gives_a_size_cannot_be_told_once_for_all_jaws(ask: Ask, joint: Make, record: Make) -> None:
    tools = [record("tools", tool_id=f"JW-{n}", kind="jaw") for n in (1, 2, 3)]
    joints = [joint(f"J{n}", jaw_id=f"JW-{n}") for n in (1, 2, 3)]
    assert told(ask("jaw-of-another-size", joints=joints, tools=tools)) == [
        ("cannot tell", "quayside", ("J1", "J2", "J3"))
    ]


@pytest.mark.parametrize(
    ("kind", "od_mm", "outcome"),
    [("jaw", 35.0, []), ("sling", 35.0, []), ("jaw", 42.0, ["fail"]), ("sling", 42.0, []), ("press_tool", 22.0, ["fail"]),
     ("jaw", 133.0, ["cannot tell"]), (None, 22.0, ["cannot tell"])],
)  # fmt: skip
def test_jaws_reach_up_to_35_mm_and_slings_from_42_mm(
    ask: Ask, joint: Make, record: Make, kind: str | None, od_mm: float, outcome: list[str]
) -> None:
    tools = [record("tools", tool_id="JW-1", kind=kind)]
    answer = ask("jaw-where-a-sling-is-needed", joints=[joint(od_mm=od_mm)], tools=tools)
    assert [f.outcome.value for f in answer.findings] == outcome


def test_stainless_and_carbon_steel_may_share_a_sling_of_108_mm_and_copper_may_not(ask: Ask, joint: Make) -> None:
    steels = [
        joint(f"J{n}", od_mm=108.0, material_tube=steel) for n, steel in enumerate(("stainless_steel", "carbon_steel"))
    ]
    assert ask("one-sling-for-copper-and-steel", joints=steels).findings == ()
    assert told(ask("one-sling-for-copper-and-steel", joints=[*steels, joint("K", od_mm=108.0)])) == [
        ("fail", "JW-1", ("J0", "J1", "K"))
    ]


def test_a_family_is_taken_from_the_batch_or_the_section_where_the_row_gives_none(
    ask: Ask, joint: Make, record: Make, section: Any
) -> None:
    batches = [record("batches", batch_id="B1", item="fitting", system_family="FAM-K")]
    bare, of_batch = joint("J1", system_family=None), joint("J2", system_family=None, fitting_batch_id="B1")
    assert ask("joint-of-another-family", sections=[section], joints=[bare, of_batch], batches=batches).findings == ()
    assert told(ask("fitting-of-another-family", sections=[section], joints=[bare, of_batch], batches=batches)) == [
        ("fail", "B1", ("J2",))
    ]
    assert ask("joint-of-another-family", joints=[bare]) == Answer(0, ())


def test_a_tool_is_approved_for_every_family_that_its_cell_lists(ask: Ask, joint: Make, record: Make) -> None:
    tools = [
        record("tools", tool_id="PT-1", kind="press_tool", system_family="FAM-C; FAM-K"),
        record("tools", tool_id="JW-1", kind="jaw", system_family="FAM-K"),
    ]
    assert told(ask("tool-not-for-the-family", joints=[joint()], tools=tools)) == [("fail", "JW-1", ("J1",))]


def test_a_seal_of_the_batch_that_is_not_the_seal_of_the_section_is_told_of_the_section(
    ask: Ask, joint: Make, record: Make
) -> None:
    tables = {
        "sections": [record("sections", section_id="S1", system_id="H", seal="EPDM")],
        "batches": [record("batches", batch_id="B1", item="fitting", seal="FKM")],
    }
    assert told(ask("seals-contradict", joints=[joint(fitting_batch_id="B1")], **tables)) == [("fail", "S1", ("J1",))]
    assert told(ask("seals-contradict", joints=[joint(fitting_batch_id="B1", seal="EPDM")], **tables)) == [
        ("fail", "B1", ("J1",))
    ]
    assert ask("seals-contradict", joints=[joint(seal="EPDM")], **tables).findings == ()


@pytest.mark.parametrize(
    ("description", "stripped", "material", "outcome"),
    [
        ("Tube 22 mm, plastic-coated white", None, "carbon_steel", ["cannot tell"]),
        ("Tube 22 mm, PLASTIC COATED", True, "carbon_steel", []),
        ("Tube 22 mm", None, "carbon_steel", []),
        ("Tube 22 mm", False, "carbon_steel", ["fail"]),
        ("Tube 22 mm, plastic-coated", None, "copper", []),
    ],
)
def test_a_coating_is_asked_about_where_the_tube_batch_names_one(
    ask: Ask, joint: Make, record: Make, description: str, stripped: bool | None, material: str, outcome: list[str]
) -> None:
    batches = [record("batches", batch_id="T1", item="tube", description=description)]
    joints = [joint(tube_batch_id="T1", material_tube=material, coating_stripped=stripped)]
    assert [f.outcome.value for f in ask("coating-not-stripped", joints=joints, batches=batches).findings] == outcome


def test_one_person_who_presses_and_checks_everywhere_is_one_finding_that_says_so(ask: Ask, joint: Make) -> None:
    joints = [joint(f"J{n}", checker_id="OP-1", section_id=f"S{n % 3}") for n in range(30)]
    finding = only(ask("checked-by-the-presser", joints=joints))
    assert (finding.subject.id, len(finding.joint_ids)) == ("OP-1", 30)
    assert "Nobody else checked any joint of this operative." in finding.message


def test_a_check_on_the_day_of_press_cover_up_and_test_is_in_time(ask: Ask, joint: Make, record: Make) -> None:
    tables = {
        "sections": [record("sections", section_id="S1", system_id="H", cover_up_date=DAY, concealed=True)],
        "tests": [
            record(
                "tests",
                test_id="T1",
                section_ids=("S1",),
                joints_left_out=(),
                stage="strength",
                result="pass",
                date=DAY,
            )
        ],
    }
    slugs = ("checked-before-the-press", "checked-after-cover-up", "checked-after-strength-test")
    for slug in slugs:
        assert ask(slug, joints=[joint(check_date=DAY)], **tables) == Answer(1, ())
    assert told(ask(slugs[0], joints=[joint(check_date=BEFORE)], **tables)) == [("fail", "S1", ("J1",))]
    for slug in slugs[1:]:
        assert told(ask(slug, joints=[joint(check_date=AFTER)], **tables)) == [("fail", "S1", ("J1",))]


def test_only_a_passed_strength_test_that_covers_the_joint_counts(ask: Ask, joint: Make, record: Make) -> None:
    def test(name: str, day: datetime.date, **values: Any) -> Any:
        plain = {"section_ids": ("S1",), "joints_left_out": (), "stage": "strength", "result": "pass"}
        return record("tests", test_id=name, date=day, **{**plain, **values})

    later = DAY + datetime.timedelta(days=5)
    joints = [joint(check_date=AFTER)]
    first = test("T1", DAY)
    slug = "checked-after-strength-test"
    assert ask(slug, joints=joints, tests=[first, test("T2", later)]).findings == ()
    for other in ({"result": "fail"}, {"stage": "low_pressure_leak"}, {"joints_left_out": ("J1",)}):
        assert told(ask(slug, joints=joints, tests=[test("T2", later, **other), first])) == [("fail", "S1", ("J1",))]
    assert ask(slug, joints=joints, tests=[test("T1", DAY, result="fail")]) == Answer(0, ())


def test_a_joint_pressed_after_the_test_is_told_by_the_question_on_the_press(
    ask: Ask, joint: Make, record: Make
) -> None:
    test = record(
        "tests", test_id="T1", section_ids=("S1",), joints_left_out=(), stage="strength", result="pass", date=DAY
    )
    slug = "checked-after-strength-test"
    for pressed, found in ((BEFORE, 1), (DAY, 1), (AFTER, 0)):
        assert len(ask(slug, joints=[joint(press_date=pressed, check_date=AFTER)], tests=[test]).findings) == found


def test_a_section_that_is_closed_in_on_no_day_cannot_be_told(ask: Ask, joint: Make, record: Make) -> None:
    closed = record("sections", section_id="S1", system_id="H", concealed=True)
    answer = ask("checked-after-cover-up", sections=[closed], joints=[joint(check_date=DAY)])
    assert told(answer) == [("cannot tell", "H", ("J1",))]
    opened = record("sections", section_id="S1", system_id="H", concealed=False)
    assert ask("checked-after-cover-up", sections=[opened], joints=[joint(check_date=DAY)]).findings == ()


@pytest.mark.parametrize(
    ("remark", "fails"),
    [
        ("Re-pressed after weeping", True),
        ("pressed  again 14/5", True),
        ("leak at test; crimped again", True),
        ("Repressing done by nights", True),
        ("Not re-pressed, cut out and replaced", False),
        ("never pressed again", False),
        ("No leak, re-pressed to be on the sure side", True),
        ("pressed twice with second adapter", False),
        ("checked again", False),
        ("depressed tile above", False),
        ("re-pressurised to 6 bar, repressurised again at noon", False),
    ],
)
def test_remarks_tell_of_a_second_press_unless_they_deny_it(ask: Ask, joint: Make, remark: str, fails: bool) -> None:
    assert bool(ask("pressed-again-as-repair", joints=[joint(remarks=remark)]).findings) is fails


def test_more_presses_than_the_size_needs_are_a_second_press(ask: Ask, joint: Make) -> None:
    slug = "pressed-again-as-repair"
    assert "pressed 2 times by the log, where once is right" in only(ask(slug, joints=[joint(press_count=2)])).message
    assert ask(slug, joints=[joint(press_count=2, od_mm=108.0)]).findings == ()
    assert only(ask(slug, joints=[joint(press_count=3, od_mm=108.0)])).outcome.value == "fail"


def test_a_joint_cut_out_and_replaced_under_a_new_id_is_right(ask: Ask, joint: Make, record: Make) -> None:
    again = record(
        "alterations",
        alteration_id="AL-1",
        kind="pressed_again",
        section_ids=("S1",),
        joint_ids=("J1",),
        into_section_ids=(),
        date=DAY,
    )
    slug = "pressed-again-as-repair"
    assert (
        "pressed again on 12 May 2026 by alteration AL-1"
        in only(ask(slug, joints=[joint()], alterations=[again])).message
    )
    replaced = [joint(status="made"), joint("J1R", replaces_joint="J1", status="reworked")]
    assert ask(slug, joints=replaced, alterations=[again]).findings == ()
    assert ask(slug, joints=[joint(status="cut_out")], alterations=[again]).findings == ()


def test_a_joint_that_replaces_itself_is_not_taken_for_replaced(ask: Ask, joint: Make) -> None:
    joints = [joint(replaces_joint="J1", remarks="re-pressed")]
    assert told(ask("pressed-again-as-repair", joints=joints)) == [("fail", "S1", ("J1",))]


def test_a_second_press_that_names_no_joint_is_told_of_the_alteration(ask: Ask, joint: Make, record: Make) -> None:
    again = record(
        "alterations",
        alteration_id="AL-1",
        kind="pressed_again",
        section_ids=("S1",),
        joint_ids=(),
        into_section_ids=(),
    )
    finding = only(ask("pressed-again-as-repair", joints=[joint()], alterations=[again]))
    assert (finding.subject.id, finding.section_ids) == ("AL-1", ("S1",))


def test_a_reworked_joint_asks_what_was_done(ask: Ask, joint: Make, record: Make) -> None:
    reworked = [joint(status="reworked")]
    assert told(ask("pressed-again-as-repair", joints=reworked)) == [("cannot tell", "S1", ("J1",))]
    cut = record(
        "alterations", alteration_id="AL-1", kind="replaced", section_ids=(), joint_ids=("J1",), into_section_ids=()
    )
    assert ask("pressed-again-as-repair", joints=reworked, alterations=[cut]).findings == ()


@pytest.mark.parametrize(
    ("od_mm", "clear_mm", "fails"), [(22.0, 10.0, False), (22.0, 9.0, True), (54.0, 19.0, True), (108.0, 30.0, False)]
)
def test_tube_between_fittings_is_held_to_the_table(
    ask: Ask, joint: Make, od_mm: float, clear_mm: float, fails: bool
) -> None:
    """Least clear tube 10, 20 and 30 mm: from memory."""
    joints = [joint(od_mm=od_mm, tube_to_next_mm=clear_mm)]
    answer = ask("too-little-tube-between-fittings", joints=joints)
    assert (bool(answer.findings), answer.examined) == (fails, 1)


def test_a_hot_work_permit_is_right_where_something_was_soldered(
    ask: Ask, joint: Make, record: Make, section: Any
) -> None:
    permit = record("documents", document_id="D1", kind="hot_work_permit", about="S1; S7")
    slug = "hot-work-permit-for-pressed-joints"
    assert [f.subject.id for f in ask(slug, sections=[section], joints=[joint()], documents=[permit]).findings] == [
        "D1"
    ]
    soldered = [joint(), joint("J2", joint_type="solder")]
    assert ask(slug, sections=[section], joints=soldered, documents=[permit]).findings == ()
    nameless = record("documents", document_id="D2", kind="hot_work_permit")
    assert only(ask(slug, joints=[joint()], documents=[nameless])).outcome.value == "cannot tell"
    assert ask(slug, joints=[joint()]) == Answer(1, ())
