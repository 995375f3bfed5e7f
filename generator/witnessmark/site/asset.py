"""Style sheets and scripts of an edition, put together from the files beside the components."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from witnessmark.model.contract import Edition
from witnessmark.site.environment import FOLDER, SHEETS

SCRIPTS = ("age.js", "find.js")
PACK_SCRIPTS = ("aids.js",)
"""Scripts of the editions that hold working aids."""
COMPONENTS = (
    "aid",
    "band",
    "call",
    "chain",
    "facts",
    "find",
    "finding",
    "hazards",
    "leak_bar",
    "leaves",
    "rating",
    "stage_points",
    "state",
    "table",
    "trace",
    "trace_link",
    "working",
)
TAG_COMPONENTS = ("band", "call", "facts", "find", "hazards", "state", "working")


def style_sheet(edition: Edition) -> str:
    """The style sheet of an edition; the tag edition carries only what its pages use."""
    names = TAG_COMPONENTS if edition is Edition.TAG else COMPONENTS
    files = [FOLDER / "assets" / "base.css", FOLDER / "assets" / "card.css"]
    files += [FOLDER / "components" / name / f"{name}.css" for name in names]
    files.append(FOLDER / "assets" / "print.css")
    return "".join(file.read_text(encoding="utf-8") for file in files if file.is_file())


def print_sheet(wide_tables: Mapping[str, Sequence[str]]) -> str:
    """Style for printing tables that are too wide for paper: every cell after the heading of its column.

    Headings are put before the cells by style, so that no page carries them in every row.
    """
    rules = []
    for kind, headings in sorted(wide_tables.items()):
        for number, heading in enumerate(headings, 1):
            words = "".join(sign if sign.isalnum() or sign in " -,()%" else f"\\{ord(sign):x} " for sign in heading)
            rules.append(f'.w-{kind} td:nth-child({number})::before {{ content: "{words}: "; }}\n')
    return "".join(rules)


def write_print_sheet(out_dir: Path, wide_tables: Mapping[str, Sequence[str]]) -> None:
    """Write the style sheet of wide tables on paper."""
    (out_dir / "assets" / "print-tables.css").write_bytes(print_sheet(wide_tables).encode("utf-8"))


def write_assets(out_dir: Path, edition: Edition, codes: str) -> None:
    """Write ``assets/`` of an edition; ``codes`` are all its tag codes, for the script that finds a tag."""
    folder = out_dir / "assets"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / SHEETS[edition.value]).write_bytes(style_sheet(edition).encode("utf-8"))
    for script in SCRIPTS if edition is Edition.TAG else (*SCRIPTS, *PACK_SCRIPTS):
        (folder / script).write_bytes((FOLDER / "assets" / script).read_bytes())
    (folder / "codes.js").write_bytes(f'"use strict";\nglobalThis.witnessmarkCodes = "{codes}";\n'.encode())
