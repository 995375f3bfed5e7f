"""Checks of ids and codes."""
