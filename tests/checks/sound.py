"""A random project in which everything is right: for tests that break one thing and look what is found.

``sound_records(seed)`` gives (tables, settings): contract table to its rows, each contract field to text as written in a
CSV file, and project.yml as plain values. One table more, ``files``, lists the files below documents/: ``path``, ``kind``
('png', 'pdf' or 'text') and ``text``, which makes the file differ from every other; :func:`write_project` writes all of it.

There are always four systems: heating flow (carbon steel or copper, closed, treated), chilled flow (carbon steel, closed,
treated, with a vapour barrier), mains cold water (stainless steel or copper, potable) and compressed air (FKM, tested with
gas), each of one to three sections; one joint at least is 108 mm; one fitting was cut out after a failed attempt; one
valve was changed after a test and its sections were tested again; one concession is in force.
"""

import csv
import importlib.util
import io
import json
import pickle
import sys
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

Tables = dict[str, list[dict[str, str]]]


def _beside(name: str) -> ModuleType:
    full = f"sound_project.{name}"
    if full not in sys.modules:
        spec = importlib.util.spec_from_file_location(full, Path(__file__).with_name(f"{name}.py"))
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[full] = module  # dataclasses look their module up while they are made
        spec.loader.exec_module(module)
    return sys.modules[full]


_site, _goods, _pipework = _beside("sound_site"), _beside("sound_goods"), _beside("sound_pipework")
_testing, _water, _papers = _beside("sound_testing"), _beside("sound_water"), _beside("sound_papers")
_pipework.from_goods = _water.goods_module = _papers.goods_module = _goods  # type: ignore[attr-defined]
_testing.pipework, _papers.testing_module = _pipework, _testing  # type: ignore[attr-defined]


def sound_records(seed: int) -> tuple[Tables, dict[str, Any]]:
    """Tables and settings of the project of a seed; the caller may change both."""
    tables, settings = pickle.loads(_made(seed))
    return tables, settings


@cache
def _made(seed: int) -> bytes:
    site = _site.Site(seed)
    goods = _goods.Goods(site)
    systems = _pipework.lay_out(site, goods)
    testing = _testing.Testing(site, goods, site.rng.choice(("nitrogen", "air")))
    testing.run(systems)
    testing.lesser_snags(systems)
    _water.finish(site, systems)
    _papers.add_ratings(site)
    _papers.add_tags(site)
    _papers.add_concession(site, systems)
    completion = site.working(site.last_event, site.rng.randint(5, 15))
    _water.run_the_water(site, systems, completion)
    settings = _papers.settings(site, completion)
    for stage in (s for p in settings["procedures"].values() for s in p["stages"]):
        if stage["medium"] == "nitrogen":
            stage["medium"] = testing.gas
    goods.service_once_more(completion)
    _papers.declare_hashes(site)
    return pickle.dumps((site.tables, settings))  # copied by reading it anew, in a tenth of the time of deepcopy


def as_csv(rows: list[dict[str, str]]) -> str:
    """Rows as the text of a CSV file; a column for every field that any row has."""
    columns = list(dict.fromkeys(name for row in rows for name in row))
    out = io.StringIO()
    writer = csv.DictWriter(out, columns, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def project_files(tables: Tables, settings: dict[str, Any]) -> dict[str, bytes]:
    """All files of the project folder, by path.

    Each file of records is named in project.yml with its first row: looking for headings takes half the time of reading.
    """
    filled = {name: rows for name, rows in tables.items() if name != "files" and rows}
    sources = [{"table": name, "file": f"records/{name}.csv", "header_row": 1} for name in filled if name != "tags"]
    told = settings if "records" in settings else {**settings, "records": sources}
    # JSON is YAML too, and written faster.
    files = {"project.yml": json.dumps(told, ensure_ascii=False, indent=1).encode()}
    files |= {f"records/{name}.csv": as_csv(rows).encode() for name, rows in filled.items()}
    for row in tables.get("files", []):
        files[f"documents/{row['path']}"] = _papers.file_bytes(row["kind"], row["text"])
    return files


def write_files(folder: Path, files: dict[str, bytes], there: dict[str, bytes]) -> None:
    """Write what differs from what is ``there`` and take away what is no longer wanted."""
    for path in there.keys() - files.keys():
        (folder / path).unlink()
    for path, data in files.items():
        if there.get(path) != data:
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).write_bytes(data)


def write_project(folder: Path, tables: Tables, settings: dict[str, Any]) -> None:
    """Write the project into a folder that is empty or does not exist."""
    write_files(folder, project_files(tables, settings), {})
