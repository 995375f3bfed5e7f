"""What a joint id says: the run it is numbered in, its number, and the letter of its end."""

import re
from dataclasses import dataclass

_NUMBERED = re.compile(r"^(?P<run>.*?)(?P<number>[0-9]{1,9})(?:[-./ ]?(?P<end>[A-Za-z]))?$")
_LETTERED = re.compile(r"^(.*[0-9])[-./]?([A-D])$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class JointNumber:
    """An id in three parts: 'LTHW-J014-A' is number 14 of the run 'LTHW-J', end 'A'."""

    run: str
    number: int
    end: str


def joint_number(joint_id: str) -> JointNumber | None:
    """The parts of an id; ``None`` for one that ends in no number."""
    match = _NUMBERED.match(joint_id)
    return JointNumber(match["run"], int(match["number"]), match["end"] or "") if match else None


def fitting_of(joint_id: str) -> tuple[str, bool]:
    """The fitting that an end belongs to by its letter ('J014' of 'J014-A'), and whether there is such a letter."""
    match = _LETTERED.match(joint_id)
    return (match.group(1), True) if match else (joint_id, False)


def same_number(joint_id: str, digits: str, number: int) -> str:
    """``joint_id`` with another number, written as wide as ``digits``: 'J003' from 'J002', '002' and 3."""
    match = _NUMBERED.match(joint_id)
    return f"{match['run'] if match else ''}{number:0{len(digits)}d}"
