"""Checks of valves, drains and vents."""
