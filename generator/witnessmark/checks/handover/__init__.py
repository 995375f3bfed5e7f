"""Checks of snags at handover."""
