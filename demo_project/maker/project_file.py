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
  number: P02
  date: {ISSUE.isoformat()}
  status: For review
  reason: Second issue, after practical completion

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

TESTING = """\

# Which test each service needs, and how it goes. Invented specification: no advice.
testing:
  heating_flow: wet-1.5
  heating_return: wet-1.5
  chilled_flow: wet-1.5
  chilled_return: wet-1.5
  mains_cold_water: wet-1.5
  boosted_cold_water: wet-1.5
  hot_water_flow: wet-1.5
  hot_water_return: wet-1.5
  compressed_air: pneumatic-1.1
  natural_gas: gas-strength-tightness

procedures:
  wet-1.5:
    title: Water test at 1.5 times the maximum operating pressure
    source: Mechanical specification of Tallow Yard, section T
    edition: C02
    stages:
      - {stage: visual, medium: none}
      - {stage: leak, medium: water, basis: fixed, fixed_bar: 1.5, settle_min: 10, hold_min: 30, allowed_drop_bar: 0}
      - {stage: strength, medium: water, basis: mop, factor: 1.5, cap_bar: 16, settle_min: 30, hold_min: 60,
         allowed_drop_bar: 0}
  pneumatic-1.1:
    title: Nitrogen test of compressed air pipework
    source: Mechanical specification of Tallow Yard, section T
    edition: C02
    stages:
      - {stage: visual, medium: none}
      - {stage: leak, medium: nitrogen, basis: fixed, fixed_bar: 0.15, settle_min: 10, hold_min: 30,
         allowed_drop_bar: 0}
      - {stage: strength, medium: nitrogen, basis: mop, factor: 1.1, settle_min: 15, hold_min: 30, allowed_drop_bar: 0}
  gas-strength-tightness:
    title: Air test of natural gas pipework
    source: Gas specification of Tallow Yard, section G
    edition: C01
    stages:
      - {stage: visual, medium: none}
      - {stage: leak, medium: air, basis: fixed, fixed_bar: 0.0205, settle_min: 5, hold_min: 10, allowed_drop_bar: 0}
      - {stage: strength, medium: air, basis: mdp, factor: 1.1, settle_min: 10, hold_min: 15, allowed_drop_bar: 0}
      - {stage: tightness, medium: air, basis: fixed, fixed_bar: 0.021, settle_min: 10, hold_min: 15,
         allowed_drop_bar: 0}
"""

RULES = """\

# Hold points of the inspection plan, and who may accept a departure.
witness:
  stages: [strength, tightness]
  organisations: ["Client, clerk of works"]
concession_approvers: ["Client's engineer", Designer]

# What this project asks where it differs from common practice.
thresholds:
  fill-to-treatment-days: 7
"""

GUARANTEE = """\

guarantee:
  copper:
    years: 30
    basis: installation
    guarantor: Guarantor GU-1
    register_within_days: 365
    registered_on: 2026-05-08
    registration: DOC-G4
    certificate_type: "2.2"
    needs: [registered_in_time, system_parts_only, trained_operatives, serviced_tools, tested]
    conditions:
      - Fittings, seals and jaws of one system family only.
      - Pressed by trained operatives with tools in service.
  stainless_steel:
    years: 30
    basis: completion
    guarantor: Guarantor GU-2
    register_within_days: 30
    registered_on: 2026-06-22
    registration: DOC-G5
    certificate_type: "3.1"
    needs: [registered_in_time, system_parts_only, trained_operatives, serviced_tools, tested, inside_envelope]
    conditions:
      - Chlorides in the water within the limit of the data sheet.
  carbon_steel:
    years: 10
    basis: commissioning
    guarantor: Guarantor GU-1
    register_within_days: 30
    registered_on: {registered_on}
    registration: DOC-G6
    certificate_type: "2.2"
    needs: [registered_in_time, system_parts_only, trained_operatives, serviced_tools, tested, inside_envelope,
            water_treated]
    conditions:
      - Closed circuit, treated water, no standing water without treatment.
"""


def clean_project(registered_on: str) -> str:
    """project.yml of tidy files: nothing to settle."""
    return HEAD + TESTING + RULES + GUARANTEE.format(registered_on=registered_on)


RECORDS = """\

# Files that are not named after their table, and what settles their columns.
records:
  - file: records/SUB-1 press log heating v3_FINAL(2).xlsx
    table: joints
    sheets: ["Level *"]
    columns:
      section_id: Sect
      location: Where
      od_mm: {heading: Size, unit: mm}
      material_tube: {heading: "Mat'l", words: {C/S: carbon_steel}}
      seal: Ring
      fitting_batch_id: Batch
      press_date: {heading: Date, date_order: dmy, date_serial: "1900"}
      operative_id: Pressed by
      tool_id: {heading: Gun, blank: same_as_above}
      pressed_check: Visual
      checker_id: Check By
      check_date: Check On
      press_count: Presses
      lubricated: Lubricated
      tool_isolated: Isolated
      fitting_closed: Closed
      excess_wiped: Wiped
      marked_complete: Marked done
      tube_to_next_mm: {heading: To next, unit: mm}
      status: State
    fixed:
      unit_of_count: end
      joint_type: press
  - file: records/SUB-2 joints chilled.xlsx
    table: joints
    columns:
      jaw_id: Collar
      tube_to_next_mm: To next (mm)
    fixed:
      unit_of_count: end
  - file: records/SUB-3 hot water joints.csv
    table: joints
    encoding: windows-1252
    delimiter: ";"
    columns:
      od_mm: Ø
      operative_id: Fitter
      press_date: {heading: Date pressed, date_order: dmy}
      check_date: {heading: Inspected on, date_order: dmy}
  - file: records/SUB-4 air.txt
    table: joints
    encoding: utf-16
    delimiter: "\t"
  - file: records/SUB-4 gas fittings.csv
    table: joints
    fixed:
      unit_of_count: fitting
  - file: records/tube take-off.csv
    table: tubes
    encoding: windows-1252
    delimiter: ";"
    columns:
      od_mm: {heading: Ø mm, decimal: comma}
      wall_mm: {heading: Wall mm, decimal: comma, unit: mm}
      length_m: {heading: Length (m), decimal: comma}
  - file: records/valve schedule.xlsx
    table: nodes
    # Below stands a list of spare discs.
    last_row: LAST_VALVE_ROW
    columns:
      close_by: How to close
      elevation_m: {heading: Height, unit: m}
  - file: records/SUB-1 pressure tests.xlsx
    table: tests
  - file: records/SUB-2 test log.csv
    table: tests
    columns:
      required_pressure_bar: {heading: Required, unit: psi}
      start_pressure_bar: {heading: Pressure start, unit: psi}
      end_pressure_bar: {heading: Pressure end, unit: psi}
      relief_set_bar: {heading: Relief, unit: psi}
  - file: records/SUB-4 tests.csv
    table: tests
  - file: records/deliveries.csv
    table: batches
    columns:
      item: Goods
      received_on: {heading: Date received, date_order: dmy}
  - file: records/valve discs.csv
    table: valves
    columns:
      valve_id: Disc
      node_id: Valve set
      kind: Function
      pressure_rating_bar: {heading: PN (bar), unit: bar}
      max_temperature_c: Max temp (°C)
      closes: Shuts
      turns: Turns to shut
      section_ids: Shuts off
      photo_near: Photo
      photo_far: Photo of the way
      exercised_on: {heading: Exercised, date_order: dmy}
      holds_tight: Tight
      consequence: What stops
  - file: records/water log.xlsx
    table: flushings
    sheets: [Flushing]
    columns:
      flushing_id: Record
      kind: What
      section_ids: Extent
      water_changes: Changes
      concentration_mg_l: Dose (mg/L)
      contact_min: Contact (min)
      done_by_role: By
  - file: records/water log.xlsx
    table: treatments
    sheets: [Treatment]
    columns:
      treatment_id: Record
      kind: What
      date: "On"
      from_date: From
      hours_per_day: Hours a day (h)
      done_by_role: By
  - file: records/SNAG LIST MC-1.csv
    table: snags
    encoding: windows-1252
    delimiter: ";"
    columns:
      snag_id: Snag no
      description: What is wrong
      snag_class: Class
      kind: About
      raised_by_role: Raised by
      raised_on: {heading: Raised, date_order: dmy}
      due_on: {heading: Due, date_order: dmy}
      owner_role: Whose
      action: Done
      closed_on: {heading: Closed, date_order: dmy}
      closed_by_role: Closed by
      retest_required: Retest?
      retest_test_id: Retest no
      document_id: File
  - file: records/brackets and anchors.csv
    table: supports
    columns:
      support_id: Ref
      section_id: Pipe section
      kind: What
      spacing_m: Largest distance (m)
      from_fitting_mm: From fitting (mm)
      takes_up_mm: Takes up (mm)
      inspected_on: {heading: Seen on, date_order: dmy}
      inspected_by_role: Seen by
  - file: records/lagging inspections.xlsx
    table: insulations
    columns:
      insulation_id: Sheet
      section_ids: Sections
      joints_sealed: Seams sealed
      applied_on: Lagged on
      inspected_on: Seen on
      inspected_by_role: Seen by

# What settles a column wherever it stands.
answers:
  joints.material_fitting:
    words: {gun metal: gunmetal}
"""


def untidy_project(registered_on: str, last_valve_row: int) -> str:
    """project.yml of the untidy state."""
    records = RECORDS.replace("LAST_VALVE_ROW", str(last_valve_row))
    return HEAD + records + TESTING + RULES + GUARANTEE.format(registered_on=registered_on)
