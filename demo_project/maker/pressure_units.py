"""Pressures of the tests in the units that offices write."""

from __future__ import annotations

from .model import Value, plain

PSI_PER_BAR = 14.503773773
PRESSURES = ("required_pressure_bar", "start_pressure_bar", "end_pressure_bar", "relief_set_bar")


def psi(value: Value) -> Value:
    """Bar to psi, one place; what is no number stays."""
    return round(value * PSI_PER_BAR, 1) if isinstance(value, int | float) else value


def psi_text(value: Value) -> str:
    """Bar to psi as text."""
    return plain(psi(value))


def mbar_text(value: Value) -> str:
    """Bar to mbar as text."""
    return plain(round(value * 1000, 1)) if isinstance(value, int | float) else plain(value)
