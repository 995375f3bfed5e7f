"""Working aids of a section page: draining, expansion, dosing, flow, flushing, leaks, supports, load."""

import csv
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import pi

from witnessmark.engineering import dosing, drainage, expansion, supports, tube, water
from witnessmark.model.bundled import shared_path
from witnessmark.model.project import Project
from witnessmark.model.quantity import Worked
from witnessmark.model.records import Section, System
from witnessmark.workings.calculation import Known, Limits, calculated, given, of_worked, recorded, unknown
from witnessmark.workings.materials import material_figure
from witnessmark.workings.practice import flushing_rule, leak_rule
from witnessmark.workings.section_rating import GASES, WATERS, water_density
from witnessmark.workings.tube_content import TubeWorking, summed

SUPPORT_BASIS = "uk"
DRAIN_BORE_MM = 13.0
"""Bore of a half-inch drain cock, the least to expect; shown as an input of the figure."""
HOLES_MM = (1.0, 3.0, 5.0)
DOSE_PERCENT = 1.0


@dataclass(frozen=True, slots=True)
class SupportSpacing:
    """Largest spacing of supports for one size, m."""

    material: str
    od_mm: float
    horizontal_m: Worked
    vertical_m: Worked


@dataclass(frozen=True, slots=True)
class SizeAid:
    """Figures of one tube size of a section."""

    working: TubeWorking
    expansion_mm: Worked
    """Between the lowest and the highest temperature, over the recorded length."""
    filled_mass_kg_m: Worked
    empty_mass_kg_m: Worked
    flow_at_one_m_s: Worked


@dataclass(frozen=True, slots=True)
class SectionAids:
    """Aids for the recorded case of one section; what is not recorded is named."""

    section_id: str
    drain_volume_l: Worked
    drain_time_s: Worked
    """At least: one straight column, vent open."""
    dose_l: Worked
    glycol_l: Worked
    flush_flow_l_s: Worked
    """At the flushing velocity in the largest pipe."""
    flush_time_min: Worked
    hole_leaks: tuple[tuple[float, Worked], ...]
    """Diameter of the hole, mm, and the leak at the working pressure."""
    sizes: tuple[SizeAid, ...]
    empty_mass_kg: Worked
    """Of all tube of the section, without fittings, insulation and brackets."""
    filled_mass_kg: Worked
    supports: tuple[SupportSpacing, ...]


@cache
def _support_rows() -> tuple[tuple[supports.SupportRow, str], ...]:
    with shared_path("reference/supports.csv").open(encoding="utf-8", newline="") as handle:
        return tuple(
            (
                supports.SupportRow(
                    row["basis"],
                    row["material_family"],
                    float(row["size"]),
                    float(row["horizontal_m"]),
                    float(row["vertical_m"]),
                ),
                f"{row['source']} ({row['standing']})",
            )
            for row in csv.DictReader(handle)
            if row["size_kind"] == "od"
        )


@cache
def support_row(material: str, od_mm: float) -> supports.SupportRow | None:
    """The row of the spacing table for a tube, outside diameter in mm; ``None`` where it has none."""
    return supports.row_for((row for row, _ in _support_rows()), SUPPORT_BASIS, material, od_mm)


class AidWork(Mapping[str, SectionAids]):
    """Aids by section id, worked out when a section is asked for and not kept: a page needs them once."""

    def __init__(self, project: Project, tubes: Mapping[str, tuple[TubeWorking, ...]], contents: Mapping[str, Worked]):
        self._project = project
        self._tubes = tubes
        self._contents = contents
        self._limits = Limits()
        self._supports: dict[tuple[str, float], SupportSpacing] = {}

    def __getitem__(self, section_id: str) -> SectionAids:
        section = self._project.sections[section_id]
        return self._aid(section, self._tubes[section_id], self._contents[section_id])

    def __iter__(self) -> Iterator[str]:
        return iter(self._tubes)

    def __len__(self) -> int:
        return len(self._tubes)

    def _aid(self, section: Section, tubes: tuple[TubeWorking, ...], content: Worked) -> SectionAids:
        system = self._project.systems.get(section.system_id) if section.system_id else None
        medium = system.medium if system is not None else None
        limit = self._limits.of
        cold = limit(section, system, "min_temperature_c", "lowest temperature", "°C")
        hot = limit(section, system, "max_temperature_c", "highest temperature", "°C")
        pressure = limit(section, system, "max_operating_pressure_bar", "maximum operating pressure", "bar")
        liquid = medium in WATERS
        needs_liquid = [] if liquid else [f"a plain water as the medium, which is {_words(medium)}"]
        density = water_density(cold.value, "lowest temperature")
        bore = _largest(tubes)
        sizes = tuple(_size(working, cold, hot, medium) for working in tubes)
        flush_flow = _flow("Flow to flush at", bore, flushing_rule("velocity").known("velocity v"), needs_liquid)
        return SectionAids(
            section_id=section.section_id,
            drain_volume_l=content,
            drain_time_s=_drain_time(section, bore, needs_liquid),
            dose_l=calculated(
                "First dose",
                "dose",
                (of_worked(content), given(DOSE_PERCENT, "dose x", "%", "an example: take the data sheet's")),
                dosing.dose,
            )
            if liquid
            else unknown("First dose", "dose", needs_liquid),
            glycol_l=_glycol(system, content),
            flush_flow_l_s=flush_flow,
            flush_time_min=calculated(
                "Time to flush",
                "flush-time",
                (of_worked(content), flushing_rule("changes").known("changes n"), of_worked(flush_flow)),
                lambda litres, changes, flow: drainage.flush_time(litres, changes, flow) / 60,
            ),
            hole_leaks=tuple((hole, _leak(hole, pressure, density, needs_liquid)) for hole in HOLES_MM),
            sizes=sizes,
            empty_mass_kg=_mass("Mass of the empty tube", "empty-mass", sizes, lambda size: size.empty_mass_kg_m),
            filled_mass_kg=_mass("Mass of the filled tube", "filled-mass", sizes, lambda size: size.filled_mass_kg_m),
            supports=tuple(
                {id(s): s for w in tubes if w.tube.material and w.tube.od_mm for s in (self._spacing(w),)}.values()
            ),
        )

    def _spacing(self, working: TubeWorking) -> SupportSpacing:
        material, od_mm = working.tube.material or "", working.tube.od_mm or 0.0
        if (material, od_mm) not in self._supports:
            row = support_row(material, od_mm)
            basis = next((basis for each, basis in _support_rows() if each is row), "")
            missing = f"a row for {od_mm:g} mm {_words(material)} in the spacing table '{SUPPORT_BASIS}'"
            self._supports[material, od_mm] = SupportSpacing(
                material,
                od_mm,
                *(
                    calculated(
                        f"Support spacing, {way}",
                        "support-spacing",
                        (
                            Known(None, None, missing)
                            if row is None
                            else given(getattr(row, way), f"{way} spacing", "m", basis),
                        ),
                        lambda metres: metres,
                    )
                    for way in ("horizontal", "vertical")
                ),
            )
        return self._supports[material, od_mm]


def _mass(name: str, formula_id: str, sizes: Sequence[SizeAid], of: Callable[[SizeAid], Worked]) -> Worked:
    """Mass of all tube of a section: mass per metre times recorded length, summed."""
    parts = []
    for size in sizes:
        per_metre, length = of(size), recorded(size.working.tube, "length_m", "length L", "m")
        missing = (*per_metre.missing, *((length.missing,) if length.value is None else ()))
        mass = None if per_metre.value is None or length.value is None else per_metre.value * length.value
        inputs = (*per_metre.inputs, *((length.input,) if length.input else ()))
        parts.append(Worked(name, mass, "kg", 1, per_metre.formula, inputs, missing=missing))
    total = summed(name, "kg", 1, parts, "sum over the tubes of m' · L", "a tube length for the section")
    limits = "Tube alone: no fittings, valves, insulation or brackets."
    return replace(total, formula_id=formula_id, limits=limits)


def system_masses(aids: Iterable[SectionAids]) -> tuple[Worked, Worked]:
    """Empty and filled mass of the tube of a system, as sums over its sections; kg."""
    members = list(aids)

    def total(name: str, parts: list[Worked]) -> Worked:
        # The pages of the sections open to the cells; a system names the sum alone.
        bare = [replace(part, inputs=()) for part in parts]
        return summed(name, "kg", 0, bare, "sum over its sections", "a section of the system")

    return (
        total("Mass of the empty tube", [member.empty_mass_kg for member in members]),
        total("Mass of the filled tube", [member.filled_mass_kg for member in members]),
    )


def _words(word: str | None) -> str:
    return (word or "not recorded").replace("_", " ")


def _largest(tubes: tuple[TubeWorking, ...]) -> Known:
    bores = [working.bore_mm for working in tubes]
    if not bores:
        return Known(None, None, "a tube of the section")
    for bore in bores:
        if bore.value is None:
            return of_worked(bore)
    return of_worked(max(bores, key=lambda bore: bore.value or 0.0))


def _area(bore_mm: float) -> float:
    return pi / 4 * bore_mm**2


def _flow(name: str, bore: Known, velocity: Known, missing: list[str]) -> Worked:
    title = f"{name} {velocity.value:g} m/s"
    if missing:
        return unknown(title, "flow", missing)
    return calculated(title, "flow", (bore, velocity), lambda d, v: drainage.flow_at_velocity(_area(d), v))


def _drain_time(section: Section, bore: Known, missing: list[str]) -> Worked:
    if missing:
        return unknown("Time to drain, at least", "drain-time", missing)
    coefficient = leak_rule("discharge_coefficient_drain")
    return calculated(
        "Time to drain, at least",
        "drain-time",
        (
            bore,
            recorded(section, "elevation_high_m", "elevation of the highest point", "m"),
            recorded(section, "elevation_low_m", "elevation of the lowest point", "m"),
            given(DRAIN_BORE_MM, "bore of the drain", "mm", "half-inch drain cock, common practice"),
            coefficient.known("discharge coefficient Cd"),
        ),
        lambda d, high, low, drain, cd: drainage.drain_time(_area(d), high - low, drain, cd),
    )


def _glycol(system: System | None, content: Worked) -> Worked:
    name = "Glycol in the filling"
    if system is None:
        return unknown(name, "dose", ("the system",))
    if system.medium != "glycol_water":
        return unknown(name, "dose", (f"glycol as the medium, which is {_words(system.medium)}",))
    share = recorded(system, "glycol_percent", "share of glycol by volume", "%")
    return calculated(name, "dose", (of_worked(content), share), dosing.glycol_by_volume)


def _leak(hole: float, pressure: Known, density: Known, missing: list[str]) -> Worked:
    name = f"Leak through a hole of {hole:g} mm"
    if missing:
        return unknown(name, "hole-leak", missing)
    coefficient = leak_rule("discharge_coefficient_hole").known("discharge coefficient Cd")
    diameter = given(hole, "diameter of the hole", "mm", "an example")
    return calculated(name, "hole-leak", (diameter, pressure, density, coefficient), drainage.hole_leak)


def _size(working: TubeWorking, cold: Known, hot: Known, medium: str | None) -> SizeAid:
    row, wall = working.tube, working.wall_mm
    material = row.material
    alpha = material_figure(material, "linear_expansion", "highest") if material else None
    rho = material_figure(material, "density", "highest") if material else None
    no_material = Known(None, None, f"the material of the tube in {row.source.location.words}")
    growth = calculated(
        "Expansion between the lowest and the highest temperature",
        "expansion",
        (
            recorded(row, "length_m", "length L", "m"),
            no_material if alpha is None else given(alpha.value, "α", "10⁻⁶/K", alpha.basis),
            cold,
            hot,
        ),
        expansion.change_of_length,
    )
    outside = recorded(row, "od_mm", "outside diameter D", "mm")
    steel = no_material if rho is None else given(rho.value, "ρw", "kg/m³", rho.basis)
    if medium in GASES:
        content = given(0.001, "density of the content", "kg/m³", "gas: its mass is left out")
    elif medium in WATERS and cold.value is not None and water.LOWEST <= cold.value <= water.HIGHEST:
        content = given(
            round(water.density(cold.value), 2), "density of the content", "kg/m³", "water at the lowest temperature"
        )
    else:
        content = Known(None, None, f"the density of the content, {_words(medium)}")
    mass = calculated(
        "Filled mass per metre", "filled-mass", (outside, of_worked(wall), steel, content), tube.filled_mass_per_metre
    )
    empty = calculated(
        "Empty mass per metre", "empty-mass", (outside, of_worked(wall), steel), tube.empty_mass_per_metre
    )
    one = given(1.0, "velocity v", "m/s", "an example")
    return SizeAid(working, growth, mass, empty, _flow("Flow at", of_worked(working.bore_mm), one, []))
