"""Checks of sizes and materials."""
