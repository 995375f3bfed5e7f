"""Every formula of a pack: its text, symbols, range and source, by the id that figures carry."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Symbol:
    """A letter of a formula, what it stands for, and its unit."""

    letter: str
    meaning: str
    unit: str


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula as people read it. ``standing``: published, common practice, from memory, or derived here."""

    id: str
    title: str
    text: str
    unit: str
    places: int
    symbols: tuple[Symbol, ...]
    validity: str
    source: str
    standing: str

    @property
    def citation(self) -> str:
        """Source and standing in words."""
        return f"{self.source} ({self.standing})"


def _symbols(*parts: str) -> tuple[Symbol, ...]:
    return tuple(Symbol(*(part.strip() for part in text.split("|"))) for text in parts)


_D, _T, _L = "D|outside diameter|mm", "t|wall|mm", "L|length|m"
_RHO = "ρ|density|kg/m³"
_GEOMETRY = "geometry"

FORMULAS: tuple[Formula, ...] = (
    Formula(
        "bore", "Bore of a tube", "d = D − 2·t", "mm", 1, _symbols("d|bore|mm", _D, _T),
        "Nominal sizes; tolerances of the tube are not taken into account.", _GEOMETRY, "published",
    ),
    Formula(
        "tube-content", "Content of a tube", "V = π/4 · (D − 2·t)² · L / 1000", "L", 1,
        _symbols("V|content|L", _D, _T, _L),
        "Nominal sizes; tube alone: fittings, valves and plant are not in it.", _GEOMETRY, "published",
    ),
    Formula(
        "fittings-allowance", "Allowance for fittings", "Va = x · V / 100", "L", 1,
        _symbols("Va|allowance|L", "x|declared share|%", "V|content of the tubes|L"),
        "A share that the designer declares; nothing is added where none is declared.", "arithmetic", "common practice",
    ),
    Formula(
        "empty-mass", "Mass of a metre of empty tube", "m' = π·(D − t)·t·ρw / 10⁶", "kg/m", 2,
        _symbols("m'|mass per metre|kg/m", _D, _T, "ρw|density of the tube|kg/m³"),
        "Bare tube: no insulation, fittings or brackets.", _GEOMETRY, "published",
    ),
    Formula(
        "filled-mass", "Mass of a metre of filled tube", "m' = π·(D − t)·t·ρw / 10⁶ + π/4·(D − 2·t)²·ρ / 10⁶", "kg/m",
        2, _symbols("m'|mass per metre|kg/m", _D, _T, "ρw|density of the tube|kg/m³", "ρ|density of the content|kg/m³"),
        "Bare tube with its content: no insulation, fittings or brackets.", _GEOMETRY, "published",
    ),
    Formula(
        "hoop-rating", "Rating of a tube by its hoop stress", "p = 20 · S · t / (D − t)", "bar", 1,
        _symbols("p|rating|bar", "S|allowable stress at the temperature|MPa", _D, _T),
        "Plain straight tube at rest, up to D/d = 1.7; no fitting, bend, corrosion allowance or fatigue. The stress of "
        "the lowest tabulated temperature is kept below it, down to −24 °C.",
        "EN 13480-3, 6.1, joint coefficient 1; agrees with a public table of EN 1057 working pressures",
        "from memory",
    ),
    Formula(
        "envelope-rating", "Rating of a component at a temperature",
        "p(T) = p1 + (p2 − p1) · (T − T1) / (T2 − T1)", "bar", 1,
        _symbols("p|rating|bar", "T|temperature|°C", "T1, p1|point of the declared table below|°C, bar",
                 "T2, p2|point of the declared table above|°C, bar"),
        "Straight between declared points; outside the table the component is not rated.",
        "straight-line interpolation between declared points", "common practice",
    ),
    Formula(
        "section-rating", "Rating of a section", "p = least of the ratings of its components at T", "bar", 1,
        _symbols("p|rating|bar", "T|temperature|°C"),
        "Holds for the components that are recorded; one without a declared rating leaves it unknown.",
        "weakest component", "common practice",
    ),
    Formula(
        "rating-margin", "Margin to the rating", "m = 100 · (pr − p) / pr", "%", 0,
        _symbols("m|margin|%", "pr|rating of the section at its lowest point|bar", "p|pressure there|bar"),
        "Both at one height; the pressure includes static head, pump head and surge.", "definition", "common practice",
    ),
    Formula(
        "static-head", "Static head", "Δp = ρ · g · Δz / 10⁵", "bar", 2,
        _symbols("Δp|static head|bar", _RHO, "g|9.80665 m/s²|m/s²", "Δz|difference of height|m"),
        "At rest, one density all the way.", "hydrostatics; standard gravity of ISO 80000-3", "published",
    ),
    Formula(
        "pressure-at-height", "Pressure at another height than the gauge", "p(z) = pg + ρ · g · (zg − z) / 10⁵", "bar",
        2, _symbols("p|pressure at z|bar", "pg|reading of the gauge|bar", _RHO, "g|9.80665 m/s²|m/s²",
                    "zg|elevation of the gauge|m", "z|elevation|m"),
        "At rest. Air and nitrogen weigh so little that one pressure is taken for all heights "
        "(less than 0.3 % in 20 m up to 8 bar).",
        "hydrostatics; standard gravity of ISO 80000-3", "published",
    ),
    Formula(
        "boiling-limit", "Least pressure that keeps water liquid", "p = max(0, ps(T) − pa)", "bar", 2,
        _symbols("p|gauge pressure|bar", "ps|saturation pressure at T, absolute|bar", "T|temperature|°C",
                 "pa|atmosphere|bar"),
        "Plain water, 0 to 250 °C; no margin against flashing at pumps and valves.",
        "Wagner and Pruss 1993, IAPWS supplementary equation", "published",
    ),
    Formula(
        "required-pressure", "Required test pressure", "p = factor · basis, at most the cap; or the fixed pressure",
        "bar", 2, _symbols("p|required at the highest point|bar", "basis|maximum operating or design pressure|bar"),
        "As the procedure says; the maximum operating and the maximum design pressure are not the same.",
        "the procedure named", "common practice",
    ),
    Formula(
        "required-hold", "Required hold", "t = base + extra · ⌈(V − V0) / 100⌉", "min", 0,
        _symbols("t|hold|min", "base|hold of the procedure|min", "extra|more for every 100 L begun|min", "V|content|L",
                 "V0|content without extra hold|L"),
        "As the procedure says.", "the procedure named", "common practice",
    ),
    Formula(
        "hold-by-clock", "Hold by the clock", "t = end − start, in the time zone of the building", "min", 0,
        _symbols("t|hold|min"), "A hold that ends earlier on the clock than it began is taken to cross one midnight.",
        "calendar and time zone rules", "published",
    ),
    Formula(
        "gas-correction", "Drop of a gas that temperature and barometer leave unexplained",
        "Δp = (p1 + pa1) · T2/T1 − pa2 − p2", "bar", 4,
        _symbols("p1, p2|gauge readings at start and end|bar", "pa1, pa2|barometer at start and end|bar",
                 "T1, T2|absolute temperature of the gas|K"),
        "Ideal gas, constant volume, up to 16 bar.", "ideal gas law", "published",
    ),
    Formula(
        "closed-pipe", "What temperature does to a closed pipe full of water",
        "dp/dT = (αV − 3·αL + f/T) / (κ + c + f/p)", "bar/K", 2,
        _symbols("αV|volumetric expansion of water|1/K", "αL|linear expansion of the tube|1/K",
                 "κ|compressibility of water|1/bar", "c|growth of the bore per bar|1/bar",
                 "f|trapped air, share of the content|1", "T|absolute temperature|K", "p|absolute pressure|bar"),
        "A range, for want of the trapped air: to judge whether a record is plausible, never to excuse a drop.",
        "balance of volumes, as in DNV-RP-F115; wall and air terms derived here", "published",
    ),
    Formula(
        "gas-energy", "Energy stored in a gas under test", "E = 0.25 · pt · V · (1 − (pa/pt)^0.286)", "kJ", 1,
        _symbols("E|stored energy|kJ", "pt|absolute test pressure|bar", "V|content|L", "pa|1.01 bar|bar"),
        "Information, no clearance: local codes and a written system of work decide.",
        "ASME PCC-2 (2008), Article 501", "published",
    ),
    Formula(
        "gauge-share", "Where on its dial a gauge worked", "s = 100 · (p − p0) / (p1 − p0)", "%", 0,
        _symbols("s|share of the span|%", "p|reading|bar", "p0, p1|ends of the range|bar"),
        "Reading at the gauge.", "definition; the range of 25 to 75 % is data", "common practice",
    ),
    Formula(
        "gauge-error", "Largest error of a gauge in calibration", "e = class / 100 · (p1 − p0)", "bar", 3,
        _symbols("e|error|bar", "class|accuracy class|%", "p0, p1|ends of the range|bar"),
        "Dial gauges; alike all along the dial.", "EN 837-1", "from memory",
    ),
    Formula(
        "smallest-leak-water", "Smallest leak that a water test could show", "q = 1000 · V · (κ + c + f/p) · Δp / t",
        "mL/min", 2,
        _symbols("q|smallest leak|mL/min", "V|content|L", "κ|compressibility of water|1/bar",
                 "c|growth of the bore per bar|1/bar", "f|trapped air, share of the content|1",
                 "p|absolute pressure|bar", "Δp|smallest drop that the record can tell from none|bar", "t|hold|min"),
        "Settled temperature, steady leak; eyes on every joint see more than the gauge does.",
        "balance of volumes, derived here", "common practice",
    ),
    Formula(
        "smallest-leak-gas", "Smallest leak that a gas test could show", "q = 1000 · V · Δp / (pa · t)", "mL/min", 1,
        _symbols("q|smallest leak, as gas at atmospheric pressure|mL/min", "V|content|L", "pa|atmosphere|bar",
                 "Δp|smallest drop that the record can tell from none|bar", "t|hold|min"),
        "After correction for temperature and barometer.", "ideal gas law", "published",
    ),
    Formula(
        "drain-time", "Least time to drain", "t = 2·A / (Cd · a) · √(h / 2g)", "s", 0,
        _symbols("t|time|s", "A|bore area|mm²", "Cd|discharge coefficient|1", "a|area of the open drain|mm²",
                 "h|height|m", "g|9.80665 m/s²|m/s²"),
        "At least: one straight column, vent open at the top, no friction and no hose.", "Torricelli", "published",
    ),
    Formula(
        "expansion", "Thermal expansion", "ΔL = α · L · ΔT / 1000", "mm", 1,
        _symbols("ΔL|change of length|mm", "α|linear expansion|10⁻⁶/K", _L, "ΔT|change of temperature|K"),
        "Mean coefficient between 20 and 100 °C; free pipe.", "definition; coefficients of EN 10088-1 and handbooks",
        "published",
    ),
    Formula(
        "dose", "First dose of a product", "Vp = V · x / 100", "L", 2,
        _symbols("Vp|product|L", "V|content|L", "x|dose of the data sheet, by volume|%"),
        "Tube alone: plant and fittings hold more.", "definition", "common practice",
    ),
    Formula(
        "flow", "Flow at a velocity", "Q = A · v / 1000", "L/s", 2,
        _symbols("Q|flow|L/s", "A|bore area|mm²", "v|mean velocity|m/s"), "Mean velocity in the full bore.",
        "continuity", "published",
    ),
    Formula(
        "flush-time", "Time to flush", "t = n · V / Q", "min", 1,
        _symbols("t|time|min", "n|changes of water|1", "V|content|L", "Q|flow|L/min"),
        "Plug flow: what dead legs hold is not changed.", "commentary beside EN 806-4, 6.2.1", "published",
    ),
    Formula(
        "hole-leak", "Leak through a hole", "Q = Cd · A · √(2·p / ρ)", "L/min", 1,
        _symbols("Q|leak|L/min", "Cd|discharge coefficient|1", "A|area of the hole|mm²", "p|pressure|bar", _RHO),
        "Liquid, sharp-edged round hole, pressure kept up.", "orifice equation", "published",
    ),
    Formula(
        "support-spacing", "Largest spacing of supports", "as the table says for the size", "m", 1, (),
        "Only sizes that the table lists; no neighbour is taken instead.", "spacing table named", "common practice",
    ),
    Formula(
        "guarantee-end", "End of a guarantee",
        "last day = day of the start + years, by the calendar (29 February: 28 February in a common year)", "", 0, (),
        "By the terms in project.yml.", "calendar", "common practice",
    ),
    Formula(
        "trace-trend", "Slope of a trace", "least squares line through the readings of the hold", "bar/h", 3,
        _symbols("slope|change of pressure per hour|bar/h"),
        "Range of 95 %, with the number of independent readings cut for readings that follow one another.",
        "least squares; Bayley and Hammersley 1946", "from memory",
    ),
)  # fmt: skip

BY_ID: dict[str, Formula] = {formula.id: formula for formula in FORMULAS}
