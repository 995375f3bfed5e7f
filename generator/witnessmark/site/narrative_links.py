"""Links of narrative pages, held against the edition once it is written.

MkDocs knows its own pages alone and would call every link to a page of the records a dead one.
"""

import posixpath
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit


class _Hrefs(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "a":
            self.found += [value for name, value in attrs if name == "href" and value]


def links_within(html: str) -> tuple[str, ...]:
    """Links of a page that stay inside the edition, each once, in their order."""
    parser = _Hrefs()
    parser.feed(html)
    return tuple(dict.fromkeys(each for each in parser.found if not any(urlsplit(each)[:2]) and urlsplit(each).path))


def dead_links(out_dir: Path, address: str, links: tuple[str, ...]) -> Iterator[str]:
    """Those of the links of the page at ``address`` that lead to no file below ``out_dir``."""
    for link in links:
        target = posixpath.normpath(posixpath.join(posixpath.dirname(address), unquote(urlsplit(link).path)))
        if target.startswith("..") or not (out_dir / target).is_file():
            yield link
