"""Seconds that all checks take, their peak memory, their growth, and the ten slowest.

    python tests/benchmarks/checks_bench.py [--sections 2000 10000] [--rounds 3]

10,000 sections are 100,000 joints and 4,000 test stages with every table filled. Each size is a process of its own. Seconds are
processor time, the lowest of the rounds; memory is the peak of
the process when all checks were first asked, and by how much they raised it, in MiB. Seconds
differ from machine to machine and with what else runs on it; the ratio to reading and the exponent do not.
"""

import argparse
import gc
import json
import math
import resource
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parent))
AIM_SECONDS, AIM_MIB, AIM_EXPONENT = 6.0, 1024.0, 1.1


def measure(sections: int, rounds: int) -> dict[str, Any]:
    """Read a synthetic project and time the checks, together and one by one."""
    from synthetic_evidence import write_project

    from witnessmark.checks.registry import CHECKS
    from witnessmark.checks.run import judge
    from witnessmark.intake.project_reader import read_project
    from witnessmark.workings.work import work

    gc.disable()  # as the pipeline does
    with tempfile.TemporaryDirectory() as scratch:
        write_project(Path(scratch), sections)
        reading, seconds, slowest = math.inf, math.inf, Counter[str]()
        for number in range(rounds):
            # Look-ups that a project works out once are part of what checks cost: every round has a fresh project.
            began = time.process_time()
            project = read_project(Path(scratch))
            reading = min(reading, time.process_time() - began)
            workings = work(project)
            gc.collect()
            before = _peak_mib()
            began = time.process_time()
            judgement = judge(project, workings)
            seconds = min(seconds, time.process_time() - began)
            if not number:
                peak, grown = _peak_mib(), _peak_mib() - before
        for check in CHECKS:
            if not check.awaits:
                began = time.process_time()
                check.run(project, workings)
                slowest[check.rule.slug] = time.process_time() - began  # type: ignore[assignment]  # seconds, not counts
    return {
        "sections": sections,
        "joints": len(project.records.joints),
        "stages": len(project.records.tests),
        "checks": len(CHECKS),
        "findings": len(judgement.findings),
        "idle": sorted(run.rule.slug for run in judgement.runs if not run.examined and not run.skipped),
        "by_rule": Counter(f.rule.slug for f in judgement.findings).most_common(12),
        "reading": reading,
        "seconds": seconds,
        "peak_mib": grown,
        "process_mib": peak,
        "slowest": slowest.most_common(10),
    }


def _peak_mib() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sections", nargs="+", type=int, default=[2000, 10000])
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--one", type=int, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        print(json.dumps(measure(asked.one, asked.rounds)))
        return
    results = []
    for size in asked.sections:
        command = [sys.executable, __file__, "--one", str(size), "--rounds", str(asked.rounds)]
        results.append(json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout))
    print(
        "| sections | joints | test stages | checks | findings | reading, s | all checks, s | checks ÷ reading | raised by checks, MiB | peak of the process, MiB |\n|---|---|---|---|---|---|---|---|---|---|"
    )
    for r in results:
        print(
            f"| {r['sections']:,} | {r['joints']:,} | {r['stages']:,} | {r['checks']} | {r['findings']:,} | {r['reading']:.2f} | {r['seconds']:.2f} | "
            f"{r['seconds'] / r['reading']:.2f} | "
            f"{r['peak_mib']:.0f} | {r['process_mib']:.0f} |"
        )
    last = results[-1]
    print(
        f"\nAim: under {AIM_SECONDS:g} s and {AIM_MIB:g} MiB: {'met' if last['seconds'] < AIM_SECONDS and last['process_mib'] < AIM_MIB else 'missed'}"
    )
    if len(results) > 1:
        exponent = math.log(last["seconds"] / results[0]["seconds"]) / math.log(
            last["sections"] / results[0]["sections"]
        )
        print(f"Growth exponent: {exponent:.2f}; aim no more than {AIM_EXPONENT}")
    print("\nSlowest, ms: " + ", ".join(f"{slug} {1000 * seconds:.0f}" for slug, seconds in last["slowest"]))
    print("Most findings: " + ", ".join(f"{slug} {count}" for slug, count in last["by_rule"]))
    print("Nothing to look at: " + (", ".join(last["idle"]) or "none"))


if __name__ == "__main__":
    main()
