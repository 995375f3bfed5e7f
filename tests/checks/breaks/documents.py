"""One thing broken in sound records for every question about documents."""

import datetime
import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]
Settings = dict[str, Any]


def _document(tables: Tables, rng: random.Random, **cells: str) -> dict[str, str]:
    return rng.choice([row for row in tables["documents"] if all(row[name] == text for name, text in cells.items())])


def _changed(where: dict[str, str], **cells: str) -> Any:
    def change(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
        row = _document(tables, rng, **where)
        row.update(cells)
        return {row["document_id"]}

    return change


def _nothing_in_it(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    row = _document(tables, rng, kind="guarantee")
    row["declared_sha256"] = ""
    next(file for file in tables["files"] if file["path"] == row["file"]).update(kind="text", text="")
    return {row["document_id"]}


def _from_tomorrow(tables: Tables, settings: Settings, rng: random.Random) -> set[str]:
    row = _document(tables, rng, kind="guarantee")
    issue = datetime.date.fromisoformat(settings["issue"]["date"])
    row["date"] = (issue + datetime.timedelta(days=1)).isoformat()
    settings["limits"] = {"newest_date": row["date"]}
    return {row["document_id"]}


def _named(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    person = rng.choice([row for row in tables["operatives"] if " " in row["name"].strip()])
    row = _document(tables, rng, kind="photo", edition="facilities")
    row["title"] = f"Valve, photographed by {person['name'].upper()}"
    return {row["document_id"]}


def _named_in_a_cell(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    person = rng.choice([row for row in tables["operatives"] if " " in row["name"].strip()])
    rng.choice(tables["sections"])["access"] = f"Ask {person['name']} for the key"
    return {"sections"}


BREAKS = {
    "document-without-file": (_changed({"kind": "guarantee"}, file=""), "cannot tell", set()),
    "document-empty": (_nothing_in_it, "fail", set()),
    "document-differs-from-its-hash": (_changed({}, declared_sha256="0" * 64), "fail", set()),
    "document-not-legible": (_changed({}, legible="no"), "fail", set()),
    "document-dated-after-issue": (_from_tomorrow, "fail", set()),
    "document-undated": (_changed({"kind": "water_analysis"}, date=""), "cannot tell", set()),
    "person-named-in-file": (_named, "fail", set()),
    "person-named-in-records": (_named_in_a_cell, "fail", set()),
    "signature-outside-audit": (_changed({"kind": "training_certificate"}, edition="facilities"), "fail", set()),
}
