"""Signposts: what a tag answers whose section is gone from the records."""

from collections.abc import Iterator
from dataclasses import dataclass

from witnessmark.model.contract import Edition
from witnessmark.pages.address import is_tag_code, root_of, section_address
from witnessmark.pages.context import Context
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.words import clean


@dataclass(frozen=True, slots=True, kw_only=True)
class SignpostPage(PageView):
    """The page of a code that names no section any more."""

    code: str
    sentence: str
    now: Link | None


def signposts(context: Context) -> Iterator[SignpostPage]:
    """A page for every code that was once given and now names no section."""
    outcome = context.outcome
    issue = context.frame.issue
    taken = set(outcome.workings.tags.by_section.values())
    for tag in outcome.workings.tags.retired:
        if tag.code in taken or not is_tag_code(tag.code):
            continue
        taken.add(tag.code)
        section = outcome.project.sections.get(tag.section_id)
        address = section_address(tag.code)
        now = None
        if section is not None:
            hidden = context.edition is Edition.TAG and section.sensitive
            made_for = "a section" if hidden else f"section {clean(tag.section_id)}"
            code = outcome.workings.tags.by_section[tag.section_id]
            sentence = f"Tag {tag.code} was made for {made_for}, which now has tag {code}."
            now = Link(f"Go to tag {code}", context.section_addresses[tag.section_id])
        else:
            gone = clean(tag.section_id)
            sentence = f"Tag {tag.code} was made for section {gone}; the records of {issue} hold no such section."
        yield SignpostPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title=f"Tag {tag.code}",
            crumbs=(Link("Find another tag" if context.edition is Edition.TAG else "Home", "index.html"),),
            code=tag.code,
            sentence=sentence,
            now=now,
        )
