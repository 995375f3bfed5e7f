"""From recorded inputs to a figure with its working: unknown as soon as one input is, with its name."""

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from witnessmark.engineering.errors import EngineeringError
from witnessmark.model.quantity import Input, Worked
from witnessmark.model.records import Record, Section, System
from witnessmark.workings.formulas import BY_ID


class Known(NamedTuple):
    """An input of a working: its value and where it came from, or the words for what is missing."""

    value: float | None
    input: Input | None = None
    missing: str = ""


def written(value: float, unit: str) -> str:
    """A figure with its unit, without needless zeros."""
    return f"{value:.7g} {unit}".rstrip()


def spoken(value: float | None) -> str:
    """A figure as a sentence says it: three figures, no exponent, no needless zeros; whole from 100 upward.

    >>> spoken(6.2190713), spoken(1013.25), spoken(0.0056), spoken(100.0), spoken(9.0)
    ('6.22', '1013', '0.0056', '100', '9')
    """
    if value is None:
        return "an unknown number of"
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    decimals = max(0, 2 - math.floor(math.log10(abs(value))))
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def recorded(record: Record, field: str, name: str, unit: str) -> Known:
    """A figure out of a record."""
    value = getattr(record, field)
    if value is None:
        return Known(None, None, f"the {name} in {record.source.place(field).words}")
    return Known(float(value), Input(name, written(value, unit), record.source.place(field)))


class Limits:
    """Limits of sections: their own, or those of their system, which are looked up once."""

    def __init__(self) -> None:
        self._of_system: dict[tuple[str, str], Known] = {}

    def of(self, section: Section, system: System | None, field: str, name: str, unit: str) -> Known:
        """The figure of the section where it has one, else of its system."""
        if getattr(section, field, None) is not None:
            return recorded(section, field, name, unit)
        if system is None:
            return Known(None, None, f"the {name} of section {section.section_id}, or of its system")
        key = (system.system_id, field)
        if key not in self._of_system:
            known = recorded(system, field, name, unit)
            if known.value is None:
                known = Known(None, None, f"the {name} of system {system.system_id} or its sections")
            self._of_system[key] = known
        return self._of_system[key]


def given(value: float, name: str, unit: str, basis: str) -> Known:
    """A figure of a reference table or another working."""
    return Known(value, Input(name, written(value, unit), None, basis))


def of_worked(worked: Worked) -> Known:
    """Another working as an input."""
    if worked.value is None:
        return Known(None, None, "; ".join(worked.missing))
    return Known(
        worked.value,
        Input(worked.name, written(worked.value, worked.unit), None, "a working of its own"),
    )


def unknown(name: str, formula_id: str, missing: Sequence[str], inputs: Sequence[Input] = ()) -> Worked:
    """A figure that cannot be worked out, naming why."""
    formula = BY_ID[formula_id]
    return Worked(
        name,
        None,
        formula.unit,
        formula.places,
        formula.text,
        tuple(inputs),
        formula.citation,
        formula.validity,
        tuple(dict.fromkeys(missing)),
        formula_id,
    )


def calculated(
    name: str, formula_id: str, needs: Sequence[Known], compute: Callable[..., float], *, places: int | None = None
) -> Worked:
    """Work a figure out from its inputs, in the order in which ``compute`` takes them.

    A refusal of the engineering becomes what is missing: a possible value.
    """
    formula = BY_ID[formula_id]
    inputs = tuple(known.input for known in needs if known.input is not None)
    missing = [known.missing for known in needs if known.value is None]
    if missing:
        return unknown(name, formula_id, missing, inputs)
    try:
        value = compute(*(known.value for known in needs))
    except EngineeringError as error:
        return unknown(name, formula_id, (f"a possible value: {error}",), inputs)
    return Worked(
        name,
        value,
        formula.unit,
        formula.places if places is None else places,
        formula.text,
        inputs,
        formula.citation,
        formula.validity,
        (),
        formula_id,
    )
