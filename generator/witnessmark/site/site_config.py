"""What every build asks of MkDocs, whoever started it."""

import logging

from mkdocs.config.defaults import MkDocsConfig

from witnessmark.model.contract import Edition

DEFINITION_LISTS = "def_list"
SAFE_MARKDOWN = "witnessmark.site.safe_markdown"


def prepare(config: MkDocsConfig, edition: Edition) -> MkDocsConfig:
    """Set a loaded configuration up for an edition: explicit file names, no raw HTML, nothing with a clock in it."""
    config.use_directory_urls = False
    for extension in (DEFINITION_LISTS, SAFE_MARKDOWN):
        if extension not in config.markdown_extensions:
            config.markdown_extensions.append(extension)
    config.mdx_configs[SAFE_MARKDOWN] = {"images": edition is Edition.AUDIT}
    # Links are held against the whole edition once it is written.
    config.validation.links.not_found = logging.DEBUG
    # The site map would carry the day of the build.
    config.theme.static_templates.clear()
    return config
