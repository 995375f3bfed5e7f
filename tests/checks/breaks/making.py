"""One thing broken in how a joint was made, by whom, with what, and who looked at it."""

import datetime as dt
import random
from collections.abc import Callable

Rows = list[dict[str, str]]
Tables = dict[str, Rows]


def _there(tables: Tables, where: Callable[[dict[str, str]], bool] = lambda _: True) -> Rows:
    """Pressed joints that are in the pipework."""
    gone = {row["replaces_joint"] for row in tables["joints"]}
    return [
        row
        for row in tables["joints"]
        if row["status"] not in ("void", "planned", "cut_out") and row["joint_id"] not in gone and where(row)
    ]


def _joint(
    tables: Tables, rng: random.Random, where: Callable[[dict[str, str]], bool] = lambda _: True
) -> dict[str, str]:
    return rng.choice(_there(tables, where))


def _system(tables: Tables, joint: dict[str, str]) -> str:
    return next(row["system_id"] for row in tables["sections"] if row["section_id"] == joint["section_id"])


def _row(tables: Tables, table: str, field: str, value: str) -> dict[str, str]:
    return next(row for row in tables[table] if row[field] == value)


def _large(joint: dict[str, str]) -> bool:
    return float(joint["od_mm"]) >= 108


def _slung(joint: dict[str, str]) -> bool:
    return float(joint["od_mm"]) >= 42


def _later(day: str, days: int) -> str:
    return (dt.date.fromisoformat(day) + dt.timedelta(days=days)).isoformat()


def _says_no(
    field: str, where: Callable[[dict[str, str]], bool] = lambda _: True
) -> Callable[[Tables, object, random.Random], set[str]]:
    """A 'no' in one cell: told of the section."""

    def break_it(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
        joint = _joint(tables, rng, where)
        joint[field] = "no"
        return {joint["section_id"]}

    return break_it


def _is_blank(
    field: str, where: Callable[[dict[str, str]], bool] = lambda _: True
) -> Callable[[Tables, object, random.Random], set[str]]:
    """An empty cell: told of the system."""

    def break_it(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
        joint = _joint(tables, rng, where)
        joint[field] = ""
        return {_system(tables, joint)}

    return break_it


def _trained_the_day_after(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    joint = _joint(tables, rng)
    operative, family = joint["operative_id"], joint["system_family"]
    first = min(
        j["press_date"] for j in _there(tables) if (j["operative_id"], j["system_family"]) == (operative, family)
    )
    for row in tables["trainings"]:
        if row["operative_id"] == operative and family in row["system_family"].split("; "):
            row["trained_on"] = _later(first, 1)
    return {operative}


def _last_service(tables: Tables, tool: str) -> dict[str, str]:
    """The last service before the tool pressed its first joint."""
    first = min(j["press_date"] for j in _there(tables) if tool in (j["tool_id"], j["jaw_id"]))
    services = (row for row in tables["tool_services"] if row["tool_id"] == tool and row["serviced_on"] <= first)
    return max(services, key=lambda row: row["serviced_on"])


def _due_before_the_press(field: str) -> Callable[[Tables, object, random.Random], set[str]]:
    def break_it(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
        tool = _joint(tables, rng)[field]
        service = _last_service(tables, tool)
        service["due_on"] = _later(service["serviced_on"], 1)
        return {tool}

    return break_it


def _service_not_passed(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    tool = _joint(tables, rng)["tool_id"]
    _last_service(tables, tool)["result"] = "fail"
    return {tool}


def _failed_afterwards(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    tool = _joint(tables, rng)["tool_id"]
    last = max((row for row in tables["tool_services"] if row["tool_id"] == tool), key=lambda row: row["serviced_on"])
    last["result"] = "fail"
    return {tool}


def _more_presses_than_it_may(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    tool = _joint(tables, rng)["tool_id"]
    since = _last_service(tables, tool)["serviced_on"]
    presses = sum(int(j["press_count"]) for j in _there(tables) if j["tool_id"] == tool and j["press_date"] >= since)
    _row(tables, "tools", "tool_id", tool)["cycle_limit"] = str(presses - 1)
    for service in tables["tool_services"]:
        if service["tool_id"] == tool:
            service["cycle_count"] = ""
    return {tool}


def _jaw_changed(
    field: str, value: Callable[[dict[str, str]], str], where: Callable[[dict[str, str]], bool] = lambda _: True
) -> Callable[[Tables, object, random.Random], set[str]]:
    def break_it(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
        joint = _joint(tables, rng, where)
        row = _row(tables, "tools", "tool_id", joint["jaw_id"])
        row[field] = value(joint)
        return {joint["jaw_id"]}

    return break_it


def _one_sling_for_both(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    large = _there(tables, _large)
    shared = [j for j in large if sum(other["jaw_id"] == j["jaw_id"] for other in large) > 1]
    joint = rng.choice(shared)
    joint["material_tube"] = "copper" if joint["material_tube"] != "copper" else "stainless_steel"
    return {joint["jaw_id"]}


def _family_of_its_own(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    joint = _joint(tables, rng)
    joint["system_family"] = "FAM-X"
    return {joint["section_id"]}


def _batch_changed(field: str, value: str) -> Callable[[Tables, object, random.Random], set[str]]:
    def break_it(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
        batch = _joint(tables, rng)["fitting_batch_id"]
        _row(tables, "batches", "batch_id", batch)[field] = value
        return {batch}

    return break_it


def _batch_family_is_blank(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    batch = _joint(tables, rng)["fitting_batch_id"]
    _row(tables, "batches", "batch_id", batch)["system_family"] = ""
    system = {row["section_id"]: row["system_id"] for row in tables["sections"]}
    there = [
        j
        for j in tables["joints"]
        if j["fitting_batch_id"] == batch and j["status"] not in ("void", "planned", "cut_out")
    ]
    return {system[j["section_id"]] for j in there}


def _adapter_is_none(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    adapter = _joint(tables, rng, _large)["adapter_id"]
    _row(tables, "tools", "tool_id", adapter)["kind"] = "sling"
    return {adapter}


def _pressed_once(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    joint = _joint(tables, rng, _large)
    joint["press_count"] = "1"
    return {joint["section_id"]}


def _own_checker(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    joint = _joint(tables, rng)
    joint["checker_id"] = joint["operative_id"]
    return {joint["operative_id"]}


def _checked_the_day_before(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    joint = _joint(tables, rng)
    joint["check_date"] = _later(joint["press_date"], -1)
    return {joint["section_id"]}


def _checked_after_cover_up(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    covered = {row["section_id"]: row["cover_up_date"] for row in tables["sections"] if row["cover_up_date"]}
    joint = _joint(tables, rng, lambda j: j["section_id"] in covered)
    joint["check_date"] = _later(covered[joint["section_id"]], 1)
    return {joint["section_id"]}


def _checked_after_the_test(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    joint = _joint(tables, rng)
    days = [
        test["date"]
        for test in tables["tests"]
        if test["stage"] == "strength"
        and test["result"] == "pass"
        and joint["section_id"] in test["section_ids"].split("; ")
        and joint["joint_id"] not in test.get("joints_left_out", "").split("; ")
    ]
    joint["check_date"] = _later(max(days), 1)
    return {joint["section_id"]}


def _pressed_again(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    joint = _joint(tables, rng)
    joint["remarks"] = rng.choice(("Weeped at the low-pressure test, re-pressed", "Crimped again, dry now"))
    return {joint["section_id"]}


def _too_close(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    joint = _joint(tables, rng)
    joint["tube_to_next_mm"] = "4"
    return {joint["section_id"]}


def _hot_work(tables: Tables, _settings: object, rng: random.Random) -> set[str]:
    joint = _joint(tables, rng)
    paper = next(row for row in tables["documents"] if row["kind"] == "service_record")
    permit = {**paper, "document_id": "DOC-HOT", "file": "hot_work_permit/DOC-HOT.pdf", "title": "Hot work permit 1"}
    permit |= {
        "kind": "hot_work_permit",
        "about": rng.choice((joint["section_id"], joint["joint_id"])),
        "declared_sha256": "",
    }
    tables["documents"].append(permit)
    tables["files"].append({"path": permit["file"], "kind": "pdf", "text": "Hot work permit 1"})
    return {"DOC-HOT"}


FAMILY = {"fitting-of-another-family", "tool-not-for-the-family", "operative-not-trained"}

BREAKS = {
    "operative-unknown": (_is_blank("operative_id"), "cannot tell", set()),
    "operative-not-trained": (_trained_the_day_after, "fail", set()),
    "press-tool-unknown": (_is_blank("tool_id"), "cannot tell", set()),
    "tool-out-of-service": (_due_before_the_press("tool_id"), "fail", set()),
    "tool-service-failed": (_service_not_passed, "fail", set()),
    "tool-found-faulty-afterwards": (_failed_afterwards, "fail", set()),
    "tool-counter-beyond-limit": (_more_presses_than_it_may, "fail", set()),
    "jaw-unknown": (_is_blank("jaw_id"), "cannot tell", set()),
    "jaw-of-another-profile": (_jaw_changed("press_profile", lambda _: "P9"), "fail", set()),
    "jaw-of-another-size": (_jaw_changed("od_mm", lambda j: "28" if j["od_mm"] == "22" else "22"), "fail", set()),
    "jaw-out-of-service": (_due_before_the_press("jaw_id"), "fail", set()),
    "jaw-where-a-sling-is-needed": (_jaw_changed("kind", lambda _: "jaw", _slung), "fail", set()),
    "one-sling-for-copper-and-steel": (
        _one_sling_for_both,
        "fail",
        {"material-not-of-its-batch", "joint-not-of-section-tube"},
    ),
    "joint-of-another-family": (
        _family_of_its_own,
        "fail",
        {*FAMILY, "pressure-above-rating", "test-pressure-above-rating"},
    ),
    "fitting-of-another-family": (_batch_changed("system_family", "FAM-X"), "fail", set()),
    "batch-family-unknown": (_batch_family_is_blank, "cannot tell", set()),
    "tool-not-for-the-family": (_jaw_changed("system_family", lambda _: "FAM-X"), "fail", set()),
    "seals-contradict": (_batch_changed("seal", "HNBR"), "fail", set()),
    "tube-not-cut-square": (_says_no("cut_square"), "fail", set()),
    "tube-not-deburred": (_says_no("deburred"), "fail", set()),
    "coating-not-stripped": (
        _says_no("coating_stripped", lambda j: j["material_tube"] == "carbon_steel"),
        "fail",
        set(),
    ),
    "seal-missing": (_says_no("seal_present"), "fail", set()),
    "seal-not-checked": (_is_blank("seal_present"), "cannot tell", set()),
    "insertion-depth-not-marked": (_says_no("depth_marked"), "fail", set()),
    "tube-not-fully-inserted": (_says_no("fully_inserted"), "fail", set()),
    "sling-not-lubricated": (_says_no("lubricated", _slung), "fail", set()),
    "tool-not-isolated": (_says_no("tool_isolated"), "fail", set()),
    "depth-mark-not-visible": (_says_no("depth_mark_visible"), "fail", set()),
    "fitting-not-closed": (_says_no("fitting_closed"), "fail", set()),
    "pressed-too-few-times": (_pressed_once, "fail", set()),
    "second-adapter-missing": (_adapter_is_none, "fail", set()),
    "sling-taken-off-between-presses": (_says_no("sling_left_on", _large), "fail", set()),
    "excess-lubricant-left": (_says_no("excess_wiped", _slung), "fail", set()),
    "joint-not-marked-complete": (_says_no("marked_complete"), "fail", set()),
    "joint-not-checked": (_says_no("pressed_check"), "fail", set()),
    "checker-unknown": (_is_blank("checker_id"), "cannot tell", set()),
    "checked-by-the-presser": (_own_checker, "fail", set()),
    "check-not-dated": (_is_blank("check_date"), "cannot tell", set()),
    "checked-before-the-press": (_checked_the_day_before, "fail", set()),
    "checked-after-cover-up": (_checked_after_cover_up, "fail", {"checked-after-strength-test"}),
    "checked-after-strength-test": (_checked_after_the_test, "fail", {"checked-after-cover-up"}),
    "pressed-again-as-repair": (_pressed_again, "fail", set()),
    "too-little-tube-between-fittings": (_too_close, "fail", set()),
    "hot-work-permit-for-pressed-joints": (_hot_work, "fail", set()),
}
