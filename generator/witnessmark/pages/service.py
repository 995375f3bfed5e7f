"""A service in words: what it is, its identification bands by BS 1710, what it does to people."""

from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.model.records import System
from witnessmark.pages.words import NOT_IN_RECORDS, choice_words, clean, sentence_start
from witnessmark.workings.reference import services


class Band(NamedTuple):
    """One band of the identification colour."""

    name: str
    srgb: str
    x: int
    """Left edge on a strip 100 wide."""
    width: int


class Hazard(NamedTuple):
    """A hazard: the word for the first screen, and what to mind."""

    word: str
    caution: str


HAZARDS = {
    "hot": Hazard("HOT", "Hot: pipe, valves and what is inside can burn. Let it cool before you open anything."),
    "scald": Hazard(
        "SCALD", "Scald: this water can scald in seconds, at outlets and at drains. Run it to a drain through a hose."
    ),
    "pressure": Hazard(
        "PRESSURE",
        "Pressure: close off, then let the pressure down at a drain or vent, and see that it is gone, before a joint "
        "is opened. The column above goes on pressing after the pump has stopped.",
    ),
    "stored_energy": Hazard(
        "STORED ENERGY",
        "Stored energy: compressed gas throws parts when a joint lets go. Vent slowly, to nothing, and stay out of the "
        "line of the pipe.",
    ),
    "gas": Hazard(
        "GAS",
        "Gas: no flame, no switches, no phone beside it. Open up, leave, and call the gas emergency number. Only "
        "people licensed for gas may work on it.",
    ),
    "legionella": Hazard(
        "LEGIONELLA",
        "Legionella: do not breathe spray from water that has stood. Flush, heat and sample by the building’s written "
        "scheme.",
    ),
    "glycol": Hazard("GLYCOL", "Glycol: keep it off skin and out of drains; catch what comes out."),
    "treated": Hazard(
        "TREATED WATER", "Treated water: it holds chemicals. Not for drinking and not for a surface water drain."
    ),
}
UNKNOWN_HAZARD = Hazard(
    "HAZARDS UNKNOWN",
    "The records do not say what this pipe carries. Until someone has found out on site, take it to be hot and under "
    "pressure.",
)
_MEDIUM_HAZARDS = {"glycol_water": "glycol", "treated_water": "treated"}


@dataclass(frozen=True, slots=True)
class ServiceBrief:
    """What every page says of a service."""

    words: str
    known: bool
    bands: tuple[Band, ...]
    band_words: str
    """Colour names in words, left to right."""
    hazards: tuple[Hazard, ...]
    medium: str
    medium_known: bool


def _bands(names: tuple[tuple[str, str], ...]) -> tuple[Band, ...]:
    edges = [round(100 * i / len(names)) for i in range(len(names) + 1)] if names else []
    return tuple(Band(name, srgb, edges[i], edges[i + 1] - edges[i]) for i, (name, srgb) in enumerate(names))


def service_brief(system: System | None) -> ServiceBrief:
    """The brief of a system; an unknown system or service says so and is never shown as harmless."""
    service = services().get(system.service) if system is not None and system.service else None
    medium = system.medium if system is not None else None
    hazards = [HAZARDS[key] for key in (service.hazards if service else ())]
    if medium in _MEDIUM_HAZARDS:
        hazards.append(HAZARDS[_MEDIUM_HAZARDS[medium]])
    if service is None or service.key == "other":
        hazards.append(UNKNOWN_HAZARD)
    colours = tuple((band.name, band.srgb) for band in service.bands) if service else ()
    return ServiceBrief(
        words=service.words if service else f"Service {NOT_IN_RECORDS}",
        known=service is not None,
        bands=_bands(colours),
        band_words=" · ".join(name for name, _ in colours),
        hazards=tuple(hazards),
        medium=clean(sentence_start(choice_words(medium))) if medium else f"medium {NOT_IN_RECORDS}",
        medium_known=medium is not None,
    )
