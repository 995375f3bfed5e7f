"""One thing broken in sound records for every question about concessions."""

import datetime
import random
from typing import Any

Tables = dict[str, list[dict[str, str]]]
Settings = dict[str, Any]


def _cell(**cells: str) -> Any:
    def change(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
        row = rng.choice(tables["concessions"])
        row.update(cells)
        return {row["concession_id"]}

    return change


def _ended(tables: Tables, settings: Settings, rng: random.Random) -> set[str]:
    row = rng.choice(tables["concessions"])
    issue = datetime.date.fromisoformat(settings["issue"]["date"])
    row["expires_on"] = (issue - datetime.timedelta(days=1)).isoformat()
    return {row["concession_id"]}


def _refused_too(tables: Tables, _settings: Settings, rng: random.Random) -> set[str]:
    row = rng.choice(tables["concessions"])
    tables["concessions"].append({**row, "concession_id": "CN-999", "decision": "refused"})
    return {"CN-999"}


BREAKS = {
    "concession-not-approved": (_cell(approved_by_role="Site manager"), "fail", set()),
    "concession-expired": (_ended, "fail", set()),
    "guarantor-consent-missing": (_cell(guarantee_effect="needs_consent", guarantor_consent="no"), "fail", set()),
    "concession-for-unknown-check": (_cell(check="weather-bad"), "fail", set()),
    "concessions-disagree": (_refused_too, "fail", set()),
    "concession-applies-to-nothing": (_cell(subject="", section_ids="", joint_ids=""), "cannot tell", set()),
}
