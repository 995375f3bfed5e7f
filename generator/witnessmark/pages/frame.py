"""What stands around every page of an edition, and what every page view has."""

from dataclasses import dataclass
from typing import NamedTuple


class Link(NamedTuple):
    """A link inside the edition: words, and an address counted from the top of the edition."""

    text: str
    address: str


@dataclass(frozen=True, slots=True)
class DutyView:
    """Whom to call: a role and its number, or the words for not knowing them."""

    role: str
    phone: str
    dial: str
    """Digits for a tel: link; empty where there is no number."""


@dataclass(frozen=True, slots=True)
class MenuGroup:
    """A heading of the menu with its links."""

    title: str
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """The parts that all pages of an edition share."""

    edition: str
    edition_words: str
    project: str
    building: str
    issue: str
    """'issue P03'."""
    issued_iso: str
    issued_words: str
    status: str
    duty: DutyView
    menu: tuple[MenuGroup, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PageView:
    """A page: the frame, its own address, the way back to the top, its title, and the pages above it."""

    frame: Frame
    address: str
    root: str
    title: str
    crumbs: tuple[Link, ...] = ()
