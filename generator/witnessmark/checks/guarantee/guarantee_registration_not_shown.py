"""A guarantee is said to be registered, and no document shows it."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.settings import GuaranteeTerms
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="guarantee-registration-not-shown",
    question="Does a document show the registration of every guarantee that is said to be registered?",
    severity=Severity.BREAKS,
    closes="Put the receipt or the form as sent, with what was sent along, into documents/, give it the kind "
    "'registration' in the documents table, and name it in project.yml under 'registration'.",
    whose="the contractor handing over",
    what="Materials of the sections whose terms in project.yml give a day of registration: the document named there must be in "
    "the documents table and be of the kind 'registration'.",
    why="Years later the receipt is all that shows that the form was sent.",
    example="The guarantee for copper was registered on 20 March 2026, and project.yml names no document that shows it.",
    passes="The guarantee for copper was registered on 20 March 2026, shown by document DOC-040.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every registered material that is in the sections."""
    of_material: dict[str, list[str]] = {}
    for section_id in sorted(workings.sections):
        for worked in workings.sections[section_id].guarantees:
            of_material.setdefault(worked.material, []).append(section_id)
    examined = 0
    findings = []
    for material in sorted(of_material):
        terms = project.settings.guarantee.get(material)
        if terms is None or terms.registered_on is None:
            continue
        examined += 1
        fault = _fault(project, terms)
        if fault is None:
            continue
        outcome, words, related = fault
        registered = f"was registered on {day_words(terms.registered_on)}"
        findings.append(
            Finding(
                RULE,
                outcome,
                f"The guarantee for {material.replace('_', ' ')} {registered}, and {words}.",
                RULE.closes,
                Subject("material", material),
                SourceLocation("project.yml"),
                related,
                RULE.whose,
                tuple(dict.fromkeys(of_material[material])),
            )
        )
    return Answer(examined, tuple(findings))


def _fault(project: Project, terms: GuaranteeTerms) -> tuple[Outcome, str, tuple[SourceLocation, ...]] | None:
    if not terms.registration:
        return Outcome.CANNOT_TELL, "project.yml names no document that shows it", ()
    document = project.documents.get(terms.registration)
    if document is None:
        missing = f"the document {terms.registration} that project.yml names is not in the documents table"
        return Outcome.CANNOT_TELL, missing, ()
    named = f"the document {terms.registration} that project.yml names"
    if document.kind is None:
        return Outcome.CANNOT_TELL, f"{named} has no kind in the documents table", (document.source.place("kind"),)
    if document.kind != "registration":
        kind = document.kind.replace("_", " ")
        said = f"{named} is of the kind '{kind}', not a registration"
        return Outcome.FAIL, said, (document.source.place("kind"),)
    return None


CHECK = Check(RULE, run)
