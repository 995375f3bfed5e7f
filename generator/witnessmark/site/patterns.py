"""One page with every component, set from the examples beside it: what a change of style is looked at with."""

from dataclasses import dataclass
from typing import Any

import yaml
from markupsafe import Markup

from witnessmark.pages.figure import Figure
from witnessmark.site.environment import FOLDER, environment


@dataclass(frozen=True, slots=True)
class Component:
    """A component with its documentation and its examples as set."""

    name: str
    about: str
    parameters: tuple[tuple[str, str], ...]
    examples: tuple[Markup, ...]


def _as_views(value: Any) -> Any:
    if isinstance(value, dict):
        if value.keys() == {"value", "unit", "places"}:
            return Figure(**value)
        return {key: _as_views(each) for key, each in value.items()}
    return tuple(_as_views(each) for each in value) if isinstance(value, list) else value


def components() -> tuple[Component, ...]:
    """All components in the order of their names. A folder without ``component.yaml`` raises ``FileNotFoundError``."""
    found = []
    for folder in sorted(path for path in (FOLDER / "components").iterdir() if path.is_dir()):
        declared = yaml.safe_load((folder / "component.yaml").read_text(encoding="utf-8"))
        macro = getattr(environment().get_template(f"{folder.name}/{folder.name}.html").module, declared["macro"])
        before, after = (Markup("<ul class='findings'>"), Markup("</ul>")) if declared.get("wrap") else (Markup(),) * 2
        examples = tuple(before + macro(**_as_views(example)) + after for example in declared["examples"])
        found.append(Component(folder.name, declared["about"], tuple(declared["parameters"].items()), examples))
    return tuple(found)


def patterns_page() -> str:
    """The page as HTML; it stands at the top of an edition, beside ``assets/``."""
    return environment().get_template("patterns.html").render(components=components())
