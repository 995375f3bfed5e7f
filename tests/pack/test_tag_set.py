"""The folder of tags: complete, listed, and the same bytes on every machine."""

from __future__ import annotations

import csv
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from witnessmark.pack.sheet_layout import SheetLayout
from witnessmark.pack.tag_face import TagFace
from witnessmark.pack.tag_set import CodeUsedTwice, write_tag_set

PROGRAM = """
import sys
from pathlib import Path
from witnessmark.pack.sheet_layout import SheetLayout
from witnessmark.pack.tag_face import Band, TagFace
from witnessmark.pack.tag_set import write_tag_set
faces = [
    TagFace(code, f"HTTPS://HANDOVER.EXAMPLE/T/{code}/", f"S-{code}", "Kühlung Ø54", "Chilled", "to roof", arrow,
            (Band("green", "#6A6C3C"), Band("white", "#FFFFFF")), "6 bar", "01632 960 123", od)
    for code, arrow, od in (("KM74XR2", "up", 22.0), ("KM74XR3", "both", 108.0), ("KM74XR4", "none", None))
]
write_tag_set(Path(sys.argv[1]), faces, SheetLayout())
"""


def test_every_tag_has_its_file_its_place_and_its_row(make_face: Callable[..., TagFace], tmp_path: Path) -> None:
    faces = [make_face("KM74XR2", section_id="=R1"), make_face("KM74XR3", od_mm=22.0), make_face("KM74XR4")]
    report = write_tag_set(tmp_path, iter(faces), SheetLayout(), level="H")
    assert (report.labels, report.sheets, report.larger_versions) == (3, 1, {4: 3})
    with (tmp_path / "tags.csv").open(encoding="utf-8-sig", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert [(row["code"], row["form"], row["section"]) for row in rows] == [
        ("KM74XR2", "plate", "'=R1"),
        ("KM74XR3", "flag", "HF-R2-L3-014"),
        ("KM74XR4", "plate", "HF-R2-L3-014"),
    ]
    assert {(row["version"], row["level"]) for row in rows} == {
        ("4", "H")
    }  # 4-H holds 50 characters, 3-H 35 (ISO/IEC 18004)
    assert all(float(row["module_mm"]) >= 0.75 for row in rows)
    assert [(row["sheet"], row["sheet_row"], row["sheet_column"]) for row in rows] == [
        ("1", "1", "1"),
        ("1", "1", "2"),
        ("1", "2", "1"),
    ]
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "KM74XR2.svg",
        "KM74XR3.svg",
        "KM74XR4.svg",
        "label-sheets.pdf",
        "tags.csv",
    ]
    assert all((tmp_path / row["svg_file"]).is_file() for row in rows)


def test_two_sections_with_one_code_are_refused(make_face: Callable[..., TagFace], tmp_path: Path) -> None:
    with pytest.raises(CodeUsedTwice, match="KM74XR2 is given to section 'A' and to section 'B'"):
        write_tag_set(tmp_path, [make_face(section_id="A"), make_face(section_id="B")], SheetLayout())


def test_two_runs_give_the_same_bytes_whatever_the_hash_seed_and_the_time_zone(tmp_path: Path) -> None:
    results = []
    for seed, zone in (("1", "Pacific/Kiritimati"), ("77", "America/Anchorage")):
        folder = tmp_path / seed
        environment = os.environ | {"PYTHONHASHSEED": seed, "TZ": zone}
        subprocess.run([sys.executable, "-c", PROGRAM, str(folder)], check=True, env=environment, timeout=120)
        results.append({path.name: path.read_bytes() for path in folder.iterdir()})
    assert len(results[0]) == 5
    assert results[0] == results[1]
