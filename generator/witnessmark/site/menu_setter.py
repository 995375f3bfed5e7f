"""The menu, set once for all pages at the same depth that do not stand in it."""

from collections.abc import Callable

from markupsafe import Markup

from witnessmark.pages.frame import Frame


class MenuSetter:
    """Sets the menu of a frame; thousands of section pages share one."""

    def __init__(self, set_menu: Callable[..., Markup]) -> None:
        self._set_menu = set_menu
        self._frame: Frame | None = None
        self._listed: frozenset[str] = frozenset()
        self._kept: dict[tuple[str, str], Markup] = {}

    def __call__(self, frame: Frame, root: str, address: str) -> Markup:
        """The menu as the page at ``address`` shows it."""
        if frame is not self._frame:
            self._frame, self._kept = frame, {}
            self._listed = frozenset(link.address for group in frame.menu for link in group.links)
        key = (root, address if address in self._listed else "")
        html = self._kept.get(key)
        if html is None:
            html = self._kept[key] = self._set_menu(frame.menu, *key)
        return html
