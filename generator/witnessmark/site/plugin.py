"""The MkDocs plugin: wires events to the site of one edition, no more."""

from pathlib import Path
from typing import Any

from mkdocs.config import base
from mkdocs.config import config_options as option
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page

from witnessmark.model.contract import Edition
from witnessmark.pipeline import Outcome, run
from witnessmark.site.edition_site import EditionSite
from witnessmark.site.page_writer import Progress
from witnessmark.site.site_config import prepare


class WitnessmarkConfig(base.Config):  # type: ignore[no-untyped-call]  # MkDocs leaves it untyped
    """Options of the plugin."""

    project = option.Type(str, default="")
    edition = option.Choice([each.value for each in Edition], default=Edition.AUDIT.value)


class WitnessmarkPlugin(BasePlugin[WitnessmarkConfig]):  # type: ignore[no-untyped-call]  # as above
    """Renders one edition of a project."""

    handed_over: Outcome | None = None
    progress: Progress | None = None

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read the project, unless its outcome was handed over, and set MkDocs up."""
        outcome = self.handed_over or run(self.project_folder(config))
        self.site = EditionSite(outcome, Edition(self.config.edition), self.progress)
        return prepare(config, self.site.edition)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Choose the narrative of the edition."""
        return self.site.choose_files(files, config)

    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:  # noqa: ARG002  # MkDocs' own names
        """Put a narrative page into its frame."""
        return self.site.frame_narrative(page)

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Write all pages that are made from records."""
        self.site.write(Path(config.site_dir))

    def on_serve(self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Any) -> LiveReloadServer:  # noqa: ARG002  # MkDocs' own names
        """Build again when a record changes."""
        server.watch(str(self.project_folder(config)))
        return server

    def project_folder(self, config: MkDocsConfig) -> Path:
        """The project folder, counted from the folder of mkdocs.yml."""
        return Path(config.config_file_path or ".").parent / self.config.project
