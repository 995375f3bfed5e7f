"""Home of the facilities and audit editions: what is in, and what is missing."""

from collections import Counter
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.evidence.actions import Action
from witnessmark.evidence.chain import ChainBook, ChainState
from witnessmark.model.finding import Outcome, Severity
from witnessmark.pages.chain_view import ChainView, chain_state, chain_view
from witnessmark.pages.context import REGISTERS, Context
from witnessmark.pages.fact import Fact, FactList
from witnessmark.pages.finding_view import SEVERITY_WORDS, State, rule_link, state_of
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.ledger import sum_words
from witnessmark.pages.rule_pages import CheckLine, check_line
from witnessmark.pages.system_pages import SystemLine, systems_index
from witnessmark.pages.words import clean, counted, date_words, missing_words, sentence_start

TABLE_WORDS = {
    "joints": "Pressed ends",
    "tests": "Test stages",
    "valves": "Valves",
    "nodes": "Nodes",
    "instruments": "Instruments",
    "tools": "Press tools and jaws",
    "operatives": "Operatives",
    "batches": "Batches",
    "flushings": "Flushing and cleaning",
    "treatments": "Water treatment and samples",
    "insulations": "Insulation",
    "supports": "Supports and expansion",
    "snags": "Snags",
    "concessions": "Concessions",
    "alterations": "Rework and alterations",
    "documents": "Documents",
}


MOST_ACTIONS = 12
MOST_SECTIONS = 6


class Count(NamedTuple):
    """How many of something the records hold, and where they are."""

    link: Link
    number: str


class ActionView(NamedTuple):
    """An act that would close findings, and whose job it is."""

    words: str
    whose: str
    closes: str
    sections: tuple[Link, ...]
    more_sections: str
    rules: tuple[Link, ...]


class Missing(NamedTuple):
    """Findings of one severity, by outcome."""

    severity: str
    counts: tuple[tuple[State, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HomePage(PageView):
    """The front page."""

    intro_html: str
    about: FactList
    counts: tuple[Count, ...]
    systems: tuple[SystemLine, ...]
    sum_words: str
    adds_up: bool
    missing: tuple[Missing, ...]
    missing_words: str
    open_checks: tuple[CheckLine, ...]
    chain: ChainView
    states: tuple[tuple[State, str], ...]
    """Sections by the state of their chain."""
    readiness: str
    actions: tuple[ActionView, ...]
    more_actions: str


def _missing(context: Context) -> tuple[Missing, ...]:
    lines = []
    findings = context.outcome.judgement.findings
    for severity in Severity:
        counts: dict[Outcome, int] = {}
        for finding in findings:
            if finding.rule.severity is severity:
                counts[finding.outcome] = counts.get(finding.outcome, 0) + 1
        if counts:
            states = tuple((state_of(o), f"{counts[o]:,}") for o in Outcome if o in counts)
            lines.append(Missing(SEVERITY_WORDS[severity], states))
    return tuple(lines)


def _about(context: Context) -> FactList:
    settings = context.outcome.project.settings
    completion = date_words(settings.completion_date) if settings.completion_date else ""
    lines = (
        ("Building", clean(settings.building)),
        ("Address", clean(settings.address)),
        ("Handed to", clean(settings.client)),
        ("Handed over by", clean(settings.contractor)),
        ("Practical completion", completion),
        ("Why this issue", clean(settings.issue.reason)),
    )
    known = tuple(Fact(label, text, True) for label, text in lines if text)
    missing = tuple(label.lower() for label, text in lines if not text)
    return FactList(known, sentence_start(missing_words(missing)) + "." if missing else "")


def home_page(context: Context, intro_html: str = "") -> HomePage:
    """The front page of an edition with registers."""
    project, judgement = context.outcome.project, context.outcome.judgement
    counts = [
        Count(Link("Systems", "systems.html"), f"{len(project.systems):,}"),
        Count(Link("Sections", "sections.html"), f"{len(project.sections):,}"),
    ]
    counts += [
        Count(Link(TABLE_WORDS[name], f"registers/{name}.html"), f"{len(project.records.table(name)):,}")
        for name in REGISTERS
    ]
    total = len(judgement.findings)
    evidence = context.outcome.evidence
    actions = evidence.readiness.actions if context.audit else ()
    open_checks = tuple(check_line(run) for run in judgement.runs if run.outcome is not Outcome.PASS)
    return HomePage(
        frame=context.frame,
        address="index.html",
        root="",
        title=context.frame.project,
        intro_html=intro_html,
        about=_about(context),
        counts=tuple(counts),
        systems=systems_index(context).systems,
        sum_words=sum_words(project.accounts) if context.audit else "",
        adds_up=all(account.adds_up for account in project.accounts),
        missing=_missing(context) if context.audit else (),
        missing_words=f"{counted(total, 'finding')} in all."
        if total
        else "The checks that were made left nothing open.",
        open_checks=open_checks if context.audit else (),
        chain=chain_view(context, evidence.chain.pack),
        states=_states(evidence.chain),
        readiness=context.words(evidence.readiness.sentence),
        actions=tuple(_action(context, action) for action in actions[:MOST_ACTIONS]),
        more_actions=f"{len(actions) - MOST_ACTIONS:,} more acts close the rest; the findings name them."
        if len(actions) > MOST_ACTIONS
        else "",
    )


def _states(chains: ChainBook) -> tuple[tuple[State, str], ...]:
    counts = Counter(chains.section_states.values())
    return tuple((chain_state(state), f"{counts[state]:,}") for state in ChainState if counts[state])


def _action(context: Context, action: Action) -> ActionView:
    parts = [
        (action.broken, "broken link", "broken links"),
        (action.unproven, "that cannot be told", "that cannot be told"),
        (action.weak, "weak", "weak"),
    ]
    what = ", ".join(counted(number, one, many) for number, one, many in parts if number)
    sections = counted(len(action.section_ids), "section") if action.section_ids else "the whole pack"
    known = [Link(clean(s), context.section_addresses[s]) for s in action.section_ids if s in context.section_addresses]
    more = len(known) - MOST_SECTIONS
    return ActionView(
        clean(action.words),
        sentence_start(clean(action.whose)),
        f"{what}; {sections}",
        tuple(known[:MOST_SECTIONS]),
        f"and {more:,} more" if more > 0 else "",
        tuple(rule_link(slug) for slug in dict.fromkeys(finding.rule.slug for finding in action.findings)),
    )
