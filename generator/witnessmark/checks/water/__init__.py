"""Checks of flushing, filling, treatment, disinfection and samples."""
