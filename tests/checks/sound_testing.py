"""Tests of a made-up project: a leak found, cut out and tested again; a valve changed and tested again; made fit after each."""

import datetime as dt
import math
from typing import Any

pipework: Any = None  # set by sound.py: the module of pipework
BAR_PER_METRE = 0.0981
LOGGER = "L-06"
PROCEDURES: dict[str, dict[str, Any]] = {
    "wet-1.5": {
        "title": "Water test at 1.5 times the maximum operating pressure",
        "source": "Invented specification, section T",
        "edition": "C02",
        "stages": [
            {"stage": "visual", "medium": "none"},
            {"stage": "leak", "medium": "water", "basis": "fixed", "fixed_bar": 1.6, "settle_min": 10, "hold_min": 30, "allowed_drop_bar": 0},
            {"stage": "strength", "medium": "water", "basis": "mop", "factor": 1.5, "cap_bar": 16, "settle_min": 30, "hold_min": 60, "allowed_drop_bar": 0},
        ],
    },
    "gas-1.1": {
        "title": "Gas test of compressed air pipework",
        "source": "Invented specification, section T",
        "edition": "C02",
        "stages": [
            {"stage": "visual", "medium": "none"},
            {"stage": "leak", "medium": "nitrogen", "basis": "fixed", "fixed_bar": 0.15, "settle_min": 10, "hold_min": 30, "allowed_drop_bar": 0},
            {"stage": "strength", "medium": "nitrogen", "basis": "mop", "factor": 1.1, "settle_min": 15, "hold_min": 30, "allowed_drop_bar": 0},
        ],
    },
}  # fmt: skip
ORGANISATION = "Client, clerk of works"
COMMISSIONER = "Contractor's commissioning engineer"


class Testing:
    """Tests section by section, some together; what was found and changed on the way."""

    def __init__(self, site: Any, goods: Any, gas: str) -> None:
        self.site, self.goods, self.gas = site, goods, gas
        self.logged = False

    def run(self, systems: list[Any]) -> None:
        """Test every section of every system."""
        rng = self.site.rng
        leaks, changes = rng.sample(systems[:3], 2)
        for system in systems:
            groups = [[section] for section in system.sections]
            if len(groups) > 1 and rng.random() < 0.4:
                groups = [groups[0] + groups[1], *groups[2:]]
            for number, group in enumerate(groups):
                self._test(group, leaking=system is leaks and number == 0)
            if system is changes:
                self._change_valve(system)
        self._void_number(systems[0])

    def _test(self, sections: list[Any], leaking: bool = False) -> str:
        site, rng = self.site, self.site.rng
        name = f"T-{len({row['test_id'] for row in site.tables.get('tests', [])}) + 1:03d}"
        day = site.working(max(section.last_check for section in sections), rng.randint(1, 3))
        if leaking:
            section = rng.choice(sections)
            first = rng.choice([row for row in section.joints if row["joint_id"].endswith("-A")])
            day = self._attempt(name, 1, sections, day, first["joint_id"])
            day = self._replace(name, section, first, day)
        self._attempt(name, 2 if leaking else 1, sections, day)
        return name

    def _attempt(self, name: str, attempt: int, sections: list[Any], day: dt.date, leak: str = "") -> dt.date:
        site, rng = self.site, self.site.rng
        tester = rng.choice(self.goods.testers)
        # One pressure test a day: no gauge, tester or witness can be in two places.
        day = site.free_day(day, "the pressure test")
        system = sections[0].system
        ids = "; ".join(section.id for section in sections)
        number = f"TC-{int(name[2:]):03d}-{attempt}"
        ends = sorted({section.row[end] for section in sections for end in ("from_node", "to_node")})
        minute = 8 * 60 + rng.randint(0, 50)
        common = {
            "test_id": name, "attempt": attempt, "section_ids": ids, "boundary": f"Shut and blanked at {', '.join(ends)}",
            "procedure": "gas-1.1" if system.kind == "CA" else "wet-1.5", "date": day, "tester": tester, "witness": "CW-1",
            "witness_organisation": ORGANISATION, "witness_date": day, "certificate_no": number,
            "document_id": site.paper("test_certificate", f"Test certificate {number}", day, f"{name}; {ids}"),
        }  # fmt: skip
        site.add(
            "tests", stage="visual", medium="none", start_time=_clock(minute), end_time=_clock(minute + 35), joints_inspected=True,
            result="pass", **common,
        )  # fmt: skip
        minute += 45
        warm = round(rng.uniform(9, 17), 1)
        for stage in PROCEDURES[common["procedure"]]["stages"][1:]:
            minute += stage["settle_min"] + rng.randint(3, 9)
            fails = bool(leak) and stage["stage"] == "leak"
            self._stage(sections, stage, common, minute, warm, leak if fails else "")
            minute += stage["hold_min"] + rng.randint(6, 15)
            if fails:
                return day
        for section in sections:
            section.last_test = max(section.last_test, day)
        return day

    def _stage(
        self, sections: list[Any], stage: dict[str, Any], common: dict[str, Any], minute: int, warm: float, leak: str
    ) -> None:
        site, rng = self.site, self.site.rng
        system = sections[0].system
        wet = system.kind != "CA"
        low, high = min(section.low_m for section in sections), max(section.high_m for section in sections)
        required = stage["fixed_bar"] if stage["basis"] == "fixed" else round(stage["factor"] * system.mop_bar, 2)
        least = required + ((high - low) * BAR_PER_METRE if wet else 0)
        gauge, step = self.goods.gauge_for(least + 0.05 * least)
        if system.kind == "MCW" and stage["stage"] == "strength" and not self.logged:
            gauge, step = LOGGER, 0.01
        places = len(f"{step:g}".partition(".")[2])
        start = round(math.ceil(round(least / step, 6)) * step + step * rng.randint(1, 3), places)
        drift = rng.choice((-0.1, 0.0, 0.0, 0.1)) if wet else 0.0
        last = bool(leak) or stage["stage"] == "strength"
        full = system.kind in ("LTHW", "CHW") and not leak
        barometer = rng.randint(995, 1025)
        site.add(
            "tests", stage=stage["stage"], medium="water" if wet else self.gas, required_pressure_bar=required,
            pressure_basis=f"{stage['factor']} x maximum operating pressure" if stage["basis"] == "mop" else "Fixed by the procedure",
            start_pressure_bar=start, end_pressure_bar=round(start - step * rng.randint(3, 9), places) if leak else start,
            start_time=_clock(minute), end_time=_clock(minute + stage["hold_min"]), settle_min=stage["settle_min"] + rng.choice((0, 0, 5)),
            hold_min=stage["hold_min"], ambient_start_c=round(warm + 0.6, 1), ambient_end_c=round(warm + 0.6 + 2 * drift, 1), pipe_start_c=warm,
            pipe_end_c=round(warm + drift, 1), barometer_start_mbar=None if wet else barometer, barometer_end_mbar=None if wet else barometer,
            instrument_id=gauge, gauge_elevation_m=low, relief_set_bar=round(start * 1.05 + 0.3, 2), energy_assessed=None if wet else True,
            exclusion_zone=None if wet else True, topped_up=False, joints_inspected=True, result="fail" if leak else "pass", leaks_found=leak,
            made_safe=("left_full_treated" if full else "drained_dried") if last else "", made_safe_date=common["date"] if last else None,
            **common,
        )  # fmt: skip

        if gauge == LOGGER:
            self.logged = True
            self._follow(site.tables["tests"][-1])

    def _follow(self, row: dict[str, str]) -> None:
        """The file of a logger that saw the stage: pumped up, settled, held, let go."""
        began = dt.datetime.fromisoformat(f"{row['date']} {row['start_time']}")
        held = int(row["hold_min"])
        top = float(row["start_pressure_bar"])
        lines = ["Time,Pressure (bar)"]
        for half in range(-2 * int(row["settle_min"]) - 10, 2 * held + 6):
            up = max(0.0, min(1.0, (half + 2 * int(row["settle_min"]) + 10) / 9))
            lines.append(f"{began + dt.timedelta(minutes=half / 2)},{top * up:.2f}")
        row["document_id"] = document_id = self.site.number("DOC", "documents", 4)
        path = f"logger_file/{document_id}.csv"
        self.site.add("files", path=path, kind="text", text="\n".join(lines) + "\n")
        self.site.add(
            "documents", document_id=document_id, file=path, title=f"Logger file of {row['test_id']}", kind="logger_file", date=row["date"],
            about=row["test_id"], edition="audit", legible=True,
        )  # fmt: skip

    def _replace(self, test: str, section: Any, leaking: dict[str, str], failed_on: dt.date) -> dt.date:
        """Cut the leaking fitting out and press a new one; the first day for the next attempt."""
        site, rng = self.site, self.site.rng
        stem = leaking["joint_id"].rpartition("-")[0]
        old = [row for row in section.joints if row["joint_id"].rpartition("-")[0] == stem]
        who = rng.choice(self.goods.pressers)
        day = site.free_day(site.working(failed_on, 1), who)
        before = len(section.joints)
        pipework.fitting(
            site, self.goods, section, old[0]["fitting_kind"], who, day, 8 * 60 + rng.randint(20, 200), old
        )
        new = section.joints[before:]
        for row, fresh in zip(old, new, strict=True):
            fresh["boundary"] = row["boundary"]
            row["status"] = "cut_out"
            row["remarks"] = f"Cut out after {test}"
        section.row["installed_on"] = max(section.row["installed_on"], day.isoformat())
        ready = site.working(max(day, section.last_check), 1)
        joints = "; ".join(row["joint_id"] for row in (*old, *new))
        site.add(
            "alterations", alteration_id=site.number("AL", "alterations"), kind="replaced", section_ids=section.id, joint_ids=joints, date=day,
            time=dt.time.fromisoformat(new[0]["press_time"]), reason=f"Leak found by {test}", done_by_role="Subcontractor's foreman", test_id=test,
        )  # fmt: skip
        self._snag("A", "leak", section, leaking["joint_id"], f"Leak at {leaking['joint_id']}", failed_on, ready, test)
        return ready

    def _snag(
        self, grade: str, kind: str, section: Any, joint: str, words: str, raised: dt.date, ready: dt.date, test: str
    ) -> None:
        site = self.site
        number = site.number("SN", "snags")
        row = site.add(
            "snags", snag_id=number, description=words, snag_class=grade, kind=kind, section_ids=section.id, joint_ids=joint,
            raised_by_role=COMMISSIONER, raised_on=raised, due_on=raised + dt.timedelta(days=30), owner_role="SUB-1", action="Put right and looked at again",
            closed_on=site.working(ready, site.rng.randint(5, 12)), closed_by_role=COMMISSIONER, retest_required=bool(test), retest_test_id=test,
        )  # fmt: skip
        row["document_id"] = site.paper("other", f"Record of {number}", dt.date.fromisoformat(row["closed_on"]), number)

    def _change_valve(self, system: Any) -> None:
        """A valve changed after the test of its sections, which are tested again."""
        site, rng = self.site, self.site.rng
        number = rng.randrange(len(system.sections) + 1)
        touched = system.sections[max(0, number - 1) : number + 1]
        day = site.working(max(section.last_test for section in system.sections), rng.randint(1, 2))
        name = site.number("AL", "alterations")
        site.add(
            "alterations", alteration_id=name, kind="valve_changed", section_ids="; ".join(s.id for s in touched), node_id=f"V-{system.kind}-{number}",
            date=day, time=_clock(14 * 60 + rng.randint(0, 50)), reason="Spindle leaked", done_by_role="Subcontractor's foreman", test_id="",
            document_id=site.paper("other", f"Record of {name}", day, name),
        )  # fmt: skip
        for section in touched:
            section.last_check = max(section.last_check, day)
        site.tables["alterations"][-1]["test_id"] = self._test(touched)

    def _void_number(self, system: Any) -> None:
        """A number of the register of changes that was given and not used."""
        site, section = self.site, system.sections[0]
        site.add(
            "alterations", alteration_id=site.number("AL", "alterations"), kind="void", section_ids=section.id, date=section.last_test,
            reason="Number not used", done_by_role="Subcontractor's foreman",
        )  # fmt: skip

    def lesser_snags(self, systems: list[Any]) -> None:
        """Snags of no consequence for the joints, all put right."""
        rng = self.site.rng
        for grade, kind, words in (("B", "support", "Bracket loose"), ("C", "identification", "Band missing")):
            section = rng.choice(rng.choice(systems).sections)
            raised = self.site.working(section.last_test, 2)
            self._snag(grade, kind, section, "", words, raised, raised, "")


def _clock(minute: int) -> dt.time:
    return dt.time(minute // 60, minute % 60)
