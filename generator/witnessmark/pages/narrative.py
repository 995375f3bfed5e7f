"""A narrative page: its words were written by people, its frame is ours."""

from dataclasses import dataclass

from witnessmark.pages.address import root_of
from witnessmark.pages.context import Context
from witnessmark.pages.frame import Link, PageView


@dataclass(frozen=True, slots=True, kw_only=True)
class NarrativePage(PageView):
    """Words, already turned from Markdown into HTML by a renderer that lets no foreign markup through."""

    html: str


def narrative_page(context: Context, address: str, title: str, html: str) -> NarrativePage:
    """Put a narrative page into the frame of its edition."""
    home = Link("Home" if context.registers else "Find a tag", "index.html")
    return NarrativePage(
        frame=context.frame, address=address, root=root_of(address), title=title, crumbs=(home,), html=html
    )
