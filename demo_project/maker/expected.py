"""Which checks find each planted fault, and no others."""

from __future__ import annotations

NEED_THE_DAY = ("operative-not-trained", "tool-out-of-service", "jaw-out-of-service", "pressed-after-the-last-test")
"""Checks that cannot tell without the day of the press."""

CHECKS: dict[str, tuple[str, ...]] = {
    "strength-test-before-last-press": ("pressed-after-the-last-test",),
    "no-low-pressure-stage": ("required-stage-not-passed",),
    "tee-logged-as-one-row": ("ends-do-not-add-up", "fitting-end-missing"),
    "gauge-due-between-two-tests": ("gauge-not-in-calibration",),
    "gauge-range-too-wide": ("gauge-unfit",),
    "jaw-of-another-profile": ("jaw-of-another-profile", "tool-not-for-the-family"),
    "trained-the-day-after": ("operative-not-trained",),
    "copper-upstream-of-carbon-steel": (
        "copper-upstream-of-steel",
        "carbon-steel-in-fresh-water",
        "potable-part-without-approval",
    ),
    "epdm-on-compressed-air": ("seal-not-for-medium",),
    "riser-tested-at-the-base-only": ("test-pressure-not-reached",),
    "same-readings-on-five-certificates": ("same-readings-on-several-certificates",),
    "one-photo-on-two-joints": ("one-photo-for-two-joints",),
    "pressed-again-as-repair": ("pressed-again-as-repair",),
    "rework-after-test-without-retest": ("pressed-after-the-last-test",),
    "boundary-joint-in-no-test": ("boundary-joint-not-tested",),
    "section-in-no-test": ("required-stage-not-passed",),
    "guarantee-registered-late": ("guarantee-registered-late",),
    "name-and-signature-for-facilities": ("person-named-in-file", "signature-outside-audit"),
    "missing-end-reading": ("test-readings-missing",),
    "certificate-for-another-serial": ("gauge-not-in-calibration",),
    "tool-service-overdue": ("tool-out-of-service",),
    "quarantined-batch-in-use": ("quarantined-batch-used",),
    "joint-missing-from-run": ("ends-do-not-add-up", "number-missing-in-run"),
    "checked-by-the-presser": ("checked-by-the-presser",),
    "depth-mark-not-visible": ("depth-mark-not-visible",),
    "valve-swapped-after-completion": ("altered-after-the-last-test",),
    "tag-code-missing-in-later-issue": ("earlier-tag-code-missing",),
    "vapour-barrier-never-inspected": ("steel-can-sweat", "insulation-not-inspected"),
    "filled-seven-weeks-before-treatment": ("filled-long-before-treatment",),
    "concession-out-of-date": ("concession-expired",),
    "bracket-left-out-by-concession": ("support-spacing-too-wide",),
    "snag-closed-without-retest": ("snag-without-retest",),
    "chilled-carbon-steel-without-vapour-barrier": ("steel-can-sweat",),
    "left-full-untreated": ("left-full-untreated",),
    # Cells that nobody may guess: the fault of reading first, then the questions that lack the value.
    "dn20-without-material": ("size-needs-material", "joint-size-unknown"),
    "date-could-be-two": ("date-could-be-two", *NEED_THE_DAY),
    "initials-of-two-people": ("person-could-be-two", "operative-unknown"),
    "steel-of-two-kinds": (
        "word-could-be-two",
        "pressure-above-rating",
        "test-pressure-above-rating",
        "test-could-not-see-one-joint",
        "zero-drop-with-temperature-change",
    ),
    "comma-could-be-two": ("number-could-be-two",),
    "delivery-note-as-batch": ("unknown-reference",),
    "letter-for-digit": ("unknown-reference",),
    "year-slipped": ("date-far-off", *NEED_THE_DAY),
    "formula-error": ("formula-error",),
    "size-that-no-tube-has": ("size-unknown", "joint-size-unknown"),
    "tick-that-could-be-two": ("word-could-be-two", "tube-not-deburred"),
    "elevation-in-words": ("not-a-number",),
    "row-copied-in-conflict": ("joint-id-used-twice", "ends-do-not-add-up"),
    "row-a-fitting": ("ends-not-recorded-one-by-one", "fitting-ends-unknown", "joint-size-unknown"),
}
"""By fault. A fault that is only a habit of writing and that every reader can put right has no row."""
