"""Build one edition through MkDocs without its command line."""

from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config.defaults import MkDocsConfig

from witnessmark.model.bundled import content_path
from witnessmark.model.contract import Edition
from witnessmark.pipeline import Outcome
from witnessmark.site.page_writer import Progress
from witnessmark.site.plugin import WitnessmarkPlugin


class SiteNotConfigured(RuntimeError):
    """MkDocs refuses the configuration that this package gives it."""

    def __init__(self, problems: str) -> None:
        super().__init__(f"The installed MkDocs cannot build the site: {problems}.")


def build_edition(outcome: Outcome, edition: Edition, out_dir: Path, progress: Progress | None = None) -> None:
    """Write the static site of an edition into ``out_dir``, which is emptied first.

    ``progress`` hears the number of pages written so far. Raises :class:`SiteNotConfigured` where MkDocs cannot be
    set up, ``UnusableTagCode`` where a tag code is none.
    """
    config = MkDocsConfig()
    config.load_dict(
        {
            "site_name": outcome.project.settings.name or "Pack",
            "docs_dir": str(content_path()),
            "site_dir": str(out_dir.resolve()),
            "use_directory_urls": False,
            "theme": {"name": "witnessmark"},
            "plugins": [{"witnessmark": {"edition": edition.value}}],
            "validation": {"nav": {"omitted_files": "ignore"}},
        }
    )
    errors, _ = config.validate()
    if errors:
        raise SiteNotConfigured("; ".join(f"{key}: {problem}" for key, problem in errors))
    plugin = config.plugins["witnessmark"]
    assert isinstance(plugin, WitnessmarkPlugin)
    plugin.handed_over, plugin.progress = outcome, progress
    build(config)
