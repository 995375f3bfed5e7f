"""Stages at which project.yml asks for a witness."""

from witnessmark.checks.testing.proving_tests import in_time_order
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage


def witnessed_stages(project: Project) -> list[TestStage]:
    """Passed stages of known sections that need a witness, in the order of their days; none where none is asked for."""
    wanted = project.settings.witness.stages
    return in_time_order(
        stage
        for stage in project.records.tests
        if stage.stage in wanted and stage.result == "pass" and stage.section_ids
    )


def systems_of(project: Project, stage: TestStage) -> list[str]:
    """Systems of the sections of a stage."""
    found = {s.system_id for name in stage.section_ids if (s := project.sections.get(name)) is not None and s.system_id}
    return sorted(found)
