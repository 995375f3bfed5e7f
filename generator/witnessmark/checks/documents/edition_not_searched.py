"""The built editions were not searched for names of people."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="edition-not-searched",
    question="Was every byte of the tag and the facilities edition searched for names, telephone numbers and places?",
    severity=Severity.BREAKS,
    closes="Search text, file names and the data inside photos of the built editions, and take out what is found.",
    whose="whoever keeps the records",
    what="The built files of the editions that others than the auditor get, photos with the place where they were taken "
    "included. It is listed here and cannot be asked yet: file names, titles and kinds of documents are asked by other "
    "questions.",
    why="What was left in a photo is seen by whoever opens it.",
    example="A photo in the facilities edition holds the place at which it was taken.",
    passes="Nothing of the operatives table is found in any file of the tag and the facilities edition.",
)


def run(_project: Project, _workings: Workings) -> Answer:
    """It waits for the built editions."""
    return Answer(0, ())


CHECK = Check(RULE, run, awaits="a search of the built editions, which stand only after the checks were asked")
