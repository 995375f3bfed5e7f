"""What a test stage was done on: its sections as one, with their heights, pressures, content and walls."""

from dataclasses import dataclass

from witnessmark.engineering.closed_pipe import Wall, wall_compliance
from witnessmark.engineering.errors import EngineeringError
from witnessmark.model.project import Project
from witnessmark.model.quantity import Input
from witnessmark.model.records import Section, System, TestStage
from witnessmark.workings.calculation import Known, Limits, recorded, written
from witnessmark.workings.materials import material_figure
from witnessmark.workings.tube_content import TubeWorking


@dataclass(frozen=True, slots=True)
class TubeWall:
    """What the tubes of a test bring to the balance of a closed pipe, weighed by their content."""

    wall: Wall | None
    basis: str
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TestScope:
    """The sections of a test taken together. Elevations m, pressures bar gauge, volume L, sizes mm."""

    __test__ = False

    sections: tuple[Section, ...]
    unknown_sections: tuple[str, ...]
    system_ids: tuple[str, ...]
    services: tuple[str, ...]
    high_m: Known
    low_m: Known
    operating_bar: Known
    design_bar: Known
    volume_l: Known
    largest_od_mm: float | None
    wall: TubeWall


class ScopeFinder:
    """Finds scopes; stages of one test share theirs."""

    def __init__(self, project: Project, tubes: dict[str, tuple[TubeWorking, ...]]) -> None:
        self._project = project
        self._tubes = tubes
        self._limits = Limits()
        self._scopes: dict[tuple[str, ...], TestScope] = {}
        self._compliances: dict[tuple[str, float, float], tuple[float, float, str] | str] = {}

    def scope(self, stage: TestStage) -> TestScope:
        """The scope of a stage."""
        if stage.section_ids not in self._scopes:
            self._scopes[stage.section_ids] = self._found(stage.section_ids)
        return self._scopes[stage.section_ids]

    def _found(self, section_ids: tuple[str, ...]) -> TestScope:
        sections = tuple(self._project.sections[name] for name in section_ids if name in self._project.sections)
        systems = {s.section_id: self._project.systems.get(s.system_id or "") for s in sections}
        tubes = [tube for section in sections for tube in self._tubes.get(section.section_id, ())]
        sizes = [tube.tube.od_mm for tube in tubes if tube.tube.od_mm is not None]
        return TestScope(
            sections=sections,
            unknown_sections=tuple(name for name in section_ids if name not in self._project.sections),
            system_ids=tuple(sorted({s.system_id for s in sections if s.system_id})),
            services=tuple(sorted({s.service for s in systems.values() if s is not None and s.service})),
            high_m=_extreme(sections, "elevation_high_m", "elevation of the highest point", highest=True),
            low_m=_extreme(sections, "elevation_low_m", "elevation of the lowest point", highest=False),
            operating_bar=self._pressure(sections, systems, "max_operating_pressure_bar", "maximum operating pressure"),
            design_bar=self._pressure(sections, systems, "max_design_pressure_bar", "maximum design pressure"),
            volume_l=_volume(sections, self._tubes),
            largest_od_mm=max(sizes) if sizes else None,
            wall=self._wall(tubes),
        )

    def _pressure(
        self, sections: tuple[Section, ...], systems: dict[str, System | None], field: str, name: str
    ) -> Known:
        known = [self._limits.of(section, systems[section.section_id], field, name, "bar") for section in sections]
        if not known:
            return Known(None, None, f"the {name}: no section of the test is in the records")
        for each in known:
            if each.value is None:
                return each
        return max(known, key=lambda each: each.value or 0.0)

    def _wall(self, tubes: list[TubeWorking]) -> TubeWall:
        litres = expansion = growth = 0.0
        bases: dict[str, None] = {}
        for working in tubes:
            tube, wall, content = working.tube, working.wall_mm.value, working.content_l.value
            if tube.material is None or tube.od_mm is None or wall is None or content is None:
                return TubeWall(None, "", ("material, size, wall and length of every tube, in the tubes table",))
            key = (tube.material, tube.od_mm, wall)
            if key not in self._compliances:
                self._compliances[key] = _wall_of(*key)
            found = self._compliances[key]
            if isinstance(found, str):
                return TubeWall(None, "", (found,))
            litres += content
            expansion += content * found[0]
            growth += content * found[1]
            bases[found[2]] = None
        if not litres:
            return TubeWall(None, "", ("a tube length for the sections tested",))
        return TubeWall(Wall(expansion / litres, growth / litres), "; ".join(bases))


def _wall_of(material: str, od_mm: float, wall_mm: float) -> tuple[float, float, str] | str:
    words = material.replace("_", " ")
    figures = [
        material_figure(material, name, take)
        for name, take in (("linear_expansion", "lowest"), ("elastic_modulus", "lowest"), ("poisson_ratio", "lowest"))
    ]
    expansion, modulus, poisson = figures
    if expansion is None or modulus is None or poisson is None:
        return f"expansion and stiffness of {words}"
    try:
        compliance = wall_compliance(od_mm, wall_mm, modulus.value, poisson.value)
    except EngineeringError as error:
        return f"a possible size of the tube: {error}"
    basis = f"{words}: α {expansion.value:g} 10⁻⁶/K, E {modulus.value:g} GPa, ν {poisson.value:g}, {modulus.basis}"
    return expansion.value * 1e-6, compliance, basis


def _extreme(sections: tuple[Section, ...], field: str, name: str, *, highest: bool) -> Known:
    known = [recorded(section, field, name, "m") for section in sections]
    if not known:
        return Known(None, None, f"the {name}: no section of the test is in the records")
    for each in known:
        if each.value is None:
            return each
    return (max if highest else min)(known, key=lambda each: each.value or 0.0)


def _volume(sections: tuple[Section, ...], tubes: dict[str, tuple[TubeWorking, ...]]) -> Known:
    total = 0.0
    for section in sections:
        contents = [tube.content_l for tube in tubes.get(section.section_id, ())]
        if not contents or any(content.value is None for content in contents):
            return Known(None, None, f"the content of section {section.section_id}")
        total += sum(content.value or 0.0 for content in contents)
    if not sections or total <= 0:
        return Known(None, None, "the content of the sections tested")
    many = f"{len(sections)} sections" if len(sections) > 1 else f"section {sections[0].section_id}"
    return Known(total, Input("content V", written(total, "L"), None, f"tubes of {many}; fittings and plant left out"))
