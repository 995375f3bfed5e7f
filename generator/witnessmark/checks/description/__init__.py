"""Checks of what every page must be able to say."""
