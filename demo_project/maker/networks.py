"""The systems of the building as data: mains, risers, branches, tube, pressures and words."""

from __future__ import annotations

from dataclasses import dataclass

ZONE = {"N": "north", "S": "south", "E": "east", "W": "west"}

Run = tuple[str, float]
"""Short material and outside diameter, mm."""


@dataclass(frozen=True)
class Riser:
    """Levels in the order of flow, and the tube of each stretch between two of them."""

    name: str
    levels: tuple[int, ...]
    runs: tuple[Run, ...]
    foot: str = ""
    """'drain' where a drain leg hangs below the lowest valve set."""
    head: str = ""
    """'vent' where an air vent stands above the highest valve set."""


@dataclass(frozen=True)
class Branch:
    """One floor's branch off a riser: where it goes, what it serves, main run and run-outs."""

    riser: str
    level: int
    zone: str
    serves: str
    runs: tuple[Run, ...]
    terminal: str


@dataclass(frozen=True)
class Network:
    """One system as built."""

    system: str
    code: str
    words: str
    plant: str
    plant_words: str
    plant_level: int
    supply: bool
    """True where water flows from plant to terminals; False for returns."""
    mains: dict[str, Run]
    risers: tuple[Riser, ...]
    branches: tuple[Branch, ...]
    subcontractor: str
    family: dict[str, str]
    seal: str
    insulation: str
    drawing: str


def _heating_branches() -> tuple[Branch, ...]:
    found = []
    for level in DOWN:
        for riser, zone in (("R1", "N"), ("R2", "S")):
            if level == 5 and zone == "S":
                continue
            big = 35 if level in (0, 4) else 28
            runs: tuple[Run, ...] = (("cs", big), ("cu", 22), ("cu", 15))
            words = "radiant panels" if level <= 1 else "radiators"
            found.append(Branch(riser, level, zone, f"{words}, level {level} {ZONE[zone]}", runs, "emitters"))
    return tuple(found)


_CHILLED_ZONES = (
    ("R1", 5, "N"),
    ("R1", 4, "N"),
    ("R1", 3, "N"),
    ("R1", 2, "N"),
    ("R1", 0, "N"),
    ("R2", 4, "S"),
    ("R2", 3, "S"),
    ("R2", 2, "S"),
)


def _chilled_branches() -> tuple[Branch, ...]:
    found = []
    for riser, level, zone in _CHILLED_ZONES:
        big = 54 if level in (0, 4) else 42
        runs: tuple[Run, ...] = (("cs", big), ("cu", 28), ("cu", 22))
        serves = "kitchen cold-room coolers" if level == 0 else f"fan coils, level {level} {ZONE[zone]}"
        found.append(Branch(riser, level, zone, serves, runs, "coolers"))
    return tuple(found)


_WATER_USES = {
    (0, "N"): "kitchen sinks and refectory",
    (0, "S"): "cleaners' store and wash room",
    (1, "N"): "workshop wash room",
    (1, "S"): "workshop sinks",
    (2, "N"): "wash rooms and tea point",
    (2, "S"): "tea point",
    (3, "N"): "wash rooms and tea point",
    (3, "S"): "tea point",
    (4, "N"): "clinic treatment rooms",
    (4, "S"): "clinic wash rooms",
    (5, "N"): "studio wash room",
}


def _water_branches(big: Run, middle: Run, skip: tuple[tuple[int, str], ...] = ()) -> tuple[Branch, ...]:
    runs = tuple(dict.fromkeys((big, middle, ("cu", 15))))
    return tuple(
        Branch("R1" if zone == "N" else "R2", level, zone, serves, runs, "outlets")
        for (level, zone), serves in _WATER_USES.items()
        if (level, zone) not in skip
    )


def _runs(material: str, *sizes: float) -> tuple[Run, ...]:
    return tuple((material, size) for size in sizes)


DOWN, UP = (5, 4, 3, 2, 1, 0), (0, 1, 2, 3, 4, 5)
WARM = "Mineral wool 25 mm, foil faced"
COLD = "Closed-cell rubber 19 mm, all seams glued as vapour barrier"
FAMILIES = {"copper": "FAM-C", "stainless_steel": "FAM-S", "carbon_steel": "FAM-K"}

NETWORKS = (
    Network(
        "LTHW-F",
        "LF",
        "Heating flow",
        "PL-BOILER-F",
        "Boiler header, flow, roof plant room",
        5,
        True,
        {"R1": ("cs", 76.1), "R2": ("cs", 76.1)},
        (
            Riser("R1", DOWN, _runs("cs", 76.1, 54, 54, 42, 35), "drain", "vent"),
            Riser("R2", DOWN, _runs("cs", 76.1, 54, 54, 42, 35), "drain", "vent"),
        ),
        _heating_branches(),
        "SUB-1",
        FAMILIES,
        "EPDM",
        WARM,
        "HTG",
    ),
    Network(
        "LTHW-R",
        "LR",
        "Heating return",
        "PL-BOILER-R",
        "Boiler header, return, roof plant room",
        5,
        False,
        {"R1": ("cs", 76.1), "R2": ("cs", 76.1)},
        (
            Riser("R1", UP, _runs("cs", 35, 42, 54, 54, 76.1), "drain"),
            Riser("R2", UP, _runs("cs", 35, 42, 54, 54, 76.1), "drain"),
        ),
        _heating_branches(),
        "SUB-1",
        FAMILIES,
        "EPDM",
        WARM,
        "HTG",
    ),
    Network(
        "CHW-F",
        "CF",
        "Chilled water flow",
        "PL-CHILLER-F",
        "Chiller header, flow, roof plant room",
        5,
        True,
        {"R1": ("cs", 108), "R2": ("cs", 88.9)},
        (
            Riser("R1", (5, 4, 3, 2, 0), _runs("cs", 108, 88.9, 76.1, 54), "drain", "vent"),
            Riser("R2", (5, 4, 3, 2), _runs("cs", 88.9, 76.1, 54), "drain", "vent"),
        ),
        _chilled_branches(),
        "SUB-2",
        FAMILIES,
        "EPDM",
        COLD,
        "CHW",
    ),
    Network(
        "CHW-R",
        "CR",
        "Chilled water return",
        "PL-CHILLER-R",
        "Chiller header, return, roof plant room",
        5,
        False,
        {"R1": ("cs", 108), "R2": ("cs", 88.9)},
        (
            Riser("R1", (0, 2, 3, 4, 5), _runs("cs", 54, 76.1, 88.9, 108), "drain"),
            Riser("R2", (2, 3, 4, 5), _runs("cs", 54, 76.1, 88.9), "drain"),
        ),
        _chilled_branches(),
        "SUB-2",
        FAMILIES,
        "EPDM",
        COLD,
        "CHW",
    ),
    Network(
        "MCW",
        "MC",
        "Mains cold water",
        "PL-METER-W",
        "Water meter, level 0 plant room",
        0,
        True,
        {"R3": ("st", 54)},
        (Riser("R3", UP, _runs("st", 42, 42, 35, 35, 28), "drain"),),
        (
            Branch("R3", 0, "E", "kitchen drinking water", (("st", 42), ("st", 28), ("st", 22)), "outlets"),
            Branch("R3", 1, "E", "workshop drinking point", (("st", 22), ("st", 15)), "outlets"),
            Branch("R3", 2, "E", "office drinking points", (("st", 28), ("st", 22), ("s1", 15)), "outlets"),
            Branch("R3", 3, "E", "office drinking points", (("st", 28), ("st", 22), ("s1", 15)), "outlets"),
            Branch("R3", 4, "E", "clinic drinking points", (("st", 28), ("st", 22), ("s1", 15)), "outlets"),
            Branch("R3", 5, "E", "fill points, roof plant room", (("st", 28), ("st", 22)), "fill unit"),
        ),
        "SUB-3",
        FAMILIES,
        "EPDM",
        COLD,
        "DWS",
    ),
    Network(
        "BCW",
        "BC",
        "Boosted cold water",
        "PL-BOOSTER",
        "Booster set, level 0 plant room",
        0,
        True,
        {"R1": ("st", 88.9), "R2": ("st", 76.1)},
        (
            Riser("R1", UP, _runs("st", 76.1, 54, 54, 42, 42), "drain"),
            Riser("R2", (0, 1, 2, 3, 4), _runs("st", 54, 54, 42, 35), "drain"),
        ),
        _water_branches(("st", 35), ("cu", 22)),
        "SUB-3",
        FAMILIES,
        "EPDM",
        COLD,
        "DWS",
    ),
    Network(
        "DHW-F",
        "HF",
        "Hot water flow",
        "PL-CALORIFIER-F",
        "Calorifier, flow, level 0 plant room",
        0,
        True,
        {"R1": ("st", 54), "R2": ("st", 54)},
        (
            Riser("R1", UP, _runs("st", 54, 42, 42, 35, 28), "drain", "vent"),
            Riser("R2", (0, 1, 2, 3, 4), _runs("st", 42, 42, 35, 28), "drain"),
        ),
        _water_branches(("cu", 28), ("cu", 22)),
        "SUB-3",
        FAMILIES,
        "EPDM",
        WARM,
        "DWS",
    ),
    Network(
        "DHW-R",
        "HR",
        "Hot water return",
        "PL-CALORIFIER-R",
        "Calorifier, return pump, level 0 plant room",
        0,
        False,
        {"R1": ("cu", 28), "R2": ("cu", 28)},
        (
            Riser("R1", (4, 3, 2, 1, 0), _runs("cu", 22, 22, 28, 28), "drain"),
            Riser("R2", (4, 3, 2, 1, 0), _runs("cu", 22, 22, 28, 28), "drain"),
        ),
        _water_branches(("cu", 22), ("cu", 15), skip=((5, "N"), (1, "S"), (3, "S"))),
        "SUB-3",
        FAMILIES,
        "EPDM",
        WARM,
        "DWS",
    ),
    Network(
        "CA",
        "CA",
        "Compressed air",
        "PL-COMPRESSOR",
        "Air receiver, level 0 plant room",
        0,
        True,
        {"R4": ("st", 54)},
        (Riser("R4", (0, 1, 4, 5), _runs("st", 54, 42, 35), "drain"),),
        (
            Branch("R4", 0, "E", "loading bay tools", (("cu", 35), ("cu", 22)), "air points"),
            Branch("R4", 1, "W", "workshop benches west", (("cu", 42), ("cu", 28), ("cu", 22)), "air points"),
            Branch("R4", 4, "E", "clinic surgery chairs", (("cu", 28), ("cu", 22)), "air points"),
            Branch("R4", 5, "E", "studio stage lifts", (("cu", 28), ("cu", 22)), "air points"),
        ),
        "SUB-4",
        FAMILIES,
        "FKM",
        "None",
        "CA",
    ),
    Network(
        "NG",
        "NG",
        "Natural gas",
        "PL-METER-G",
        "Gas meter, yard housing, level 0",
        0,
        True,
        {"R4": ("cu", 54)},
        (Riser("R4", (0, 1, 3, 5), _runs("cu", 54, 54, 54)),),
        (
            Branch("R4", 0, "E", "kitchen ranges", (("cu", 42), ("cu", 28)), "appliances"),
            Branch("R4", 1, "W", "workshop forge", (("cu", 28), ("cu", 22)), "appliances"),
            Branch("R4", 5, "N", "boilers, roof plant room", (("cu", 54), ("cu", 35)), "appliances"),
        ),
        "SUB-4",
        {"copper": "FAM-G"},
        "HNBR",
        "None",
        "GAS",
    ),
)
