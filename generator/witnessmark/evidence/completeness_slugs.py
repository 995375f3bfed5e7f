"""Which checks tell of gaps in each kind of record: written by hand, every slug one of the registry."""

CHECKS_OF: dict[str, tuple[str, ...]] = {
    "joints": ("section-without-joints", "ends-do-not-add-up", "fitting-end-missing", "ends-not-recorded-one-by-one"),
    "operative": ("operative-unknown",),
    "tool": ("press-tool-unknown", "jaw-unknown"),
    "visual_check": ("joint-not-checked", "check-not-dated", "checker-unknown"),
    "test_certificate": ("test-readings-missing",),
    "calibration": ("gauge-not-in-calibration",),
    "guarantee": ("guarantee-dates-unknown",),
}
"""Slugs by column of the matrix."""
