"""Units as sites spell them, against published factors."""

from __future__ import annotations

import pytest

from witnessmark.intake.units import UnitFault, conversion, looks_like_unit, unit_label


@pytest.mark.parametrize(
    ("source", "target", "one"),
    [
        # NIST SP 811 (2008), appendix B.8: factors as printed there, to the digits given.
        ("psi", "kPa", 6.894757),
        ("mH2O", "kPa", 9.80665),
        ("ft", "m", 0.3048),
        ("in", "mm", 25.4),
        ("gal (US)", "L", 3.785412),
        ("gal (UK)", "L", 4.54609),
        # SI prefixes and the definition of the bar.
        ("bar", "kPa", 100.0),
        ("MPa", "bar", 10.0),
        ("mbar", "bar", 0.001),
        ("h", "min", 60.0),
        ("m", "mm", 1000.0),
        ("m3/h", "L/s", 1 / 3.6),
    ],
)
def test_factors_agree_with_published_ones(source: str, target: str, one: float) -> None:
    assert conversion(source, target).apply(1.0) == pytest.approx(one, rel=1e-6)


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0)])
def test_temperatures_shift_and_differences_do_not(fahrenheit: float, celsius: float) -> None:
    """Fixed points of water and the crossing of the scales: common knowledge."""
    assert conversion("°F", "°C").apply(fahrenheit) == pytest.approx(celsius, abs=1e-9)
    assert conversion("°F", "°C", difference=True).apply(9.0) == pytest.approx(5.0, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("bar", "bar g"),
        ("barg", "bar g"),
        ("bar g", "bar g"),
        ("Bar(g)", "bar g"),
        ("[bar]", "bar g"),
        ("PSIG", "psi g"),
        ("kPa", "kPa"),
        ("mpa", "MPa"),
        ("mWG", "mH2O"),
        ("mH₂O", "mH2O"),
        ("ltr", "L"),
        ("l", "L"),
        ("C", "°C"),
        ("deg\u00a0C", "°C"),
        ("degC", "°C"),
        ("m³", "m3"),
        ("mins", "min"),
        ("l / s", "L/s"),
        ('"', "in"),
    ],
)
def test_site_spellings(text: str, label: str) -> None:
    assert looks_like_unit(text)
    assert unit_label(text) == label


def test_gauge_stays_gauge_and_needs_no_conversion() -> None:
    change = conversion("barg", "bar")
    assert not change.changes
    assert change.apply(6.1) == 6.1


@pytest.mark.parametrize(
    ("source", "target", "kind"),
    [
        ("gal", "L", "unit-could-be-two"),
        ("bara", "bar", "pressure-is-absolute"),
        ("psi abs", "bar", "pressure-is-absolute"),
        ("m", "min", "unit-of-other-kind"),
        ("bar", "°C", "unit-of-other-kind"),
        ("furlong", "m", "unit-unknown"),
    ],
)
def test_a_unit_that_cannot_be_used_is_named(source: str, target: str, kind: str) -> None:
    with pytest.raises(UnitFault) as caught:
        conversion(source, target)
    assert caught.value.kind == kind
    assert source in str(caught.value)
