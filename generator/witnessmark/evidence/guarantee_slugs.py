"""Which checks stand behind each condition of a guarantee: written by hand, every slug one of the registry."""

CHECKS_BEHIND: dict[str, tuple[str, ...]] = {
    "registered_in_time": ("guarantee-dates-unknown",),
    "system_parts_only": (),
    "trained_operatives": ("operative-unknown",),
    "serviced_tools": ("press-tool-unknown",),
    "tested": (
        "test-procedure-not-declared",
        "test-pressure-not-reached",
        "test-pressure-above-rating",
        "test-readings-missing",
        "hold-too-short",
        "drop-beyond-tolerance",
        "gauge-not-in-calibration",
    ),
    "inside_envelope": ("pressure-above-rating", "seal-not-for-medium"),
    "water_treated": (),
}
"""Slugs in the order of the registry, by condition."""
