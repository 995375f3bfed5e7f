"""One edition being built: MkDocs turns the narrative into HTML, everything else is written straight from views."""

import logging
import shutil
from dataclasses import dataclass, field
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page

from witnessmark.model.contract import Edition
from witnessmark.pages.all_pages import record_pages
from witnessmark.pages.context import Context
from witnessmark.pages.document_shelf import shelf
from witnessmark.pages.find_tag import all_codes
from witnessmark.pages.narrative import narrative_page
from witnessmark.pipeline import Outcome
from witnessmark.site.asset import write_assets, write_print_sheet
from witnessmark.site.environment import render
from witnessmark.site.narrative_files import HOME, narrative_of
from witnessmark.site.narrative_links import dead_links, links_within
from witnessmark.site.page_writer import Progress, write_pages

log = logging.getLogger("mkdocs.plugins.witnessmark")


@dataclass
class EditionSite:
    """State between the events of one MkDocs build."""

    outcome: Outcome
    edition: Edition
    progress: Progress | None = None
    intro_html: str = ""
    links: list[tuple[str, str, tuple[str, ...]]] = field(default_factory=list)
    """Source, address and links of every narrative page."""
    context: Context = field(init=False)

    def __post_init__(self) -> None:
        self.context = Context(self.outcome, self.edition)

    def choose_files(self, files: Files, config: MkDocsConfig) -> Files:
        """Files that MkDocs is to handle; the menu is known from here on."""
        narrative = narrative_of(files, config, self.outcome.project.folder / "content", self.edition)
        for path in narrative.left_out:
            log.warning("content/%s is neither Markdown nor a picture, so the pack does not carry it.", path)
        self.context = Context(self.outcome, self.edition, narrative.guide)
        return narrative.files

    def frame_narrative(self, page: Page) -> str:
        """A narrative page in its frame; the home page's words are kept for the home page."""
        html = page.content or ""
        self.links.append((page.file.src_uri, page.file.dest_uri, links_within(html)))
        if page.file.src_uri == HOME:
            self.intro_html = html
            return ""
        return render(narrative_page(self.context, page.file.dest_uri, str(page.title), html))

    def write(self, out_dir: Path) -> int:
        """Write assets, documents and every record page; returns the number of pages."""
        write_assets(out_dir, self.edition, all_codes(self.context))
        for document in shelf(self.context):
            target = out_dir / document.address
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(document.source, target)
        count = write_pages(out_dir, record_pages(self.context, self.intro_html), self.progress)
        if self.context.registers:
            write_print_sheet(out_dir, self.context.wide_tables)
        for source, address, links in self.links:
            for link in dead_links(out_dir, address, links):
                log.warning("content/%s links to %s, which the %s edition does not hold.", source, link, self.edition)
        return count
