"""The command ``witnessmark``."""

from __future__ import annotations

import os
import sys
import traceback
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import TextIO

import click

from witnessmark.cli.audit_sample import UnknownSystem
from witnessmark.cli.exit_codes import ExitCode
from witnessmark.cli.explain import UnknownCheck
from witnessmark.cli.finding_lines import account_line, one_line, summary_line
from witnessmark.cli.progress import ProgressLine
from witnessmark.cli.trace import CannotTrace
from witnessmark.engineering.acceptance_sampling import NoSamplingPlan
from witnessmark.intake.errors import UnusableProject
from witnessmark.model.bundled import BundledFolderMissing
from witnessmark.pack.refusal import CannotWrite

_REFUSALS = (
    UnusableProject,
    CannotWrite,
    BundledFolderMissing,
    UnknownCheck,
    UnknownSystem,
    NoSamplingPlan,
    CannotTrace,
)
_FOLDER = click.Path(file_okay=True, path_type=Path)


def _version() -> str:
    try:
        return version("witnessmark")
    except PackageNotFoundError:
        return "unknown (run from a checkout that is not installed)"


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(_version(), "--version", prog_name="witnessmark")
@click.option("--debug", is_flag=True, help="Show where in the program an unexpected error arose.")
def cli(debug: bool) -> None:  # main() looks for it, since it catches what escapes
    """Turn records of press-jointed pipework into an offline handover pack with a tagged page for every section.

    Exit codes: 0 done; 1 done, and something breaks the evidence chain (check only); 2 could not do it.
    """


@cli.command()
@click.argument("folder", metavar="DIR", type=_FOLDER)
def init(folder: Path) -> None:
    """Start a project in DIR: project.yml, a CSV file a table with an example row, and a workbook to fill in."""
    from witnessmark.pack.starter import write_starter

    write_starter(folder)
    click.echo(f"Started a project in {folder}.")
    click.echo("Next: say in project.yml what it is, put your records into records/, then run")
    click.echo(f"  witnessmark check {folder}")


@cli.command()
@click.argument("project", metavar="PROJECT", type=_FOLDER, required=False)
@click.option("--json", "as_json", is_flag=True, help="Print the findings as a JSON list and nothing else.")
@click.option("--all", "show_all", is_flag=True, help="Show every finding, not the first few of each kind in a column.")
@click.option(
    "--chase",
    metavar="DIR",
    type=_FOLDER,
    help="Write the findings into DIR as lists to send, one for each whose job it is.",
)
@click.option(
    "--explain", metavar="CHECK", help="Explain one check, by the name in square brackets behind its findings."
)
def check(project: Path | None, as_json: bool, show_all: bool, chase: Path | None, explain: str | None) -> ExitCode:
    """Say what the records of PROJECT do not show, where, what would close it, whose job it is and what is new."""
    if explain is not None:
        from witnessmark.cli.explain import explanation

        for line in explanation(explain):
            click.echo(line)
        return ExitCode.DONE
    if project is None:
        raise click.UsageError("name the folder of the PROJECT to check, or a check to --explain.")
    from witnessmark import pipeline
    from witnessmark.cli.check_report import check_report
    from witnessmark.pack.chase_files import write_chase_files
    from witnessmark.pack.findings_file import findings_text

    progress = ProgressLine()
    try:
        outcome = pipeline.run(project, progress)
    finally:
        progress.close()
    if as_json:
        click.echo(findings_text(outcome), nl=False)
    else:
        for line in check_report(outcome, show_all=show_all):
            click.echo(line)
    if chase is not None:
        written = write_chase_files(outcome, chase)
        click.echo(f"Wrote {len(written)} chase lists into {chase}.", err=as_json)
    return ExitCode.CHAIN_BROKEN if outcome.judgement.breaks_chain else ExitCode.DONE


@cli.command()
@click.argument("project", metavar="PROJECT", type=_FOLDER)
@click.option("--out", type=_FOLDER, help="Folder of the pack; replaced whole.  [default: PROJECT/handover]")
def build(project: Path, out: Path | None) -> None:
    """Build the pack of PROJECT: three editions, the tags, the data and the findings."""
    from witnessmark.cli.build_pack import DEFAULT_OUT, build_pack

    progress = ProgressLine()
    out = out or project / DEFAULT_OUT
    try:
        outcome = build_pack(project, out, progress)
    finally:
        progress.close()
    sections, new = len(outcome.project.sections), len(outcome.workings.tags.new)
    seconds = f" in {progress.seconds:.1f} s" if progress.shown else ""
    s = "" if sections == 1 else "s"
    click.echo(f"Built {out}{seconds}: {sections:,} section{s}, {sections:,} tag{s}, {new:,} of them new.")
    click.echo(account_line(outcome.project.accounts))
    click.echo(summary_line(outcome.judgement))
    click.echo(f"Open {out / 'audit' / 'index.html'}; the editions for others are facilities and tag.")


@cli.command()
@click.argument("project", metavar="PROJECT", type=_FOLDER)
@click.option("--seed", help="Any text; the same one draws the same joints.  [default: id and issue of the project]")
@click.option("--level", default="II", show_default=True, help="General inspection level of ISO 2859-1: I, II or III.")
@click.option("--aql", default="2.5", show_default=True, help="Acceptance quality limit in per cent.")
@click.option("--system", "system_id", default="", help="Draw from one system only, by its id.")
@click.option("--out", type=_FOLDER, help="Folder for the walk sheet.  [default: PROJECT/sample]")
def sample(project: Path, seed: str | None, level: str, aql: str, system_id: str, out: Path | None) -> None:
    """Draw a reproducible audit sample of PROJECT, by chance and by risk, with a walk sheet to print and to fill in."""
    from witnessmark import pipeline
    from witnessmark.cli.audit_sample import write_sample

    progress = ProgressLine()
    try:
        outcome = pipeline.run(project, progress)
    finally:
        progress.close()
    settings = outcome.project.settings
    seed = seed if seed is not None else f"{settings.id} {settings.issue.number}"
    for line in write_sample(outcome, seed, level, aql, system_id, out or project / "sample"):
        click.echo(line)


@cli.command()
@click.argument("project", metavar="PROJECT", type=_FOLDER)
@click.argument("record_id", metavar="ID")
@click.option(
    "--kind",
    type=click.Choice(("joint", "batch", "tool", "operative", "gauge")),
    help="What ID is, where several have it.",
)
@click.option("--csv", "table", type=_FOLDER, metavar="FILE", help="Write the whole trace as a CSV file.")
def trace(project: Path, record_id: str, kind: str | None, table: Path | None) -> None:
    """Trace ID through PROJECT: a joint to all behind it; a batch, tool, operative or gauge to all it touched."""
    from witnessmark import pipeline
    from witnessmark.cli.trace import trace_lines

    progress = ProgressLine()
    try:
        outcome = pipeline.run(project, progress)
    finally:
        progress.close()
    for line in trace_lines(outcome, record_id, kind or "", table):
        click.echo(line)


def _lenient(stream: TextIO) -> None:
    """Let a terminal that lacks a character show another in its place, instead of stopping the run."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and leave with its exit code."""
    arguments = sys.argv[1:] if arguments is None else arguments
    _lenient(sys.stdout)
    _lenient(sys.stderr)
    try:
        code = cli.main(arguments, prog_name="witnessmark", standalone_mode=False)
        sys.stdout.flush()
    except click.ClickException as error:
        error.show()
        sys.exit(ExitCode.CANNOT)
    except click.Abort:
        _say("stopped.")
        sys.exit(ExitCode.CANNOT)
    except BrokenPipeError:
        # Whoever read has seen enough. What is still buffered must not trip the interpreter on its way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(ExitCode.DONE)
    except _REFUSALS as error:
        _say(str(error))
        sys.exit(ExitCode.CANNOT)
    except Exception as error:
        if "--debug" in arguments:
            traceback.print_exc()
        _say(
            f"an unexpected error ({type(error).__name__}: {error}); please report it, "
            "with what 'witnessmark --debug' prints for the same command."
        )
        sys.exit(ExitCode.CANNOT)

    sys.exit(code or ExitCode.DONE)


def _say(sentence: str) -> None:
    click.echo(f"witnessmark: {one_line(sentence)}", err=True)
