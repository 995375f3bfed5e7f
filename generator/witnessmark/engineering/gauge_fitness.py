"""Whether a gauge was fit for a test: where on its dial it worked, and whether its error is small beside the drop.

EN 837-1: the error of a dial gauge is its class in per cent of the span, alike all along the dial (from memory).
The shares of the span and of the allowed drop are rules of common practice, handed in as data.
"""

from typing import NamedTuple

from witnessmark.engineering.errors import BadProcedureError
from witnessmark.engineering.inputs import finite, not_negative, positive, result, within


class GaugeRules(NamedTuple):
    """lowest_share, highest_share : share of the span, [1]; share_of_drop : error allowed per allowed drop, [1]."""

    lowest_share: float
    highest_share: float
    share_of_drop: float


class GaugeFitness(NamedTuple):
    """share_of_span : [1]; error : [bar]; the three answers: on the dial, error small enough, readable finely enough.

    None, where the record does not give what the answer needs, or the procedure allows no drop to compare with.
    """

    share_of_span: float
    error: float | None
    in_working_range: bool
    error_small_enough: bool | None
    fine_enough: bool | None


def span(range_min: float, range_max: float) -> float:
    """Return the span of a gauge, [bar], from the ends of its range, [bar]."""
    return positive(
        "span of the gauge", finite("end of the range", range_max) - finite("start of the range", range_min), "bar"
    )


def share_of_span(pressure: float, range_min: float, range_max: float) -> float:
    """Return where on the dial a pressure lies (p - min)/(max - min), [1], all in [bar]; off the dial beyond 0 to 1."""
    whole = span(range_min, range_max)
    return result("share of span", (finite("pressure", pressure) - range_min) / whole)


def class_error(class_percent: float, range_min: float, range_max: float) -> float:
    """Return the largest error of a gauge in calibration, class per cent of the span, [bar].

    >>> class_error(1.6, 0, 25)
    0.4
    """
    share = within("class", class_percent, 0, 100, "%") / 100
    return result("error of the gauge", share * span(range_min, range_max))


def judge(
    pressure: float,
    range_min: float,
    range_max: float,
    rules: GaugeRules,
    *,
    class_percent: float | None = None,
    resolution: float | None = None,
    smallest_drop: float | None = None,
) -> GaugeFitness:
    """Judge a gauge at a test pressure, [bar g], against the smallest drop it had to show, [bar].

    An error, or a resolution, of more than share_of_drop times that drop is too coarse.
    """
    low = within("lowest share of the span", rules.lowest_share, 0, 1, "")
    high = within("highest share of the span", rules.highest_share, 0, 1, "")
    if low >= high:
        raise BadProcedureError("the lowest share of the span is not under the highest")
    share = share_of_span(pressure, range_min, range_max)
    error = None if class_percent is None else class_error(class_percent, range_min, range_max)
    limit = None
    if smallest_drop is not None:
        limit = positive("smallest drop", smallest_drop, "bar") * positive("share of the drop", rules.share_of_drop, "")
    return GaugeFitness(
        share_of_span=share,
        error=error,
        in_working_range=low <= share <= high,
        error_small_enough=None if error is None or limit is None else error <= limit,
        fine_enough=None
        if resolution is None or limit is None
        else not_negative("resolution", resolution, "bar") <= limit,
    )
