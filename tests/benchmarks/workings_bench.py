"""Seconds that all engineering takes, its growth, and its ratio to reading the same records in the same run.

    python tests/benchmarks/workings_bench.py [--sections 2000 10000]

Two test stages to five sections: 10,000 sections have 4,000. Processor seconds of one process, the lowest of three rounds.
"""

import argparse
import gc
import math
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
TESTING = "testing: {heating_flow: water_1.5_mop, heating_return: water_1.5_mop, chilled_flow: water_1.5_mop, boosted_cold_water: water_1.5_mop, hot_water_flow: water_1.5_mop}\n"


def measure(sections: int) -> tuple[float, float]:
    """Processor seconds of reading, and of working out."""
    from synthetic import write_project

    from witnessmark.intake.project_reader import read_project
    from witnessmark.workings.work import work

    best = [math.inf, math.inf]
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        write_project(folder, sections)
        with (folder / "project.yml").open("a", encoding="utf-8") as handle:
            handle.write(TESTING)
        for _ in range(3):
            gc.collect()
            gc.disable()  # as the pipeline does
            began = time.process_time()
            project = read_project(folder)
            read = time.process_time()
            workings = work(project)
            done = time.process_time()
            gc.enable()
            assert len(workings.ratings) == sections
            best = [min(best[0], read - began), min(best[1], done - read)]
    return best[0], best[1]


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sections", nargs="+", type=int, default=[2000, 10000])
    sizes = parser.parse_args().sections
    results = [measure(size) for size in sizes]
    print("| sections | test stages | reading, s | working out, s | working out ÷ reading |\n|---|---|---|---|---|")
    for size, (read, worked) in zip(sizes, results, strict=True):
        print(f"| {size:,} | {2 * ((size + 4) // 5):,} | {read:.2f} | {worked:.2f} | {worked / read:.2f} |")
    if len(sizes) > 1:
        exponent = math.log(results[-1][1] / results[0][1]) / math.log(sizes[-1] / sizes[0])
        print(f"\nGrowth exponent of working out: {exponent:.2f}")


if __name__ == "__main__":
    main()
