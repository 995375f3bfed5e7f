"""Checks: one file each, documentation, metadata and code together; one hand-written list of all."""
