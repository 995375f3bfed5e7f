"""People, press tools, gauges and batches of a made-up project: all trained, serviced, calibrated and certified in time."""

import datetime as dt
from typing import Any

FAMILIES = {
    # family: tube material, fitting material, seal, profile, declared sizes
    "FAM-C": ("copper", "copper", "EPDM", "P1"),
    "FAM-S": ("stainless_steel", "stainless_steel", "EPDM", "P2"),
    "FAM-K": ("carbon_steel", "carbon_steel", "EPDM", "P3"),
    "FAM-A": ("copper", "copper", "FKM", "P4"),
    "FAM-B": ("stainless_steel", "stainless_steel", "FKM", "P5"),
}
SERIES = {"copper": "table_x", "stainless_steel": "series_2", "carbon_steel": "press_carbon"}
TUBE_STANDARD = {"copper": "EN 1057", "stainless_steel": "EN 10312", "carbon_steel": "EN 10305-3"}
FITTING_STANDARD = {"copper": "EN 1254-7", "stainless_steel": "EN 10352", "carbon_steel": "EN 10352"}
WALL_MM = {
    "copper": {15: 0.7, 22: 0.9, 28: 0.9, 35: 1.2, 42: 1.2, 54: 1.2, 76.1: 1.5, 108: 1.5},
    "stainless_steel": {15: 1.0, 22: 1.2, 28: 1.2, 35: 1.5, 42: 1.5, 54: 1.5, 76.1: 2.0, 108: 2.0},
    "carbon_steel": {15: 1.2, 22: 1.5, 28: 1.5, 35: 1.5, 42: 1.5, 54: 1.5, 76.1: 2.0, 108: 2.0},
}
SMALLEST_SLING_MM = 42
TWICE_PRESSED_MM = 108
SYLLABLES = ("bra", "vel", "dor", "min", "quo", "thas", "wyn", "kel", "orm", "zef", "lup", "gri")
# code, kind, span bar, class %, step bar
GAUGES = (
    ("G-01", "gauge", 6.0, 1.0, 0.05),
    ("G-02", "gauge", 10.0, 1.0, 0.1),
    ("G-03", "gauge", 16.0, 0.6, 0.1),
    ("G-04", "gauge", 25.0, 0.6, 0.1),
    ("G-05", "gauge", 0.3, 1.0, 0.001),
    ("L-06", "logger", 16.0, 0.25, 0.01),
)


def a_year_on(day: dt.date, years: int = 1) -> dt.date:
    """The day before the anniversary, as certificates count."""
    return day.replace(year=day.year + years, day=min(day.day, 28)) - dt.timedelta(days=1)


class Goods:
    """What the site has to press and to test with; batches, jaws and slings are bought when first asked for."""

    def __init__(self, site: Any) -> None:
        self.site = site
        rng = site.rng
        self.pressers = [self._person("Pipefitter") for _ in range(rng.randint(2, 3))]
        self.checkers = [self._person("Foreman and checker") for _ in range(2)]
        self.testers = [self._person("Tester") for _ in range(rng.randint(1, 2))]
        self.tool_of = {who: self._press_tool() for who in self.pressers}
        self.presses: dict[str, int] = {}
        self._heads: dict[tuple[str, str, float], str] = {}
        self._batches: dict[tuple[str, str, float], list[tuple[dt.date, str]]] = {}
        for gauge in GAUGES:
            self._gauge(*gauge)

    def before(self, least: int, most: int) -> dt.date:
        """A day that long before the first press."""
        return self.site.first_day - dt.timedelta(days=self.site.rng.randint(least, most))

    def _person(self, role: str) -> str:
        site, rng = self.site, self.site.rng
        code = site.number("OP", "operatives", 2)
        first, last = ("".join(rng.sample(SYLLABLES, n)).capitalize() for n in (2, 3))
        site.add(
            "operatives", operative_id=code, name=f"{first} {last}", initials=f"{first[0]}{last[:2].upper()}",
            also_written=f"{last} {first[0]}", role=role, employer=rng.choice(("SUB-1", "SUB-2")),
            inducted_on=self.before(1, 20),
        )  # fmt: skip
        if role != "Tester":
            for families in ("FAM-C; FAM-S; FAM-K", "FAM-A; FAM-B"):
                trained = self.before(30, 500)
                number = f"TR-{rng.randrange(1000, 9999)}"
                site.add(
                    "trainings", operative_id=code, system_family=families, max_od_mm=108,
                    provider=f"Training centre {rng.randint(1, 3)}", certificate_no=number, trained_on=trained,
                    expires_on=a_year_on(trained, 3), sample_joint=True,
                    document_id=site.paper("training_certificate", f"Training certificate {number}", trained, code),
                )  # fmt: skip
        return code

    def _service(self, tool: str, day: dt.date, cycles: int) -> None:
        site = self.site
        number = f"SV-{site.rng.randrange(1000, 9999)}"
        site.add(
            "tool_services", tool_id=tool, serviced_on=day, due_on=a_year_on(day), cycle_count=cycles,
            provider=f"Service workshop {site.rng.randint(1, 2)}", certificate_no=number, result="pass",
            document_id=site.paper("service_record", f"Service record {number}", day, tool),
        )  # fmt: skip

    def _press_tool(self) -> str:
        site, rng = self.site, self.site.rng
        code = f"PT-{sum(row['kind'] == 'press_tool' for row in site.tables.get('tools', [])) + 1:02d}"
        site.add(
            "tools", tool_id=code, kind="press_tool", serial=f"T-{rng.randrange(10000, 99999)}",
            system_family="; ".join(FAMILIES), force_kn=32, owner=rng.choice(("SUB-1", "Hire")), cycle_limit=10000,
        )  # fmt: skip
        cycles = rng.randint(500, 4000)
        if rng.random() < 0.5:
            self._service(code, self.before(300, 380), cycles - rng.randint(100, 400))
        self._service(code, self.before(5, 60), cycles)
        return code

    def service_once_more(self, day: dt.date) -> None:
        """A service of every press tool when the work is done; without dice, so that nothing else falls otherwise."""
        for count, tool in enumerate(self.tool_of.values(), 1):
            before = [row for row in self.site.tables["tool_services"] if row["tool_id"] == tool]
            number = f"SV-1{count:04d}"
            self.site.add(
                "tool_services", tool_id=tool, serviced_on=day, due_on=a_year_on(day),
                cycle_count=max(int(row["cycle_count"]) for row in before) + 400, provider="Service workshop 1",
                certificate_no=number, result="pass",
                document_id=self.site.paper("service_record", f"Service record {number}", day, tool),
            )  # fmt: skip

    def head(self, who: str, family: str, od: float) -> str:
        """Jaw or sling of an operative for a family and size."""
        return self._head("sling" if od >= SMALLEST_SLING_MM else "jaw", who, family, od)

    def adapter(self, who: str, family: str, od: float) -> str | None:
        """Adapter of the second press where the size is pressed twice."""
        return self._head("adapter", who, family, od) if od >= TWICE_PRESSED_MM else None

    def _head(self, kind: str, who: str, family: str, od: float) -> str:
        key = (f"{kind} {who}", family, od)
        if key not in self._heads:
            site = self.site
            profile = FAMILIES[family][3]
            code = f"{ {'jaw': 'JW', 'sling': 'SL', 'adapter': 'AD'}[kind] }-{profile}-{od:g}-{who[-2:]}"
            site.add(
                "tools", tool_id=code, kind=kind, serial=f"J-{site.rng.randrange(10000, 99999)}", press_profile=profile,
                od_mm=od, system_family=family, owner="SUB-1", cycle_limit=10000,
            )  # fmt: skip
            self._service(code, self.before(5, 60), site.rng.randint(50, 3000))
            self._heads[key] = code
        return self._heads[key]

    def batch(self, item: str, family: str, od: float, day: dt.date) -> str:
        """Batch of tube or fittings on site on ``day``: now and then of the second delivery."""
        key = (item, family, od)
        if key not in self._batches:
            self._batches[key] = [(received := self.before(3, 25), self._delivery(*key, received))]
            if item == "fitting" and self.site.rng.random() < 0.3:
                received = self.site.first_day + dt.timedelta(days=self.site.rng.randint(1, 9))
                self._batches[key].append((received, self._delivery(*key, received)))
        there = [code for received, code in self._batches[key] if received <= day]
        return self.site.rng.choice(there)

    def _delivery(self, item: str, family: str, od: float, received: dt.date) -> str:
        site, rng = self.site, self.site.rng
        tube, fitting, seal, profile = FAMILIES[family]
        code = f"B-{family[-1]}{item[0].upper()}{od:g}-{sum(r['batch_id'].startswith(f'B-{family[-1]}{item[0].upper()}{od:g}-') for r in site.tables.get('batches', [])) + 1:02d}"
        number = f"MC-{rng.randrange(10000, 99999)}"
        as_tube = item == "tube"
        site.add(
            "batches", batch_id=code, item=item, description=f"{item.capitalize()} {od:g} mm",
            material=tube if as_tube else fitting, standard=(TUBE_STANDARD if as_tube else FITTING_STANDARD)[tube],
            od_mm=od, wall_mm=WALL_MM[tube][od] if as_tube else None, tube_series=SERIES[tube] if as_tube else None,
            system_family=family, press_profile=None if as_tube else profile, seal=None if as_tube else seal,
            certificate_type="3.1", certificate_no=number, delivery_note=f"DN-{rng.randrange(1000, 9999)}",
            received_on=received, quantity=rng.randint(200, 900), quarantined=False,
            potable_approval=None if tube == "carbon_steel" else f"PA-{received.year}-{rng.randrange(100, 999)}",
            document_id=site.paper("material_certificate", f"Material certificate {number}", received, code),
        )  # fmt: skip
        return code

    def _gauge(self, code: str, kind: str, span: float, accuracy: float, step: float) -> None:
        site, rng = self.site, self.site.rng
        serial = f"GA-{rng.randrange(10000, 99999)}"
        site.add(
            "instruments", instrument_id=code, kind=kind, serial=serial, range_min_bar=0, range_max_bar=span,
            class_percent=accuracy, resolution_bar=step, owner="Test house 1",
        )  # fmt: skip
        days = [self.before(5, 60)]
        if rng.random() < 0.4:
            days.insert(0, days[0] - dt.timedelta(days=rng.randint(340, 370)))
        for day in days:
            number = f"CAL-{rng.randrange(1000, 9999)}"
            site.add(
                "calibrations", instrument_id=code, certificate_no=number, serial_on_certificate=serial,
                calibrated_on=day, due_on=a_year_on(day), laboratory="Calibration laboratory 1",
                accreditation_no=f"LAB-{rng.randrange(100, 999)}",
                error_found_bar=round(span * accuracy * rng.randint(1, 7) / 1000, 4), result="pass",
                document_id=site.paper("calibration_certificate", f"Calibration certificate {number}", day, code),
            )  # fmt: skip

    def gauge_for(self, bar: float) -> tuple[str, float]:
        """A gauge in whose middle half ``bar`` lies with room to spare, and its step."""
        fit = [
            (code, step)
            for code, kind, span, _, step in GAUGES
            if kind == "gauge" and 0.27 * span <= bar <= 0.72 * span
        ]
        return self.site.rng.choice(fit)
