"""Batches of tube and fittings, and which batch was on site on a day."""

from __future__ import annotations

import datetime as dt

from .building import SERIES, SERIES_1_WALL_MM, SHORT, WALL_MM
from .equipment import PROFILE
from .model import Building, Dice

TUBE_STANDARD = {"copper": "EN 1057", "stainless_steel": "EN 10312", "carbon_steel": "EN 10305-3"}
FITTING_STANDARD = {"copper": "EN 1254-7", "stainless_steel": "EN 10352", "carbon_steel": "EN 10352"}
GOODS = (
    # family, material, seal, sizes, drinking water approval
    ("FAM-C", "copper", "EPDM", (15, 22, 28), True),
    ("FAM-C", "copper", "FKM", (22, 28, 35, 42), False),
    ("FAM-G", "copper", "HNBR", (22, 28, 35, 42, 54), False),
    ("FAM-S", "stainless_steel", "EPDM", (15, 22, 28, 35, 42, 54, 76.1, 88.9), True),
    ("FAM-S", "stainless_steel", "FKM", (35, 42, 54), False),
    ("FAM-K", "carbon_steel", "EPDM", (22, 28, 35, 42, 54, 76.1, 88.9, 108), False),
)
SECOND_DELIVERY = dt.date(2026, 1, 7)
DOUBLE_SIZES = (15, 22, 28, 42, 54)


def is_coated(material: str, od: float) -> bool:
    """The chilled water mains came with a plastic coating."""
    return material == "carbon_steel" and od > 80


def tube_batch(material: str, od: float, series: str) -> str:
    """Batch of the tube of a material, size and series."""
    return f"B-{SHORT[material].upper()}{'1' if series == 'series_1' else ''}-T{od:g}-01"


def fitting_batch(family: str, seal: str, od: float, day: dt.date) -> str:
    """Batch of fittings in use on a day."""
    second = od in DOUBLE_SIZES and day >= SECOND_DELIVERY and seal == "EPDM"
    return f"B-{family[-1]}{seal[0]}-F{od:g}-{'02' if second else '01'}"


def add_goods(building: Building) -> None:
    """Every batch with its certificate; all received before the first joint that used it."""
    tubes: dict[str, tuple[str, float, str]] = {}
    for _, material, _, sizes, _ in GOODS:
        for od in sizes:
            tubes[tube_batch(material, od, "")] = (material, od, SERIES[material])
    tubes[tube_batch("stainless_steel", 15, "series_1")] = ("stainless_steel", 15, "series_1")
    for code, (material, od, series) in tubes.items():
        dice = Dice("batch", code)
        wall = SERIES_1_WALL_MM[int(od)] if series == "series_1" else WALL_MM[material][od]
        building.add(
            "batches",
            batch_id=code,
            item="tube",
            description=f"Tube {od:g} x {wall:g}" + (", plastic-coated" if is_coated(material, od) else ""),
            material=material,
            standard=TUBE_STANDARD[material],
            od_mm=od,
            wall_mm=wall,
            tube_series=series,
            certificate_type="3.1",
            certificate_no=f"MC-{dice.whole(55000, 55999)}",
            delivery_note=f"DN-{dice.whole(3000, 3399)}",
            received_on=dt.date(2025, 9, dice.whole(8, 30)),
            quantity=dice.whole(4, 60) * 6,
            quarantined=False,
            potable_approval="PA-2025-118" if material != "carbon_steel" else None,
            document_id=f"DOC-M{SHORT[material].upper()}",
        )
    for family, material, seal, sizes, potable in GOODS:
        for od in sizes:
            deliveries = [dt.date(2025, 9, 15)]
            if od in DOUBLE_SIZES and seal == "EPDM":
                deliveries.append(SECOND_DELIVERY)
            for day in deliveries:
                code = fitting_batch(family, seal, od, day)
                dice = Dice("batch", code)
                received = day if day == SECOND_DELIVERY else dt.date(2025, 9, dice.whole(8, 30))
                building.add(
                    "batches",
                    batch_id=code,
                    item="fitting",
                    description=f"Press fittings {od:g} mm, assorted",
                    material=material,
                    standard=FITTING_STANDARD[material],
                    od_mm=od,
                    system_family=family,
                    press_profile=PROFILE[family],
                    seal=seal,
                    certificate_type="3.1" if material == "stainless_steel" else "2.2",
                    certificate_no=f"MC-{dice.whole(56000, 56999)}",
                    delivery_note=f"DN-{dice.whole(3400, 3899)}",
                    received_on=received,
                    quantity=dice.whole(6, 90) * 10,
                    quarantined=False,
                    potable_approval="PA-2025-204" if potable else None,
                    document_id=f"DOC-M{family[-1]}",
                )
