"""The whole build: three editions, tags, data and findings into a fresh folder that takes the place of the old pack."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from witnessmark import pipeline
from witnessmark.cli.progress import ProgressLine
from witnessmark.cli.side_by_side import side_by_side
from witnessmark.model.contract import Edition
from witnessmark.pack.chase_files import CHASE_FOLDER, write_chase_files
from witnessmark.pack.data_export import export_data
from witnessmark.pack.findings_file import FINDINGS_FILE, FINDINGS_TABLE, findings_text, write_findings_table
from witnessmark.pack.swap_in import fresh_folder, refuse_output
from witnessmark.pack.tag_register import append_codes
from witnessmark.pack.tags_output import write_tags
from witnessmark.site.build_site import build_edition

DEFAULT_OUT = "handover"


def build_pack(project: Path, out: Path, progress: ProgressLine) -> pipeline.Outcome:
    """Build ``out`` from a project folder; the previous pack is replaced only once everything has been written.

    Raises ``UnusableProject`` or ``CannotWrite``, each with one clear sentence.
    """
    # A long reading should not end in a refusal that was known before it.
    refuse_output(out, project)
    outcome = pipeline.run(project, progress)
    with fresh_folder(out, project) as part:
        data = part / "data-for-audit"

        # Measured: the audit edition with its registers and traces costs more than both others with data and tags.
        def first_half() -> None:
            progress("writing the audit edition")
            build_edition(outcome, Edition.AUDIT, part / Edition.AUDIT.value, _pages(progress, Edition.AUDIT))
            progress("waiting for the other editions, the tags and the data")

        def second_half() -> None:
            for edition in (Edition.FACILITIES, Edition.TAG):
                build_edition(outcome, edition, part / edition.value)
            write_tags(outcome, part / "tags")
            export_data(outcome, data)

        # Worked out before the two part ways, so that both have it.
        progress("working out the chains")
        outcome.evidence.prepare()
        side_by_side(first_half, second_half)
        data.rename(part / Edition.AUDIT.value / "data")
        (part / FINDINGS_FILE).write_bytes(findings_text(outcome).encode())
        write_findings_table(outcome, part / FINDINGS_TABLE)
        write_chase_files(outcome, part / CHASE_FOLDER)
        append_codes(project, outcome.workings.tags.new, outcome.project.settings.issue.number)
    return outcome


def _pages(progress: ProgressLine, edition: Edition) -> Callable[[int], None]:
    return lambda pages: progress(f"writing the {edition.value} edition, {pages:,} pages")
