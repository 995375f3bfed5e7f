"""The menu of each edition: only what the edition holds."""

from witnessmark.model.contract import Edition
from witnessmark.pages.frame import Link, MenuGroup
from witnessmark.pages.register_plans import AS_RECORDED

_PIPEWORK = (
    Link("Home", "index.html"),
    Link("Systems", "systems.html"),
    Link("Sections and tags", "sections.html"),
)
_STANDING = (
    Link("Completeness", "completeness.html"),
    Link("Guarantees", "guarantees.html"),
)
_REGISTERS = (
    Link("Joints", "registers/joints.html"),
    Link("Tests", "registers/tests.html"),
    Link("Valves", "registers/valves.html"),
    Link("Nodes", "registers/nodes.html"),
    Link("Instruments", "registers/instruments.html"),
    Link("Press tools and jaws", "registers/tools.html"),
    Link("Operatives", "registers/operatives.html"),
    Link("Batches", "registers/batches.html"),
    Link("Flushing and cleaning", "registers/flushings.html"),
    Link("Water treatment and samples", "registers/treatments.html"),
    Link("Insulation", "registers/insulations.html"),
    Link("Supports and expansion", "registers/supports.html"),
    Link("Snags", "registers/snags.html"),
    Link("Concessions", "registers/concessions.html"),
    Link("Rework and alterations", "registers/alterations.html"),
    Link("Documents", "registers/documents.html"),
    Link("Formulas", "formulas.html"),
)
_EVIDENCE = (
    *_STANDING,
    Link("Findings", "findings.html"),
    Link("Checks", "checks.html"),
    Link("Trace", "trace.html"),
    Link("Audit sample", "sample.html"),
    Link("Source files", "sources.html"),
    Link("Repair ledger", "registers/repairs.html"),
    Link("Rows set aside", "registers/set-aside.html"),
    *(Link(plan.title, f"registers/{plan.table.replace('_', '-')}.html") for plan in AS_RECORDED),
    Link("The contract", "contract.html"),
)


def menu_of(edition: Edition, guide: tuple[Link, ...]) -> tuple[MenuGroup, ...]:
    """Groups of links, in the order in which people need them."""
    own_pages = (MenuGroup("Guide", guide),) if guide else ()
    if edition is Edition.TAG:
        return (MenuGroup("Tags", (Link("Find a tag by its code", "index.html"),)), *own_pages)
    groups: tuple[MenuGroup, ...] = (MenuGroup("Pipework", _PIPEWORK), MenuGroup("Registers", _REGISTERS))
    evidence = _EVIDENCE if edition is Edition.AUDIT else _STANDING
    groups = (*groups, MenuGroup("Evidence", evidence))
    return (*groups, *own_pages)
