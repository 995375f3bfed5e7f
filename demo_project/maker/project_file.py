"""project.yml: what the project is, and for the untidy state what settles its files."""

from __future__ import annotations

from .site_calendar import COMPLETION, ISSUE

HEAD = f"""\
# yaml-language-server: $schema=../shared/contract/project.schema.json
# An invented building. No real place, firm or person is meant.
project:
  id: tallow-yard
  name: Tallow Yard, mechanical services
  building: Tallow Yard, a candle works turned into workshops, offices and a clinic
  address: Tallow Yard, Wick Lane (invented)
  client: Tallow Yard building owner
  contractor: Main mechanical contractor MC-1
  time_zone: Europe/London
  completion_date: {COMPLETION.isoformat()}

issue:
  number: P01
  date: {ISSUE.isoformat()}
  status: For review
  reason: First issue before practical completion

# A number from the range that is kept for drama: it rings nowhere.
duty:
  role: Duty engineer, day and night
  phone: 020 7946 0143

tags:
  host: tags.tallow-yard.example
  level: Q
  form: auto
  flag_below_mm: 54
"""

GUARANTEE = """\

guarantee:
  copper:
    years: 30
    basis: installation
    guarantor: Guarantor GU-1
    conditions:
      - Fittings, seals and jaws of one system family only.
      - Pressed by trained operatives with tools in service.
  stainless_steel:
    years: 30
    basis: completion
    guarantor: Guarantor GU-2
    conditions:
      - Chlorides in the water within the limit of the data sheet.
  carbon_steel:
    years: 10
    basis: commissioning
    guarantor: Guarantor GU-1
    register_within_days: 30
    registered_on: {registered_on}
    conditions:
      - Closed circuit, treated water, no standing water without treatment.
"""


def clean_project() -> str:
    """project.yml of the clean twin: nothing to settle."""
    return HEAD + GUARANTEE.format(registered_on="2026-05-08")
