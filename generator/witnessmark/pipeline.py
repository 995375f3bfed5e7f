"""The whole trip: read the records, work everything out, check everything. Data travels one way."""

import gc
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from witnessmark.checks.judgement import Judgement
from witnessmark.checks.run import judge
from witnessmark.evidence.evidence import Evidence
from witnessmark.intake.project_reader import read_project
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings, work

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Outcome:
    """A project read, worked out and judged: all that pages and packs are made from."""

    project: Project
    workings: Workings
    judgement: Judgement
    evidence: Evidence = field(init=False, repr=False, compare=False)
    """What the answers amount to; its parts are worked out when a page asks."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "evidence", Evidence(self.project, self.workings, self.judgement))


def run(folder: Path, progress: Progress = lambda _: None) -> Outcome:
    """Take a project folder through the trip.

    Raises ``UnusableProject`` with one clear sentence where nothing can be built.
    """
    collecting = gc.isenabled()
    # Records are made once and kept: looking for garbage among them would take a third of the time and find none.
    gc.disable()
    try:
        progress("reading the records")
        project = read_project(folder)
        progress("working out")
        workings = work(project)
        progress("checking")
        return Outcome(project, workings, judge(project, workings))
    finally:
        gc.freeze()
        if collecting:
            gc.enable()
