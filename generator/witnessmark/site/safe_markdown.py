"""Markdown without markup of its own: raw HTML stays text, and no link runs a script or leaves for an image."""

import html
from xml.etree.ElementTree import Element

from markdown import Markdown
from markdown.extensions import Extension
from markdown.treeprocessors import Treeprocessor, UnescapeTreeprocessor

LINK_SCHEMES = ("http", "https", "mailto", "tel")


def _scheme(address: str) -> str:
    """The scheme of an address as a browser would read it: blanks and controls inside it do not count."""
    bare = "".join(c for c in address if c > " " and c != "\x7f")
    head = bare.split("/", 1)[0].split("?", 1)[0].split("#", 1)[0]
    return head.partition(":")[0].lower() if ":" in head else ""


class _Disarm(Treeprocessor):
    def __init__(self, md: Markdown, images: bool) -> None:
        super().__init__(md)
        self._images = images
        self._placeholders = UnescapeTreeprocessor(md)

    def run(self, root: Element) -> None:
        for element in root.iter():
            if element.tag == "a":
                address = self.unescape(element.get("href", ""))
                scheme = _scheme(address)
                if (scheme and scheme not in LINK_SCHEMES) or address.startswith(("//", "/", "\\")):
                    element.attrib.clear()
                    element.tag = "span"
                elif scheme in ("http", "https"):
                    element.set("rel", "noreferrer noopener")
            elif element.tag == "img":
                address = self.unescape(element.get("src", ""))
                if not self._images or _scheme(address) or address.startswith(("/", "\\")):
                    words = element.get("alt") or "image"
                    tail = element.tail
                    element.clear()
                    element.tag, element.text, element.tail = "em", f"[{words}: not in this edition]", tail

    def unescape(self, text: str) -> str:
        """Text as a browser will read it: Markdown's placeholders and character references resolved."""
        return html.unescape(self._placeholders.unescape(text))


class SafeMarkdown(Extension):
    """Takes the raw HTML processors out and disarms addresses."""

    def __init__(self, **options: object) -> None:
        self.config = {"images": [True, "Whether pictures of the project are carried along."]}
        super().__init__(**options)

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802  # the name is Python-Markdown's
        """Called by Python-Markdown."""
        md.preprocessors.deregister("html_block")
        md.inlinePatterns.deregister("html")
        md.treeprocessors.register(_Disarm(md, bool(self.getConfig("images"))), "witnessmark-disarm", 0)


def makeExtension(**options: object) -> SafeMarkdown:  # noqa: N802  # the name is Python-Markdown's
    """Entry point of Python-Markdown."""
    return SafeMarkdown(**options)
