"""What an engineering function refuses, each with its own sentence."""


class EngineeringError(ValueError):
    """Base of every refusal: an input for which the formula has no meaning."""


class NotFiniteError(EngineeringError):
    """A value is not a number, or is infinite."""

    def __init__(self, name: str, value: float) -> None:
        super().__init__(f"The {name} is {value!r}, which is not a finite number; give the recorded value.")


class ImplausibleSizeError(EngineeringError):
    """A finite value of a size that no record of a building can hold."""

    def __init__(self, name: str, value: float) -> None:
        super().__init__(f"The {name} is {value:g}, which no building can hold; check the reading and its unit.")


class NotPositiveError(EngineeringError):
    """A value that must be above zero is not."""

    def __init__(self, name: str, value: float, unit: str) -> None:
        super().__init__(f"The {name} is {value:g} {unit}; it must be above zero.".replace("  ", " "))


class NegativeError(EngineeringError):
    """A value that may be zero but not less is less."""

    def __init__(self, name: str, value: float, unit: str) -> None:
        super().__init__(f"The {name} is {value:g} {unit}; it cannot be negative.")


class BelowAbsoluteZeroError(EngineeringError):
    """A temperature at or below 0 K."""

    def __init__(self, name: str, celsius: float) -> None:
        super().__init__(f"The {name} is {celsius:g} °C, at or below absolute zero (-273.15 °C); check the reading.")


class NegativeAbsolutePressureError(EngineeringError):
    """A pressure at or below a perfect vacuum."""

    def __init__(self, name: str, absolute: float) -> None:
        super().__init__(
            f"The {name} comes to {absolute:g} bar absolute, at or below a perfect vacuum;"
            " check whether a gauge pressure was meant, and its sign."
        )


class OutsideValidityError(EngineeringError):
    """A value outside the range in which the formula or correlation holds."""

    def __init__(self, name: str, value: float, lowest: float, highest: float, unit: str) -> None:
        super().__init__(f"The {name} is {value:g} {unit}; this formula holds from {lowest:g} to {highest:g} {unit}.")


class ResultTooLargeError(EngineeringError):
    """Finite inputs led to a result that is not finite."""

    def __init__(self, name: str) -> None:
        super().__init__(f"The {name} is too large to be a number; check the units of the inputs.")


class WallTooThickError(EngineeringError):
    """A wall that leaves no bore."""

    def __init__(self, outside_diameter: float, wall: float) -> None:
        super().__init__(
            f"A wall of {wall:g} mm leaves no bore in a tube of {outside_diameter:g} mm outside diameter;"
            f" the wall must be under {outside_diameter / 2:g} mm."
        )


class WallTooThickForThinWallFormulaError(EngineeringError):
    """A tube outside the range of the thin-wall hoop stress formula."""

    def __init__(self, outside_diameter: float, wall: float, largest_ratio: float) -> None:
        super().__init__(
            f"A tube of {outside_diameter:g} x {wall:g} mm has an outside diameter"
            f" {outside_diameter / (outside_diameter - 2 * wall):.3g} times its bore;"
            f" the thin-wall formula holds up to {largest_ratio:g} times."
        )


class NotInAlphabetError(EngineeringError):
    """A character the check character system has no value for."""

    def __init__(self, character: str, alphabet: str) -> None:
        super().__init__(f"The character {character!r} is not one of {alphabet}.")


class EmptyPayloadError(EngineeringError):
    """Nothing to protect."""

    def __init__(self) -> None:
        super().__init__("The code is empty; a check character needs at least one character before it.")


class EndsBeforeStartError(EngineeringError):
    """Two moments or days in the wrong order."""

    def __init__(self, start: object, end: object) -> None:
        super().__init__(f"The end ({end}) is before the start ({start}); check both dates, and the day a hold ended.")


class BeyondCalendarError(EngineeringError):
    """A date after the year 9999 or before the year 1."""

    def __init__(self, start: object, months: int, days: int) -> None:
        super().__init__(f"{months} months and {days} days from {start} is beyond the years 1 to 9999.")


class BadEnvelopeError(EngineeringError):
    """A rating table that is not a function of temperature."""

    def __init__(self, reason: str) -> None:
        super().__init__(f"The rating table cannot be used: {reason}.")


class BadTraceError(EngineeringError):
    """A logger trace that cannot be analysed."""

    def __init__(self, reason: str) -> None:
        super().__init__(f"The trace cannot be analysed: {reason}.")


class BadProcedureError(EngineeringError):
    """A test procedure whose own figures contradict each other."""

    def __init__(self, reason: str) -> None:
        super().__init__(f"The procedure cannot be used: {reason}.")


class NoTimeZoneError(EngineeringError):
    """A moment that could be any of several, for want of a time zone."""

    def __init__(self, moment: object) -> None:
        super().__init__(f"The moment {moment} has no time zone; give the zone of the building.")


class CannotReachConcentrationError(EngineeringError):
    """A product weaker than what it is meant to reach."""

    def __init__(self, target: float, product: float) -> None:
        super().__init__(
            f"A product of concentration {product:g} cannot bring the water to {target:g}; check the units."
        )


class NoPressureRiseError(EngineeringError):
    """A vessel that is to take up water without its pressure rising."""

    def __init__(self, cold: float, hot: float) -> None:
        super().__init__(
            f"The hot pressure of {hot:g} bar is not above the cold pressure of {cold:g} bar;"
            " a closed vessel needs a rise."
        )
