"""Write the demo project: ``make_demo.py DIR``; with ``--clean``, ``--tidy`` or ``--fault NAME`` one of its twins."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from maker.write import WrongFolder, write_clean, write_fault, write_tidy, write_untidy


def main(arguments: list[str] | None = None) -> int:
    """Exit code 0, or 2 where the folder is not one to write to."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path, help="folder to write; this demo's own records and documents are replaced")
    twin = parser.add_mutually_exclusive_group()
    twin.add_argument("--clean", action="store_true", help="write the same building in tidy files and without faults")
    twin.add_argument("--tidy", action="store_true", help="write the same building in tidy files, its faults kept")
    twin.add_argument("--fault", metavar="NAME", help="write the clean twin with this one fault of planted.csv")
    options = parser.parse_args(arguments)
    try:
        if options.fault:
            write_fault(options.folder, options.fault)
        else:
            write = write_clean if options.clean else write_tidy if options.tidy else write_untidy
            write(options.folder)
    except (WrongFolder, LookupError) as error:
        print(error, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
