"""Registration of guarantees: what sections of one material share of start and last day to register."""

import datetime
from collections import defaultdict
from dataclasses import dataclass

from witnessmark.model.settings import GuaranteeTerms
from witnessmark.workings.guarantee import GuaranteeWorking
from witnessmark.workings.work import Workings


@dataclass(frozen=True, slots=True)
class Registration:
    """One material and start: terms, last day to register, and the sections concerned."""

    material: str
    terms: GuaranteeTerms
    starts_on: datetime.date
    register_by: datetime.date
    worked: GuaranteeWorking
    section_ids: tuple[str, ...]

    @property
    def words(self) -> str:
        """'Carbon steel'."""
        return self.material.replace("_", " ").capitalize()


def registrations(workings: Workings) -> list[Registration]:
    """Guarantees that must be registered and whose last day to do so is known, by material and start."""
    groups: dict[tuple[str, datetime.date], list[tuple[str, GuaranteeWorking]]] = defaultdict(list)
    for section_id in sorted(workings.sections):
        for worked in workings.sections[section_id].guarantees:
            terms = worked.terms
            if terms is None or "registered_in_time" not in terms.needs:
                continue
            if worked.starts_on is not None and worked.register_by is not None:
                groups[worked.material, worked.starts_on].append((section_id, worked))
    found = []
    for (material, starts_on), group in sorted(groups.items(), key=lambda item: item[0]):
        first = group[0][1]
        if first.terms is not None and first.register_by is not None:
            names = tuple(dict.fromkeys(section_id for section_id, _ in group))
            found.append(Registration(material, first.terms, starts_on, first.register_by, first, names))
    return found
