"""What a joint id says: the run it is numbered in, its number, and the letter of its end."""

from typing import NamedTuple

_DIGITS = "0123456789"
_ENDS = frozenset("ABCDabcd")
_MARKS = frozenset("-./")
_FIGURES = frozenset(_DIGITS)
_MOST_DIGITS = 9


class JointNumber(NamedTuple):
    """An id in its parts: 'LTHW-J014-A' is number 14 of the run 'LTHW-J', written '014', end 'A'."""

    run: str
    number: int
    end: str
    digits: str


def joint_number(joint_id: str) -> JointNumber | None:
    """The parts of an id; ``None`` for one that ends in no number."""
    last = joint_id[-1:]
    if last.isascii() and last.isalpha():
        end, stem = last, joint_id[:-1]
        if stem[-1:] in ("-", ".", "/", " "):
            stem = stem[:-1]
    else:
        end, stem = "", joint_id
    run = stem.rstrip(_DIGITS)
    digits = stem[len(run) :]
    return JointNumber(run, int(digits), end, digits) if 0 < len(digits) <= _MOST_DIGITS else None


def fitting_of(joint_id: str) -> tuple[str, bool]:
    """The fitting that an end belongs to by its letter ('J014' of 'J014-A'), and whether there is such a letter."""
    if joint_id[-1:] in _ENDS:
        before = joint_id[-2:-1]
        if before in _MARKS:
            return (joint_id[:-2], True) if joint_id[-3:-2] in _FIGURES else (joint_id, False)
        if before in _FIGURES:
            return joint_id[:-1], True
    return joint_id, False
