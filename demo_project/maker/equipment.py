"""Press tools, jaws and slings with services; gauges and loggers with calibrations."""

from __future__ import annotations

import datetime as dt

from .model import Building, Dice

TOOLS = {
    "SUB-1": ("PT-01", "PT-02", "PT-03"),
    "SUB-2": ("PT-04", "PT-05"),
    "SUB-3": ("PT-06", "PT-07", "PT-08"),
    "SUB-4": ("PT-09", "PT-10"),
}
PROFILE = {"FAM-C": "P1", "FAM-G": "P1", "FAM-S": "P2", "FAM-K": "P3"}
SIZES = {
    "P1": (15, 22, 28, 35, 42, 54),
    "P2": (15, 22, 28, 35, 42, 54, 76.1, 88.9, 108),
    "P3": (22, 28, 35, 42, 54, 76.1, 88.9, 108),
}
JAWS = {
    ("SUB-1", "P1"): (15, 22, 28),
    ("SUB-1", "P3"): SIZES["P3"],
    ("SUB-2", "P1"): (22, 28),
    ("SUB-2", "P3"): SIZES["P3"],
    ("SUB-3", "P1"): (15, 22, 28),
    ("SUB-3", "P2"): SIZES["P2"],
    ("SUB-4", "P1"): (22, 28, 35, 42, 54),
    ("SUB-4", "P2"): (35, 42, 54),
}
LARGEST_JAW_MM = 35
TWICE_PRESSED_MM = 108
GAUGES = (
    ("G-01", "gauge", 6.0, 1.0, 0.05),
    ("G-02", "gauge", 10.0, 1.0, 0.1),
    ("G-03", "gauge", 16.0, 1.0, 0.1),
    ("G-04", "gauge", 16.0, 0.6, 0.1),
    ("G-05", "gauge", 6.0, 1.0, 0.05),
    ("L-06", "logger", 16.0, 0.25, 0.01),
    ("G-07", "gauge", 40.0, 1.6, 0.5),
    ("M-08", "manometer", 0.06, 0.5, 0.0001),
    ("G-09", "gauge", 0.3, 1.0, 0.001),
    ("G-10", "gauge", 10.0, 1.0, 0.1),
)


def jaw_id(subcontractor: str, profile: str, od: float) -> str:
    """Register code of the jaw or sling of a firm for a profile and size."""
    kind = "SL" if od > LARGEST_JAW_MM else "JW"
    return f"{kind}-{profile}-{od:g}-{subcontractor[-1]}"


def adapter_id(subcontractor: str, profile: str, od: float) -> str | None:
    """Register code of the adapter for the second press; none where a size is pressed once."""
    return f"AD-{profile}-{od:g}-{subcontractor[-1]}" if od >= TWICE_PRESSED_MM else None


def add_equipment(building: Building) -> None:
    """Tools, jaws, slings, their services; instruments and their calibrations."""
    for firm, tools in TOOLS.items():
        for tool in tools:
            dice = Dice("tool", tool)
            building.add(
                "tools",
                tool_id=tool,
                kind="press_tool",
                serial=f"T-{dice.whole(80000, 89999)}",
                force_kn=32,
                owner=firm if tool != "PT-08" else "Hire",
                cycle_limit=10000,
                system_family="FAM-C; FAM-G; FAM-S; FAM-K",
            )
            day = dt.date(2025, 9, dice.whole(3, 26))
            _service(building, tool, firm, day, dice.whole(1200, 6400))
    for (firm, profile), sizes in JAWS.items():
        families = "; ".join(family for family, code in PROFILE.items() if code == profile)
        for od in sizes:
            codes = {"sling" if od > LARGEST_JAW_MM else "jaw": jaw_id(firm, profile, od)}
            if (adapter := adapter_id(firm, profile, od)) is not None:
                codes["adapter"] = adapter
            for kind, code in codes.items():
                dice = Dice("jaw", code)
                building.add(
                    "tools",
                    tool_id=code,
                    kind=kind,
                    serial=f"J-{dice.whole(10000, 79999)}",
                    press_profile=profile,
                    od_mm=od,
                    system_family=families,
                    owner=firm,
                    cycle_limit=10000,
                )
                _service(building, code, firm, dt.date(2025, 9, dice.whole(3, 26)), dice.whole(300, 3900))
    for code, kind, span, accuracy, step in GAUGES:
        dice = Dice("gauge", code)
        serial = f"GA-{dice.whole(50000, 59999)}"
        building.add(
            "instruments",
            instrument_id=code,
            kind=kind,
            serial=serial,
            range_min_bar=0.0,
            range_max_bar=span,
            class_percent=accuracy,
            resolution_bar=step,
            owner="Test house 1",
        )
        for year, month in ((2025, 8),):
            day = dt.date(year, month, dice.whole(4, 28))
            building.add(
                "calibrations",
                instrument_id=code,
                certificate_no=f"CAL-{dice.whole(7000, 7999)}",
                serial_on_certificate=serial,
                calibrated_on=day,
                due_on=dt.date(year + 1, month, day.day),
                laboratory="Calibration laboratory 1",
                accreditation_no="LAB-0417",
                error_found_bar=round(span * accuracy * dice.whole(1, 7) / 1000, 4),
                result="pass",
                document_id=f"DOC-C{code[-2:]}",
            )


def _service(building: Building, tool: str, firm: str, day: dt.date, cycles: int) -> None:
    building.add(
        "tool_services",
        tool_id=tool,
        serviced_on=day,
        due_on=dt.date(day.year + 1, day.month, day.day),
        cycle_count=cycles,
        provider="Service workshop 1",
        certificate_no=f"SV-{tool[-4:].strip('-')}-{day:%d%m}",
        result="pass",
        document_id=f"DOC-S{firm[-1]}",
    )
