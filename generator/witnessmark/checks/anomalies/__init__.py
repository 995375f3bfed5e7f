"""Patterns that ask for an explanation and accuse nobody."""
