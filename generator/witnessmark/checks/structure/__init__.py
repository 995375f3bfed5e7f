"""Checks of how records hang together."""
