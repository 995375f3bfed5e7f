"""Checks of the registration of guarantees."""
