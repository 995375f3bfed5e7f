"""The line of links that a joint's own row shows, set in Python: a hundred thousand joints have a million of them."""

from collections.abc import Sequence
from functools import lru_cache

from markupsafe import Markup, escape

from witnessmark.pages.trace_pages import RecordedView


@lru_cache(maxsize=65_536)
def _link(words: str, record: str, address: str, detail: str, root: str) -> str:
    name = f"<bdi>{escape(record)}</bdi>"
    if address:
        name = f'<a href="{escape(root + address)}">{name}</a>'
    return f"<b>{escape(words)}</b> {name}" + (f", <bdi>{escape(detail)}</bdi>" if detail else "")


def recorded_line(links: Sequence[RecordedView], root: str) -> Markup:
    """All links of one joint, each with the letter of its column."""
    parts = [
        _link(words, record, address, detail, root)
        + (f' <span class="origin">{escape(column)}</span>' if column else "")
        for words, record, address, detail, column in links
    ]
    return Markup("; ".join(parts) + "." if parts else "")
