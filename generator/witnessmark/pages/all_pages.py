"""Every page of an edition that is made from records, one after the other, so that none need be kept."""

from collections.abc import Iterator

from witnessmark.model.contract import Edition
from witnessmark.pages.completeness_page import completeness_pages
from witnessmark.pages.context import Context
from witnessmark.pages.contract_pages import contract_index, contract_pages
from witnessmark.pages.find_tag import find_tag_pages
from witnessmark.pages.findings_page import findings_pages
from witnessmark.pages.formula_pages import formula_pages
from witnessmark.pages.frame import PageView
from witnessmark.pages.guarantee_page import guarantees_page
from witnessmark.pages.home import home_page
from witnessmark.pages.ledger import ledgers, sources_page
from witnessmark.pages.register import registers
from witnessmark.pages.rule_pages import checks_page, rule_pages
from witnessmark.pages.sample_page import sample_page
from witnessmark.pages.section_build import SectionBuilder
from witnessmark.pages.signpost import signposts
from witnessmark.pages.system_pages import sections_index, system_pages, systems_index
from witnessmark.pages.test_build import TestBuilder
from witnessmark.pages.trace_pages import TracePages


def record_pages(context: Context, intro_html: str = "") -> Iterator[PageView]:
    """All pages but the narrative ones. ``intro_html`` stands at the top of the home page."""
    if context.edition is Edition.TAG:
        yield from find_tag_pages(context)
    else:
        yield home_page(context, intro_html)
        yield systems_index(context)
        yield from system_pages(context)
        yield from sections_index(context)
        yield from registers(context)
        yield from TestBuilder(context).pages()
        yield from formula_pages(context)
        yield from completeness_pages(context)
        yield guarantees_page(context)
    if context.edition is Edition.AUDIT:
        yield sources_page(context)
        yield from ledgers(context)
        yield from findings_pages(context)
        yield checks_page(context)
        yield from rule_pages(context)
        yield from TracePages(context).pages()
        yield sample_page(context)
        yield contract_index(context)
        yield from contract_pages(context)
    yield from SectionBuilder(context).pages()
    yield from signposts(context)
