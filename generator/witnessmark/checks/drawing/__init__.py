"""Checks of the drawings that records cite."""
