"""Writes the invented building Tallow Yard: a clean model first, then named faults and site habits on top of it."""
