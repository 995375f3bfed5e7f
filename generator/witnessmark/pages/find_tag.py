"""Find a tag by its code: the front page of the tag edition, a plain list without scripts."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.model.contract import Edition
from witnessmark.pages.address import LEAF_ROWS, is_tag_code, root_of, section_address
from witnessmark.pages.context import Context
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.words import clean


class TagLine(NamedTuple):
    """A tag in the list."""

    code: str
    address: str
    section: str
    name: str
    service: str


class TagRange(NamedTuple):
    """A leaf of the list: the codes from first to last."""

    first: str
    last: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FindTagPage(PageView):
    """A leaf of the tags, by code. One leaf stands on the front page itself; of several the front page is the list."""

    front: bool
    lines: tuple[TagLine, ...]
    ranges: tuple[TagRange, ...]
    count: int


def _lines(context: Context) -> list[TagLine]:
    lines = []
    tags = context.outcome.workings.tags
    for section in context.outcome.project.sections.values():
        code = tags.by_section[section.section_id]
        hidden = context.edition is Edition.TAG and section.sensitive
        lines.append(
            TagLine(
                code,
                context.section_addresses[section.section_id],
                "" if hidden else clean(section.section_id),
                "" if hidden else clean(section.name or ""),
                context.service_of(section).words,
            )
        )
    known = {line.code for line in lines}
    for tag in tags.retired:
        if tag.code not in known and is_tag_code(tag.code):
            known.add(tag.code)
            lines.append(TagLine(tag.code, section_address(tag.code), "", "", "no longer in the records"))
    return sorted(lines)


def find_tag_pages(context: Context) -> Iterator[FindTagPage]:
    """The front page and, for many tags, its leaves."""
    lines = _lines(context)
    parts = [tuple(lines[i : i + LEAF_ROWS]) for i in range(0, len(lines), LEAF_ROWS)]
    if len(parts) > 1:
        ranges = tuple(TagRange(p[0].code, p[-1].code, f"find.{n}.html") for n, p in enumerate(parts, 1))
        yield _page(context, "index.html", True, (), ranges, len(lines))
        for part, where in zip(parts, ranges, strict=True):
            yield _page(context, where.address, False, part, (), len(lines))
    else:
        yield _page(context, "index.html", True, parts[0] if parts else (), (), len(lines))


def _page(
    context: Context, address: str, front: bool, lines: tuple[TagLine, ...], ranges: tuple[TagRange, ...], count: int
) -> FindTagPage:
    title = "Find a tag" if front else f"Tags {lines[0].code} to {lines[-1].code}"
    crumbs = () if front else (Link("Find a tag", "index.html"),)
    return FindTagPage(
        frame=context.frame,
        address=address,
        root=root_of(address),
        title=title,
        crumbs=crumbs,
        front=front,
        lines=lines,
        ranges=ranges,
        count=count,
    )


def all_codes(context: Context) -> str:
    """All codes of the edition, sorted, for the script that goes straight to a tag."""
    return " ".join(line.code for line in _lines(context))
