"""The error that ends a build: what was asked for cannot be written, and one sentence says why."""

from __future__ import annotations


class CannotWrite(Exception):
    """Nothing was written; ``str()`` is one clear sentence naming the place and what would settle it."""


def reason(error: OSError) -> str:
    """What the system says of an error, as the middle of a sentence."""
    return (error.strerror or type(error).__name__).lower()
