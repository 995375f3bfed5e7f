"""Write the demo project: ``python demo_project/make_demo.py DIR``, with ``--clean`` or ``--tidy`` one of its twins."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from maker.write import WrongFolder, write_clean, write_tidy, write_untidy


def main(arguments: list[str] | None = None) -> int:
    """Exit code 0, or 2 where the folder is not one to write to."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path, help="folder to write; this demo's own records and documents are replaced")
    twin = parser.add_mutually_exclusive_group()
    twin.add_argument("--clean", action="store_true", help="write the same building in tidy files and without faults")
    twin.add_argument("--tidy", action="store_true", help="write the same building in tidy files, its faults kept")
    options = parser.parse_args(arguments)
    try:
        write = write_clean if options.clean else write_tidy if options.tidy else write_untidy
        write(options.folder)
    except WrongFolder as error:
        print(error, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
