"""Which checks tell of gaps in each kind of record: written by hand, every slug one of the registry."""

CHECKS_OF: dict[str, tuple[str, ...]] = {
    "joints": (
        "section-without-joints",
        "ends-do-not-add-up",
        "fitting-end-missing",
        "ends-not-recorded-one-by-one",
        "number-missing-in-run",
    ),
    "operative": ("operative-unknown",),
    "training": ("operative-not-trained",),
    "tool": ("press-tool-unknown", "jaw-unknown"),
    "service": ("tool-out-of-service", "tool-service-failed", "tool-counter-beyond-limit"),
    "batch": ("batch-not-recorded",),
    "certificate": ("batch-without-certificate", "certificate-below-type-asked"),
    "visual_check": ("joint-not-checked", "checker-unknown", "check-not-dated"),
    "visual": ("required-stage-not-passed",),
    "leak": ("required-stage-not-passed",),
    "strength": ("required-stage-not-passed",),
    "tightness": ("required-stage-not-passed",),
    "test_certificate": ("test-readings-missing",),
    "calibration": ("gauge-not-in-calibration",),
    "insulation": ("insulation-not-inspected", "steel-can-sweat"),
    "support": ("section-without-supports", "support-not-inspected"),
    "valve": ("section-end-not-isolated", "section-without-drain", "section-without-vent", "valve-shuts-nothing"),
    "flushing": ("section-not-flushed", "flush-failed"),
    "disinfection": ("potable-not-disinfected",),
    "treatment": ("treatment-not-recorded", "water-not-sampled"),
    "photo": ("one-photo-for-two-joints",),
    "drawing": ("drawing-revision-not-as-built",),
    "guarantee": ("guarantee-dates-unknown", "guarantee-registration-not-shown"),
}
"""Slugs by column of the matrix."""
