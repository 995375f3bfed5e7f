"""Text keeps the contrast that WCAG 2.2 asks for at level AA, light and dark.

The formula is WCAG 2.2's definition of relative luminance and contrast ratio (threshold 0.04045).
"""

import re

import pytest

from witnessmark.site.environment import FOLDER

BASE = (FOLDER / "assets" / "base.css").read_text(encoding="utf-8")
LIGHT, DARK = re.findall(r":root \{(.*?)\}", BASE, re.DOTALL)[:2]
PAIRS = [
    (ink, ground, 4.5)
    for ground in ("paper", "panel")
    for ink in ("ink", "hush", "link", "pass", "fail", "unknown", "waived")
] + [
    ("on-solid", "solid", 4.5),
    ("warn-ink", "warn", 4.5),
    ("mark", "paper", 3.0),
    ("mark", "panel", 3.0),
    ("rule", "panel", 3.0),
    ("warn-line", "panel", 3.0),
]


def _luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first: str, second: str) -> float:
    """Contrast ratio of two colours '#rrggbb'."""
    light, dark = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_published_extremes() -> None:
    assert contrast("#ffffff", "#000000") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("mode", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("ink", "ground", "least"), PAIRS)
def test_text_and_marks_stand_out_from_their_ground(mode: str, ink: str, ground: str, least: float) -> None:
    colours = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", mode))
    assert contrast(colours[ink], colours[ground]) >= least
