"""Progress on a terminal: one line that is written over. Silent in a pipe."""

from __future__ import annotations

import sys
import time
from typing import TextIO

_CLEAR = "\r\x1b[K"


class ProgressLine:
    """One line on a terminal that names the stage; nothing where the stream is no terminal."""

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = stream if stream is not None else sys.stderr
        self.shown = self._stream.isatty()
        self._started = time.monotonic()

    def __call__(self, stage: str) -> None:
        """Show the stage in place of the one before."""
        if self.shown:
            self._stream.write(f"{_CLEAR}{stage} …")
            self._stream.flush()

    def close(self) -> None:
        """Clear the line."""
        if self.shown:
            self._stream.write(_CLEAR)
            self._stream.flush()

    @property
    def seconds(self) -> float:
        """Seconds since the start."""
        return time.monotonic() - self._started
