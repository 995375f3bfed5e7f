"""Checks of accepted departures."""
