"""Pressure tests: which sections together, what pressure at which height, readings, and the attempts that failed."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass

from .building import CEILING_M
from .equipment import GAUGES
from .model import Building, Dice, Row, Value
from .networks import NETWORKS, Network
from .people import CHECKER
from .site_calendar import clock, working_day

BAR_PER_METRE = 0.0981
ATTEMPTS_THAT_FAILED = {"PT-006": 2, "PT-019": 2, "PT-034": 2, "PT-051": 3, "PT-063": 2, "PT-077": 2}
"""Test to its number of attempts; all but the last failed at the leak stage."""
LOGGER = "L-06"
LOGGED = ("PT-041", "PT-052")
COMMISSIONED = {
    "SUB-1": dt.date(2026, 4, 14),
    "SUB-2": dt.date(2026, 4, 14),
    "SUB-3": dt.date(2026, 5, 6),
    "SUB-4": dt.date(2026, 5, 7),
}


@dataclass(frozen=True)
class Stage:
    """One stage of a procedure; the pressure is that required at the highest point, bar gauge."""

    name: str
    pressure: float
    settle: int
    hold: int
    gauges: tuple[str, ...]
    basis: str


def _wet(strength: float, gauges: tuple[str, ...]) -> tuple[Stage, ...]:
    return (
        Stage("leak", 1.5, 10, 30, ("G-01", "G-05"), "1.5 bar at the highest point"),
        Stage("strength", strength, 30, 60, gauges, "1.5 x maximum operating pressure"),
    )


STAGES: dict[str, tuple[Stage, ...]] = {
    "LTHW": _wet(4.5, ("G-02", "G-10")),
    "CHW": _wet(6.0, ("G-03", "G-04", LOGGER)),
    "MCW": _wet(6.0, ("G-03", "G-04", LOGGER)),
    "BCW": _wet(9.0, ("G-03", "G-04", LOGGER)),
    "DHW": _wet(9.0, ("G-03", "G-04", LOGGER)),
    "CA": (
        Stage("leak", 0.15, 10, 30, ("G-09",), "150 mbar"),
        Stage("strength", 7.7, 15, 30, ("G-03", "G-04"), "1.1 x maximum operating pressure"),
    ),
    "NG": (
        Stage("leak", 0.0205, 5, 10, ("M-08",), "Operating pressure"),
        Stage("strength", 0.0825, 10, 15, ("G-09",), "1.1 x maximum incidental pressure"),
        Stage("tightness", 0.021, 10, 15, ("M-08",), "Operating pressure"),
    ),
}
PROCEDURE = {"CA": "pneumatic-1.1", "NG": "gas-strength-tightness"}
SPAN_BAR = {code: span for code, _, span, _, _ in GAUGES}
STEP_BAR = {code: step for code, _, _, _, step in GAUGES}


def add_tests(building: Building) -> None:
    """Every section in a test, in the order in which the sections were ready; sections get the dates that follow."""
    joints: dict[str, list[Row]] = defaultdict(list)
    for joint in building["joints"]:
        joints[joint.text("section_id")].append(joint)
    groups: list[tuple[dt.date, int, Network, list[Row]]] = []
    for network in NETWORKS:
        for sections in test_groups(building, network):
            ready = max(
                joint.date("check_date") for section in sections for joint in joints[section.text("section_id")]
            )
            groups.append((ready, len(groups), network, sections))
    diary: set[tuple[dt.date, str]] = set()
    for number, (ready, _, network, sections) in enumerate(sorted(groups, key=lambda group: group[:2]), start=1):
        _Test(building, f"PT-{number:03d}", network, sections, joints, ready, diary).run()
    _put_in_order(building)


def test_groups(building: Building, network: Network) -> list[list[Row]]:
    """Mains together, each riser in stretches, each level's branches together."""
    mains: list[Row] = []
    risers: dict[str, list[Row]] = defaultdict(list)
    levels: dict[str, list[Row]] = defaultdict(list)
    for section in building.where("sections", system_id=network.system):
        code = section.text("section_id").removeprefix(network.system)
        if section["riser"]:
            risers[section.text("riser")].append(section)
        elif code.startswith("-M"):
            mains.append(section)
        else:
            levels[section.text("level")].append(section)
    # The boosted water risers went under test whole, the others in stretches that one filling could reach.
    most = 6 if network.system == "BCW" else 3
    stretches = [stretch[n : n + most] for stretch in risers.values() for n in range(0, len(stretch), most)]
    return [mains, *stretches, *levels.values()]


class _Test:
    def __init__(
        self,
        building: Building,
        name: str,
        network: Network,
        sections: list[Row],
        joints: dict[str, list[Row]],
        ready: dt.date,
        diary: set[tuple[dt.date, str]],
    ) -> None:
        self.building, self.name, self.network, self.sections = building, name, network, sections
        self.joints, self.ready, self.diary = joints, ready, diary
        self.dice = Dice("test", name)
        self.kind = network.system.split("-")[0]
        self.low = min(section.number("elevation_low_m") for section in sections)
        self.high = max(section.number("elevation_high_m") for section in sections)
        self.wet = self.kind not in PROCEDURE

    def run(self) -> None:
        attempts = ATTEMPTS_THAT_FAILED.get(self.name, 1)
        day = working_day(self.ready, self.dice.whole(1, 4))
        for attempt in range(1, attempts + 1):
            day, gauges = self._slot(day)
            leaking = self._leaking() if attempt < attempts else None
            self._attempt(attempt, day, gauges, leaking)
            if leaking:
                day = working_day(self._replace(leaking, day), 2)
        for section in self.sections:
            section["commissioned_on"] = COMMISSIONED[self.network.subcontractor]
            if section["concealed"]:
                section["cover_up_date"] = working_day(day, self.dice.whole(2, 6))

    def _slot(self, day: dt.date) -> tuple[dt.date, dict[str, str]]:
        """The first day from ``day`` when the tester and a gauge for every stage are free."""
        tester = CHECKER[self.network.subcontractor]
        while True:
            gauges: dict[str, str] = {}
            for stage in STAGES[self.kind]:
                logged = self.name in LOGGED and LOGGER in stage.gauges
                by_eye = [gauge for gauge in stage.gauges if gauge != LOGGER]
                turn = int(self.name[3:]) % len(by_eye)
                wanted = [LOGGER] if logged else [*by_eye[turn:], *by_eye[:turn]]
                for gauge in wanted:
                    if (day, gauge) not in self.diary:
                        gauges[stage.name] = gauge
                        break
            if (day, tester) not in self.diary and len(gauges) == len(STAGES[self.kind]):
                self.diary |= {(day, tester), *((day, gauge) for gauge in gauges.values())}
                return day, gauges
            day = working_day(day, 1)

    def _leaking(self) -> Row:
        candidates = [
            joint
            for joint in self.joints[self.sections[-1].text("section_id")]
            if joint["fitting_kind"] == "elbow"
            and joint.text("joint_id").endswith("-A")
            and joint["status"] == "tested"
        ]
        return self.dice.pick(candidates)

    def _attempt(self, attempt: int, day: dt.date, gauges: dict[str, str], leaking: Row | None) -> None:
        minute = 8 * 60 + self.dice.whole(0, 50)
        ids = "; ".join(section.text("section_id") for section in self.sections)
        ends = sorted({section.text(end) for section in self.sections for end in ("from_node", "to_node")})
        common: dict[str, Value] = {
            "section_ids": ids,
            "boundary": f"Shut and blanked at {', '.join(ends)}",
            "procedure": PROCEDURE.get(self.kind, "wet-1.5"),
            "date": day,
            "tester": CHECKER[self.network.subcontractor],
            "witness": "CW-1",
            "witness_organisation": "Client, clerk of works",
            "witness_date": day,
            "certificate_no": f"TC-{int(self.name[3:]):04d}-{attempt}",
            "document_id": f"DOC-P-{self.network.code}",
        }
        self._row(
            attempt,
            "visual",
            common,
            medium="none",
            start_time=clock(minute),
            end_time=clock(minute + 35),
            joints_inspected=True,
            result="pass",
        )
        minute += 50
        stages = STAGES[self.kind]
        warm = self.dice.between(9.0, 17.0)
        for stage in stages:
            minute += stage.settle + self.dice.whole(3, 9)
            fails = leaking is not None and stage.name == "leak"
            last = fails or stage is stages[-1]
            self._pressure_row(
                attempt, stage, common, gauges[stage.name], minute, warm, leaking if fails else None, last, day
            )
            minute += stage.hold + 10
            if fails:
                return

    def _pressure_row(
        self,
        attempt: int,
        stage: Stage,
        common: dict[str, Value],
        gauge: str,
        minute: int,
        warm: float,
        leaking: Row | None,
        last: bool,
        day: dt.date,
    ) -> None:
        step = STEP_BAR[gauge]
        places = max(0, len(f"{step:g}".partition(".")[2]))
        gauge_at = round(self.low + (0.0 if self.high - self.low > CEILING_M else 0.2), 2)
        head = (self.high - gauge_at) * BAR_PER_METRE if self.wet else 0.0
        start = round(_up(stage.pressure + head, step) + step * self.dice.whole(1, 3), places)
        # The water follows the room by at most a tenth of a degree, within what the gauge can show.
        drift = self.dice.pick((-0.1, 0.0, 0.0, 0.1)) if self.wet else 0.0
        end = round(start - self.dice.between(0.4, 0.9, 1), places) if leaking else start
        if gauge == LOGGER and not leaking:
            end = round(start + drift * 0.2, 2)
        safe = self._made_safe(stage.name) if last else None
        more: dict[str, Value] = {}
        if not self.wet:
            dice = self.dice if self.kind == "NG" else Dice("barometer", self.name, stage.name)
            pressure = dice.whole(998, 1024)
            more = {
                "barometer_start_mbar": pressure,
                "barometer_end_mbar": pressure,
                "energy_assessed": True,
                "exclusion_zone": True,
            }
        self._row(
            attempt,
            stage.name,
            common,
            medium="water" if self.wet else ("air" if self.kind == "NG" else "nitrogen"),
            required_pressure_bar=stage.pressure,
            pressure_basis=stage.basis,
            start_pressure_bar=start,
            end_pressure_bar=end,
            start_time=clock(minute),
            end_time=clock(minute + stage.hold),
            settle_min=stage.settle,
            hold_min=stage.hold,
            ambient_start_c=round(warm + 0.6, 1),
            ambient_end_c=round(warm + 0.6 + 2 * drift, 1),
            pipe_start_c=warm,
            pipe_end_c=round(warm + drift, 1),
            instrument_id=gauge,
            gauge_elevation_m=gauge_at,
            relief_set_bar=round(start * 1.05 + (0.5 if start > 1 else 0.05), 1 if start > 1 else 2),
            topped_up=False,
            joints_inspected=True,
            result="fail" if leaking else "pass",
            leaks_found=leaking.text("joint_id") if leaking else None,
            made_safe=safe,
            made_safe_date=day if safe else None,
            **more,
        )

    def _made_safe(self, stage: str) -> str:
        if stage == "leak":
            return "drained_dried"
        return "left_full_treated" if self.kind in ("LTHW", "CHW") else "drained_dried"

    def _row(self, attempt: int, stage: str, common: dict[str, Value], **values: Value) -> None:
        self.building.add("tests", test_id=self.name, attempt=attempt, stage=stage, **{**common, **values})

    def _replace(self, leaking: Row, failed_on: dt.date) -> dt.date:
        """Cut the leaking fitting out, press a new one the next day; the day of its check."""
        stem = leaking.text("joint_id").removesuffix("-A")
        rows = self.joints[leaking.text("section_id")]
        number = 900 + sum(joint["replaces_joint"] is not None for joint in rows) // 2 + 1
        pressed = working_day(failed_on, 1)
        for minute, letter in ((9 * 60 + self.dice.whole(10, 40), "A"), (10 * 60 + self.dice.whole(0, 20), "B")):
            old = next(joint for joint in rows if joint["joint_id"] == f"{stem}-{letter}")
            old["status"] = "cut_out"
            old["remarks"] = f"Cut out after {self.name}"
            new = Row("joints", dict(old.values))
            new.values |= {
                "joint_id": f"{leaking['section_id']}-J{number}-{letter}",
                "press_date": pressed,
                "press_time": clock(minute),
                "check_date": working_day(pressed, 1),
                "status": "tested",
                "replaces_joint": old["joint_id"],
                "remarks": None,
            }
            rows.append(new)
            self.building["joints"].insert(self.building["joints"].index(rows[-2]) + 1, new)
        return working_day(pressed, 1)


def _up(value: float, step: float) -> float:
    whole = -(-round(value / step, 6) // 1)
    return whole * step


def _put_in_order(building: Building) -> None:
    building.tables["tests"].sort(key=lambda row: row.text("test_id"))
