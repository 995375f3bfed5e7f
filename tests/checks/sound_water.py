"""What follows the tests of a made-up project: flushing, water, insulation, supports, covering up, setting to work."""

import datetime as dt
import math
from typing import Any

goods_module: Any = None  # set by sound.py: the module of goods
COMMISSIONER = "Contractor's commissioning engineer"


def finish(site: Any, systems: list[Any]) -> None:
    """Take every system from its last test to service."""
    for system in systems:
        for section in system.sections:
            _supports(site, section)
        if system.kind != "CA":
            _water(site, system)
        _cover(site, system)
        tested = max(section.last_test for section in system.sections)
        for valve in site.tables["valves"]:
            if valve["valve_id"].split("-")[1] == system.kind:
                valve["exercised_on"] = site.working(tested, 2).isoformat()


def _flush(site: Any, system: Any, kind: str, day: dt.date, **more: Any) -> None:
    number = site.number("FL", "flushings")
    paper = site.paper("other", f"Flushing certificate {number}", day, f"{number}; {system.id}")
    site.add(
        "flushings", flushing_id=number, kind=kind, section_ids="; ".join(s.id for s in system.sections), procedure="Flushing method statement, C01",
        date=day, result="pass", done_by_role=COMMISSIONER, certificate_no=f"FC-{number[3:]}", document_id=paper, **more,
    )  # fmt: skip


def _event(site: Any, system: Any, kind: str, day: dt.date, paper: bool = True, **more: Any) -> None:
    number = site.number("WT", "treatments")
    document = site.paper("water_analysis", f"Water record {number}", day, f"{number}; {system.id}") if paper else ""
    site.add(
        "treatments",
        treatment_id=number,
        kind=kind,
        system_id=system.id,
        date=day,
        done_by_role=COMMISSIONER,
        document_id=document,
        **more,
    )


def _water(site: Any, system: Any) -> None:
    rng = site.rng
    day = site.working(max(section.last_test for section in system.sections), rng.randint(1, 2))
    largest = max(od for section in system.sections for od in section.sizes)
    bore = largest - 2 * goods_module.WALL_MM[system.material][largest]
    speed = round(rng.uniform(2.05, 2.4), 2)
    flow = round(speed * math.pi / 4 * (bore / 1000) ** 2 * 1000, 2)
    flushed = {
        "flow_l_s": flow,
        "velocity_m_s": speed,
        "duration_min": rng.randint(30, 60),
        "water_changes": rng.randint(21, 30),
    }
    _flush(site, system, "flush", day, strainers_cleaned=True, **flushed)
    source = "Mains, tap at riser 2"
    if system.potable:
        _flush(
            site, system, "disinfection", day, chemical="Sodium hypochlorite", concentration_mg_l=50, contact_min=rng.randint(60, 90), neutralised=True,
            **flushed,
        )  # fmt: skip
        _event(site, system, "fill", day, paper=False, water_source=source)
        sampled = site.working(day, rng.randint(2, 4))
        _event(
            site, system, "sample", sampled, sample_point="Furthest tap", ph=round(rng.uniform(7.2, 7.9), 1), conductivity_us_cm=rng.randint(300, 500),
            chloride_mg_l=rng.randint(15, 45), iron_mg_l=0.02, colonies_cfu_ml=rng.randint(0, 20), legionella_cfu_l=0, laboratory="LAB-1",
            accreditation_no="ACC-0417", result="in_limits",
        )  # fmt: skip
    else:
        if rng.random() < 0.5:
            _flush(
                site,
                system,
                "chemical_clean",
                day,
                chemical="Citric acid",
                concentration_mg_l=2000,
                contact_min=240,
                neutralised=True,
                **flushed,
            )
        _event(site, system, "fill", day, paper=False, water_source=source)
        glycol = {"glycol_percent": rng.randint(30, 34)} if system.kind == "CHW" else {}
        dosed = site.working(day, rng.randint(0, 1))
        _event(site, system, "dose", dosed, water_source=source, inhibitor_mg_l=rng.randint(1100, 1400), **glycol)
        sampled = site.working(day, rng.randint(5, 9))
        _event(
            site, system, "sample", sampled, sample_point="Return header", ph=round(rng.uniform(8.2, 9.0), 1), conductivity_us_cm=rng.randint(300, 600),
            chloride_mg_l=rng.randint(15, 45), iron_mg_l=round(rng.uniform(0.1, 0.5), 2), oxygen_mg_l=0.05, inhibitor_mg_l=rng.randint(1100, 1400),
            colonies_cfu_ml=rng.randint(0, 100), laboratory="LAB-1", accreditation_no="ACC-0417", result="in_limits",
            **glycol,
        )  # fmt: skip
    system.filled_on, system.sampled_on = day, sampled


def run_the_water(site: Any, systems: list[Any], until: dt.date) -> None:
    """Water kept moving from the fill to the day of completion; sections are commissioned."""
    for system in systems:
        if system.kind != "CA":
            _event(
                site,
                system,
                "circulation",
                until,
                from_date=system.filled_on,
                hours_per_day=site.rng.choice((1, 2, 4, 24)),
            )
        ready = site.working(system.sampled_on if system.kind != "CA" else max(s.last_test for s in system.sections), 1)
        for section in system.sections:
            section.row["commissioned_on"] = ready.isoformat()


def _cover(site: Any, system: Any) -> None:
    rng = site.rng
    for section in system.sections:
        inspected = section.last_test
        if system.kind != "CA":
            applied = site.working(section.last_test, rng.randint(1, 3))
            inspected = site.working(applied, rng.randint(1, 2))
            cold = system.kind in ("CHW", "MCW")
            site.add(
                "insulations", insulation_id=site.number("IN", "insulations"), section_ids=section.id, material="Closed-cell foam" if cold else "Mineral wool",
                thickness_mm=rng.choice((25, 32, 40)), vapour_barrier=cold, joints_sealed=True if cold else None, chloride_free=True, fire_class="A2-s1,d0",
                applied_on=applied, inspected_on=inspected, inspected_by_role=COMMISSIONER, result="pass", tag_outside=True, bands_fixed=True,
                document_id=site.paper("other", f"Insulation of {section.id}", inspected, section.id),
            )  # fmt: skip
        concealed = rng.random() < 0.5
        section.row["concealed"] = "yes" if concealed else "no"
        if concealed:
            section.row["cover_up_date"] = site.working(inspected, rng.randint(1, 5)).isoformat()


# Largest spacing m horizontal; 15 mm 1.2 m and so on are common practice.
SPACING_M = {15: 1.2, 22: 1.8, 28: 1.8, 35: 2.4, 42: 2.4, 54: 2.7, 76.1: 3.0, 108: 3.0}


def _supports(site: Any, section: Any) -> None:
    rng = site.rng
    inspected = site.working(section.last_check)
    common = {
        "section_id": section.id,
        "inspected_on": inspected,
        "inspected_by_role": COMMISSIONER,
        "result": "pass",
        "lined": True,
    }
    for od in section.sizes:
        for orientation in ("horizontal", "vertical") if section.high_m > section.low_m else ("horizontal",):
            site.add(
                "supports", support_id=site.number("SP", "supports"), kind="support", od_mm=od, orientation=orientation,
                spacing_m=round(SPACING_M[od] * rng.uniform(0.7, 1.0), 1), from_fitting_mm=rng.randint(100, 300), **common,
            )  # fmt: skip
    for kind, takes_up in (("anchor", None), ("guide", None), ("expansion_loop", rng.randint(50, 70))):
        site.add(
            "supports",
            support_id=site.number("SP", "supports"),
            kind=kind,
            od_mm=section.sizes[0],
            orientation="horizontal",
            takes_up_mm=takes_up,
            **common,
        )
