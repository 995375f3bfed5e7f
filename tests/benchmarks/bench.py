"""Seconds a stage, peak memory, page weight, growth, and the ratio to stock MkDocs, all in one run.

    python tests/benchmarks/bench.py [--sizes 2000 10000] [--rounds 2]

Every measurement is a process of its own. The ratio compares the whole build (three editions, tags, data) with stock MkDocs
(its default theme, the pages out of the nav) that renders the same section pages once from Markdown, in the same run.
"""

import argparse
import itertools
import json
import math
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))


def build_stages(project: Path, out: Path) -> dict[str, float]:
    """Build a pack stage by stage and return seconds a stage."""
    from witnessmark import pipeline
    from witnessmark.model.contract import Edition
    from witnessmark.pack.data_export import export_data
    from witnessmark.pack.findings_file import findings_text
    from witnessmark.pack.tags_output import write_tags
    from witnessmark.site.build_site import build_edition

    seconds: dict[str, float] = {}

    def timed(name: str, act: Callable[[], Any]) -> Any:
        start = time.perf_counter()
        result = act()
        seconds[name] = time.perf_counter() - start
        return result

    begun: list[tuple[str, float]] = []
    outcome = pipeline.run(project, lambda stage: begun.append((stage, time.perf_counter())))
    begun.append(("", time.perf_counter()))
    for (stage, start), (_, end) in itertools.pairwise(begun):
        seconds[stage] = end - start
    for edition in Edition:
        timed(f"{edition.value} edition", lambda edition=edition: build_edition(outcome, edition, out / edition.value))
    timed("data", lambda: export_data(outcome, out / "audit" / "data"))
    timed("tags", lambda: write_tags(outcome, out / "tags"))
    timed("findings", lambda: (out / "findings.json").write_text(findings_text(outcome), encoding="utf-8"))
    return seconds


def stock_pages(project: Path, docs: Path) -> None:
    """Write the same section pages as Markdown, for stock MkDocs."""
    from witnessmark.intake.project_reader import read_project
    from witnessmark.workings.work import work

    records = read_project(project)
    workings = work(records)
    (docs / "t").mkdir(parents=True)
    (docs / "index.md").write_text("# Home\n", encoding="utf-8")
    for section in records.records.sections:
        worked = workings.sections[section.section_id]
        system = records.systems[section.system_id or ""]
        lines = [
            f"# {section.name}", "", f"{system.name}, flows {section.flow}", "", f"**{section.section_id}**", "",
            f"- Where: {section.location}, level {section.level}",
            f"- Inside: {system.medium}, up to {system.max_temperature_c:g} °C, up to {system.max_operating_pressure_bar:g} bar",
            f"- Holds {worked.content_l.value:.1f} litres", "- Call: Duty engineer, 020 7946 0000", "",
            "## Cautions", "", "Let the pressure down before a joint is opened. Local codes and licensed practice come first.", "",
            "## Tube", "", "| Material | Outside diameter | Wall | Length |", "|---|---|---|---|",
            *(f"| {t.material} | {t.od_mm:g} mm | {t.wall_mm:g} mm | {t.length_m:g} m |" for t in records.tubes_of_section[section.section_id]),
            "", "## Guarantee", "",
            *(f"- {g.material}: until {g.ends_on}" for g in worked.guarantees),
            "", "## Joints", "", "| Joint | Fitting | Size | Material | Operative | Tool | Pressed | Checked by | Checked | Status |",
            "|---|---|---|---|---|---|---|---|---|---|",
            *(
                f"| {j.joint_id} | {j.fitting_kind} | {j.od_mm:g} mm | {j.material_tube} | {j.operative_id} | {j.tool_id} "
                f"| {j.press_date} | {j.checker_id} | {j.check_date} | {j.status} |"
                for j in records.joints_of_section[section.section_id]
            ),
            "", "## Tests", "", "| Test | Stage | Date | Start | End | Gauge | Result |", "|---|---|---|---|---|---|---|",
            *(
                f"| {t.test_id} | {t.stage} | {t.date} | {t.start_pressure_bar:g} bar | {t.end_pressure_bar:g} bar "
                f"| {t.instrument_id} | {t.result} |"
                for t in records.tests_of_section.get(section.section_id, [])
            ),
        ]  # fmt: skip
        (docs / "t" / f"{workings.tags.by_section[section.section_id]}.md").write_text(
            "\n".join(lines), encoding="utf-8"
        )


def stock_build(docs: Path, out: Path) -> dict[str, float]:
    """Render the Markdown pages with stock MkDocs, its default theme, only the home page in the nav."""
    from mkdocs.commands.build import build
    from mkdocs.config.defaults import MkDocsConfig

    config = MkDocsConfig()
    config.load_dict(
        {
            "site_name": "Stock", "docs_dir": str(docs), "site_dir": str(out), "nav": ["index.md"], "plugins": [],
            "validation": {"nav": {"omitted_files": "ignore"}},
        }
    )  # fmt: skip
    problems, _ = config.validate()
    assert not problems, problems
    start = time.perf_counter()
    build(config)
    return {"stock": time.perf_counter() - start}


def command_build(project: Path, out: Path) -> dict[str, float]:
    """Build the pack as a user does, by the command, start-up included; it may use a second process."""
    command = [sys.executable, "-m", "witnessmark", "build", str(project), "--out", str(out)]
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True)
    return {"command": time.perf_counter() - start}


def in_process(job: str, *paths: Path) -> dict[str, float]:
    """Run one job in a process of its own; returns its seconds and its peak memory in MiB."""
    command = [sys.executable, __file__, "--job", job, *map(str, paths)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    return json.loads(done.stdout.splitlines()[-1])


def page_weight(out: Path) -> tuple[float, float]:
    """Mean and largest weight of a tag page with its style sheet, kB."""
    assets = sum(path.stat().st_size for path in (out / "tag" / "assets").rglob("*.css"))
    pages = [path.stat().st_size + assets for path in (out / "tag" / "T").rglob("index.html")]
    return sum(pages) / len(pages) / 1000, max(pages) / 1000


def one_size(sections: int, rounds: int) -> dict[str, float]:
    """Measure one size; of several rounds each figure's lowest counts, ours and stock taken in turn."""
    from synthetic import write_project

    best: dict[str, float] = {}
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        write_project(folder / "project", sections)
        stock_pages(folder / "project", folder / "docs")
        for _ in range(rounds):
            for job, paths in (
                ("build", ("project", "out")),
                ("stock", ("docs", "stock")),
                ("command", ("project", "pack")),
            ):
                shutil.rmtree(folder / paths[1], ignore_errors=True)
                for name, value in in_process(job, *(folder / path for path in paths)).items():
                    best[name] = min(value, best.get(name, math.inf))
        best["page"], best["largest page"] = page_weight(folder / "out")
    return best


def table(sizes: list[int], results: list[dict[str, float]]) -> str:
    """The figures as a Markdown table."""
    names = [name for name in results[0] if name not in ("page", "largest page") and "peak" not in name]
    rows = [["", *(f"{size:,} sections" for size in sizes), "growth exponent"]]

    def exponent(name: str) -> str:
        first, last = results[0][name], results[-1][name]
        return f"{math.log(last / first) / math.log(sizes[-1] / sizes[0]):.2f}" if len(sizes) > 1 and first > 0 else ""

    for name in names:
        rows.append([f"{name}, s", *(f"{result[name]:.2f}" for result in results), exponent(name)])
    rows.append(["peak memory, MiB", *(f"{result['build peak']:.0f}" for result in results), exponent("build peak")])
    rows.append(["tag page with style sheet, kB, mean", *(f"{result['page']:.1f}" for result in results), ""])
    rows.append(["the largest", *(f"{result['largest page']:.1f}" for result in results), ""])
    rows.append(
        ["whole build, ms a section", *(f"{1000 * r['all'] / n:.2f}" for r, n in zip(results, sizes, strict=True)), ""]
    )
    rows.append(
        ["stock MkDocs, ms a page", *(f"{1000 * r['stock'] / n:.2f}" for r, n in zip(results, sizes, strict=True)), ""]
    )
    rows.append(
        ["**whole build ÷ stock MkDocs**, one process", *(f"**{r['all'] / r['stock']:.2f}**" for r in results), ""]
    )
    rows.append(
        [
            "**`witnessmark build` ÷ stock MkDocs**, as run",
            *(f"**{r['command'] / r['stock']:.2f}**" for r in results),
            "",
        ]
    )
    lines = ["| " + " | ".join(row) + " |" for row in rows]
    lines.insert(1, "|" + "---|" * len(rows[0]))
    return "\n".join(lines)


def main() -> None:
    """Measure and print, or do one job for the process above."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sizes", nargs="+", type=int, default=[2000, 10000])
    parser.add_argument("--rounds", type=int, default=2)
    parser.add_argument("--job", nargs=3, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.job:
        job, source, out = given.job
        jobs = {"build": build_stages, "stock": stock_build, "command": command_build}
        seconds = jobs[job](Path(source), Path(out))
        if job == "build":
            seconds["all"] = sum(seconds.values())
        seconds[f"{job} peak"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(json.dumps(seconds))
        return
    results = []
    for size in given.sizes:
        print(f"measuring {size:,} sections ...", file=sys.stderr, flush=True)
        results.append(one_size(size, given.rounds))
    print(table(given.sizes, results))


if __name__ == "__main__":
    main()
