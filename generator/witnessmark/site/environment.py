"""The Jinja2 environment: strict, escaping, compiled once; and which template sets which view."""

from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from witnessmark.pages.completeness_page import CompletenessPage
from witnessmark.pages.contract_pages import ContractIndex, ContractPage
from witnessmark.pages.figure import figure_text
from witnessmark.pages.find_tag import FindTagPage
from witnessmark.pages.findings_page import FindingsPage
from witnessmark.pages.formula_pages import FormulaIndex, FormulaPage
from witnessmark.pages.frame import PageView
from witnessmark.pages.guarantee_page import GuaranteesPage
from witnessmark.pages.home import HomePage
from witnessmark.pages.ledger import SourcesPage
from witnessmark.pages.narrative import NarrativePage
from witnessmark.pages.register import RegisterPage
from witnessmark.pages.rule_pages import ChecksPage, RulePage
from witnessmark.pages.sample_page import SamplePage
from witnessmark.pages.section_page import SectionPage, SensitivePage
from witnessmark.pages.signpost import SignpostPage
from witnessmark.pages.system_pages import SectionsIndex, SystemPage, SystemsIndex
from witnessmark.pages.test_page import TestPage
from witnessmark.pages.trace_pages import SectionTracePage, TouchedPage, TraceIndex
from witnessmark.site.menu_setter import MenuSetter
from witnessmark.site.recorded_line import recorded_line
from witnessmark.site.table_rows import RowSetter

FOLDER = Path(__file__).parent

TEMPLATES: dict[type[PageView], str] = {
    HomePage: "home.html",
    FindTagPage: "find_tag.html",
    SectionPage: "section.html",
    SensitivePage: "sensitive.html",
    SignpostPage: "signpost.html",
    SystemsIndex: "systems.html",
    SystemPage: "system.html",
    SectionsIndex: "sections.html",
    RegisterPage: "register.html",
    TestPage: "test.html",
    FormulaIndex: "formulas.html",
    FormulaPage: "formula.html",
    SourcesPage: "sources.html",
    CompletenessPage: "completeness.html",
    GuaranteesPage: "guarantees.html",
    TraceIndex: "trace_index.html",
    TouchedPage: "touched.html",
    SectionTracePage: "section_trace.html",
    SamplePage: "sample.html",
    FindingsPage: "findings.html",
    ChecksPage: "checks.html",
    RulePage: "rule.html",
    ContractIndex: "contract_index.html",
    ContractPage: "contract.html",
    NarrativePage: "narrative.html",
}

CONTENT_POLICY = (
    "default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; base-uri 'none'; form-action 'none'"
)
SHEETS = {"tag": "tag.css", "facilities": "pack.css", "audit": "pack.css"}

# Looked up once a cell: cheaper than a test in the template, and the marks stay out of the views.
CELL_MARKS = {
    "": Markup(""),
    "none": Markup(' class="none"'),
    "number": Markup(' class="number"'),
    "free": Markup(' dir="auto"'),
}


@cache
def environment() -> Environment:
    """The environment of all pages."""
    env = Environment(
        loader=FileSystemLoader([FOLDER / "templates", FOLDER / "components"]),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        cache_size=-1,
    )
    env.filters["figure"] = figure_text
    env.globals.update(content_policy=CONTENT_POLICY, sheet=SHEETS, cell_marks=CELL_MARKS)
    cell_macro = env.get_template("table/cell.html").module.cell  # type: ignore[attr-defined]  # a macro of the template
    env.globals["table_rows"] = RowSetter(cell_macro)
    env.globals["recorded_line"] = recorded_line
    menu_macro = env.get_template("menu/menu.html").module.menu  # type: ignore[attr-defined]  # as above
    env.globals["menu"] = MenuSetter(menu_macro)
    return env


def template_of(view: type[PageView]) -> Template:
    """The template that sets views of that class; compiled once, kept by the environment."""
    return environment().get_template(TEMPLATES[view])


def render(view: PageView) -> str:
    """A page as HTML."""
    return template_of(type(view)).render(view=view)
