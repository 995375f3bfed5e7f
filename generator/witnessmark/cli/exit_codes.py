"""Exit codes of the command line."""

from enum import IntEnum


class ExitCode(IntEnum):
    """What a command tells the shell."""

    DONE = 0
    """Done."""
    CHAIN_BROKEN = 1
    """Done, and something breaks the evidence chain. Only 'check' says so."""
    CANNOT = 2
    """Could not do it; one sentence says why."""
