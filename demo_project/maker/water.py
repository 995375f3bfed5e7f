"""Water after the tests: flushed stretch by stretch, cleaned or disinfected, filled, treated, sampled, kept moving."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator

from .model import Building, Dice, Row, Value
from .networks import NETWORKS, Network
from .papers import add_pdf
from .pressure_tests import test_groups
from .site_calendar import COMPLETION, working_day

METHOD = "Method statement: flushing and treatment, C02"
COMMISSIONER = "Commissioning engineer of MC-1"
LABORATORY = "Water laboratory 1"
ACCREDITATION = "LAB-0882"
SOURCE = "Mains, meter at level 0"
FLUSHED_FROM = {"LTHW": dt.date(2026, 3, 16), "CHW": dt.date(2026, 3, 23), "MCW": dt.date(2026, 4, 13),
                "BCW": dt.date(2026, 4, 15), "DHW": dt.date(2026, 4, 20)}  # fmt: skip
VELOCITY_M_S = {True: (2.05, 2.4), False: (1.08, 1.5)}
"""Potable and other systems."""
STRETCHES_A_DAY = 4
LAST_SAMPLE = dt.date(2026, 6, 9)


def add_water(building: Building) -> None:
    """All flushings and treatments of the systems that carry water."""
    tubes: dict[str, list[Row]] = {}
    for tube in building["tubes"]:
        tubes.setdefault(tube.text("section_id"), []).append(tube)
    for network in NETWORKS:
        if network.system.split("-")[0] in FLUSHED_FROM:
            _System(building, network, tubes).write()


class _System:
    def __init__(self, building: Building, network: Network, tubes: dict[str, list[Row]]) -> None:
        self.building, self.network, self.tubes = building, network, tubes
        self.row = building.find("systems", system_id=network.system)
        self.potable = bool(self.row["potable"])
        self.sections = list(building.where("sections", system_id=network.system))
        self.certificates: list[Row] = []
        self.reports: list[Row] = []

    def write(self) -> None:
        day = FLUSHED_FROM[self.network.system.split("-")[0]]
        for n, sections in enumerate(test_groups(self.building, self.network)):
            last = working_day(day, n // STRETCHES_A_DAY)
            self._flush("flush", sections, last)
        if self.potable:
            self._drinking_water(working_day(last, 1))
        else:
            self._closed_circuit(working_day(last, 1))
        self._papers()

    def _drinking_water(self, day: dt.date) -> None:
        dice = Dice("disinfection", self.network.system)
        self._flush(
            "disinfection",
            self.sections,
            day,
            chemical="Sodium hypochlorite",
            concentration_mg_l=dice.whole(52, 60),
            contact_min=dice.whole(62, 75),
            neutralised=True,
        )
        self._event("fill", day, water_source=SOURCE)
        for point, later in (("Outlet furthest from plant", 2), ("Outlet of the plant", 2)):
            dice = Dice("sample", self.network.system, point)
            self._event(
                "sample",
                working_day(day, later),
                sample_point=point,
                ph=dice.between(7.1, 7.7),
                conductivity_us_cm=dice.whole(410, 520),
                chloride_mg_l=dice.whole(22, 41),
                iron_mg_l=dice.between(0.01, 0.05, 2),
                colonies_cfu_ml=dice.whole(0, 12),
                legionella_cfu_l=0,
                **_LABORATORY,
            )

    def _closed_circuit(self, day: dt.date) -> None:
        dice = Dice("clean", self.network.system)
        self._flush(
            "chemical_clean",
            self.sections,
            day,
            chemical="Citric acid, inhibited",
            concentration_mg_l=dice.whole(18, 24) * 100,
            contact_min=dice.whole(20, 26) * 10,
            neutralised=True,
        )
        self._event("fill", day, water_source=SOURCE)
        dosed = working_day(day, 1)
        self._event("dose", dosed, water_source=SOURCE, inhibitor_mg_l=dice.whole(112, 134) * 10)
        for sampled in (working_day(dosed, 7), LAST_SAMPLE):
            dice = Dice("sample", self.network.system, sampled)
            self._event(
                "sample",
                sampled,
                sample_point="Header in the roof plant room",
                ph=dice.between(8.5, 9.4),
                conductivity_us_cm=dice.whole(620, 900),
                chloride_mg_l=dice.whole(22, 41),
                iron_mg_l=dice.between(0.3, 1.4),
                oxygen_mg_l=dice.between(0.02, 0.06, 2),
                inhibitor_mg_l=dice.whole(105, 128) * 10,
                colonies_cfu_ml=dice.whole(10, 400),
                **_LABORATORY,
            )
        self._event("circulation", COMPLETION, from_date=dosed, hours_per_day=dice.pick((2, 4)))

    def _flush(self, kind: str, sections: list[Row], day: dt.date, **more: Value) -> None:
        number = f"FL-{len(self.building['flushings']) + 1:03d}"
        dice = Dice("flush", number)
        speed = dice.between(*VELOCITY_M_S[self.potable], 2)
        bore = max(_bores(self.tubes[section.text("section_id")] for section in sections))
        row = self.building.add(
            "flushings",
            flushing_id=number,
            kind=kind,
            section_ids="; ".join(section.text("section_id") for section in sections),
            procedure=METHOD,
            date=day,
            flow_l_s=round(speed * math.pi / 4 * bore**2 / 1000, 2),
            velocity_m_s=speed,
            duration_min=dice.whole(7, 15) * 5,
            water_changes=dice.whole(22, 34),
            strainers_cleaned=True,
            result="pass",
            done_by_role=COMMISSIONER,
            certificate_no=f"FC-{number[3:]}",
            document_id=f"DOC-Q-{self.network.code}",
            **more,
        )
        self.certificates.append(row)

    def _event(self, kind: str, day: dt.date, **more: Value) -> None:
        number = f"WT-{len(self.building['treatments']) + 1:03d}"
        row = self.building.add(
            "treatments",
            treatment_id=number,
            kind=kind,
            system_id=self.network.system,
            date=day,
            done_by_role=COMMISSIONER,
            document_id=f"DOC-H-{self.network.code}",
            **more,
        )
        self.reports.append(row)

    def _papers(self) -> None:
        words = self.network.words.lower()
        last = max(row.date("date") for row in self.certificates)
        lines = [f"{row['flushing_id']} {row['kind']}: {row['section_ids']}"[:150] for row in self.certificates]
        about = "; ".join([self.network.system, *(row.text("flushing_id") for row in self.certificates)])
        code = self.network.code
        file = f"water/flushing-{self.network.system}.pdf"
        add_pdf(
            self.building,
            f"DOC-Q-{code}",
            file,
            f"Flushing certificates, {words}",
            "other",
            last,
            about,
            "audit",
            lines,
        )
        last = max(row.date("date") for row in self.reports)
        lines = [f"{row['treatment_id']} {row['kind']} on {row['date']}" for row in self.reports]
        about = "; ".join([self.network.system, *(row.text("treatment_id") for row in self.reports)])
        file = f"water/water-{self.network.system}.pdf"
        add_pdf(
            self.building,
            f"DOC-H-{code}",
            file,
            f"Water records, {words}",
            "water_analysis",
            last,
            about,
            "audit",
            lines,
        )


_LABORATORY: dict[str, Value] = {"laboratory": LABORATORY, "accreditation_no": ACCREDITATION, "result": "in_limits"}


def _bores(tubes: Iterator[list[Row]]) -> Iterator[float]:
    for rows in tubes:
        for tube in rows:
            yield tube.number("od_mm") - 2 * tube.number("wall_mm")
