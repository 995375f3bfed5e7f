"""Checks of attached documents and of who is shown what."""
