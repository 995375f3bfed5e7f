"""Operatives, their roles and trainings. All names are invented and stand in the operatives table alone."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from .model import Building, Dice


@dataclass(frozen=True)
class Person:
    """One row of the register; ``families`` says what the person is trained for."""

    code: str
    name: str
    initials: str
    also: str
    role: str
    employer: str
    families: str


PEOPLE = (
    Person("OP-01", "Siobhán O'Quillane", "SOQ", "S. O'Quillane; Shiv", "Pipefitter", "SUB-1", "FAM-K; FAM-C"),
    Person("OP-02", "Jonas Stellbrook", "JS", "J. Stellbrook", "Pipefitter", "SUB-1", "FAM-K; FAM-C"),
    Person("OP-03", "Ngozi Adé-Marchbank", "NAM", "Ade-Marchbank", "Pipefitter", "SUB-1", "FAM-K; FAM-C"),
    Person("OP-04", "Rhodri Penwarrick", "RP", "Penwarrick R", "Foreman and checker", "SUB-1", "FAM-K; FAM-C"),
    Person("OP-05", "Juno Szarvasi", "JS", "", "Pipefitter", "SUB-2", "FAM-K; FAM-C"),
    Person("OP-06", "Мирон Заречнюк", "MZ", "Miron Z.", "Pipefitter", "SUB-2", "FAM-K; FAM-C"),
    Person("OP-07", "Agnethe Bølgemark", "AB", "A Bolgemark", "Foreman and checker", "SUB-2", "FAM-K; FAM-C"),
    Person("OP-08", "Tadhg D'Arcy-Fenn", "TDF", "D'Arcy-Fenn", "Plumber", "SUB-3", "FAM-S; FAM-C"),
    Person("OP-09", "Łucja Wierzbowiec", "LW", "Lucja", "Plumber", "SUB-3", "FAM-S; FAM-C"),
    Person("OP-10", "Basil Quorndale", "BQ", "", "Plumber", "SUB-3", "FAM-S; FAM-C"),
    Person("OP-11", "Imke Vantreese", "IV", "Vantreese, Imke", "Foreman and checker", "SUB-3", "FAM-S; FAM-C"),
    Person("OP-12", "Orla N'Diaye-Croft", "ONC", "Orla", "Gas fitter", "SUB-4", "FAM-S; FAM-C; FAM-G"),
    Person("OP-13", "Desmond Falkirkson", "DF", "Des", "Gas fitter", "SUB-4", "FAM-S; FAM-C; FAM-G"),
    Person("OP-14", "星河 岳", "HG", "Hoshikawa", "Foreman and checker", "SUB-4", "FAM-S; FAM-C; FAM-G"),
)
PRESSERS = {
    "SUB-1": ("OP-01", "OP-02", "OP-03"),
    "SUB-2": ("OP-05", "OP-06"),
    "SUB-3": ("OP-08", "OP-09", "OP-10"),
    "SUB-4": ("OP-12", "OP-13"),
}
CHECKER = {"SUB-1": "OP-04", "SUB-2": "OP-07", "SUB-3": "OP-11", "SUB-4": "OP-14"}
LARGEST_MM = {"FAM-C": 54, "FAM-S": 108, "FAM-K": 108, "FAM-G": 54}


def add_people(building: Building) -> None:
    """The register and one training a family, all before the first joint."""
    number = 310
    for person in PEOPLE:
        dice = Dice("person", person.code)
        building.add(
            "operatives",
            operative_id=person.code,
            name=person.name,
            initials=person.initials,
            also_written=person.also or None,
            role=person.role,
            employer=person.employer,
            inducted_on=dt.date(2025, 9, dice.whole(22, 30)),
        )
        for family in person.families.split("; "):
            number += 1
            trained = dt.date(2025, dice.whole(2, 8), dice.whole(3, 26))
            building.add(
                "trainings",
                operative_id=person.code,
                system_family=family,
                max_od_mm=LARGEST_MM[family],
                provider="Training centre " + {"FAM-C": "1", "FAM-S": "2", "FAM-K": "1", "FAM-G": "3"}[family],
                certificate_no=f"TR-{number:04d}",
                trained_on=trained,
                expires_on=dt.date(trained.year + 3, trained.month, trained.day) - dt.timedelta(days=1),
                sample_joint=True,
                document_id=f"DOC-T{person.employer[-1]}",
            )
