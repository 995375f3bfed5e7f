"""A pressure trace as a logger wrote it, in seconds, bar gauge and °C."""

import datetime
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Column = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class TraceRemark:
    """Something odd about a trace: its kind as a slug, and one sentence."""

    kind: str
    sentence: str


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """Readings in the order of the file. NaN: the logger had none at that moment."""

    document_id: str
    file: str
    """Below documents/."""
    started_at: datetime.datetime | None
    """Moment of the first reading in the time zone of the building; ``None`` where only elapsed time is logged."""
    seconds: Column
    """(n,) since the first reading, [s]."""
    pressures_bar: Column
    """(n,) [bar g]."""
    temperatures_c: Column | None
    """(n,) [°C]; ``None`` where none is logged."""
    remarks: tuple[TraceRemark, ...] = ()

    @property
    def readings(self) -> int:
        """How many moments were logged."""
        return int(self.seconds.size)
