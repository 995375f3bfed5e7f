"""Ratings, tags of an earlier issue, a concession and project.yml of a made-up project; bytes of its document files."""

import datetime as dt
import struct
import zlib
from typing import Any

from witnessmark.workings.tag_codes import assign

goods_module: Any = None  # set by sound.py: the module of goods
testing_module: Any = None  # set by sound.py: the module of testing
APPROVER = "Client's engineer"


def file_bytes(kind: str, text: str) -> bytes:
    """A small file of a kind that opens, with ``text`` in it: no two texts give the same file."""
    if kind == "png":
        pixel = zlib.compress(b"\x00\xff\xff\xff")
        parts = (
            (b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 2, 0, 0, 0)),
            (b"tEXt", b"Title\x00" + text.encode("latin-1", "replace")),
            (b"IDAT", pixel),
            (b"IEND", b""),
        )
        return b"\x89PNG\r\n\x1a\n" + b"".join(
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
            for name, data in parts
        )
    if kind == "pdf":
        return f"%PDF-1.4\n% {text}\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[]/Count 0>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF\n".encode()
    return text.encode()


def add_ratings(site: Any) -> None:
    """Envelopes of fittings, seals and valves."""
    rows = [
        (f"R-{family}", "fitting", family, ((-20, 16), (95, 16), (110, 10)), "") for family in goods_module.FAMILIES
    ]
    rows += [
        ("R-EPDM", "seal", "EPDM", ((-20, 16), (95, 16), (110, 10)), ""),
        ("R-FKM", "seal", "FKM", ((-20, 16), (70, 16)), "compressed_air"),
        ("R-VALVE", "valve", "", ((-10, 16), (100, 16), (110, 14)), ""),
    ]
    for name, component, applies_to, points, medium in rows:
        for celsius, bar in points:
            site.add(
                "ratings", rating_id=name, component=component, applies_to=applies_to,
                od_from_mm=12 if component == "fitting" else None, od_to_mm=108 if component == "fitting" else None, temperature_c=celsius,
                pressure_bar=bar, medium=medium, basis=f"Data sheet {name}, issue 3",
            )  # fmt: skip


def add_tags(site: Any) -> None:
    """Codes of the earlier issue, which still stand, in the tag register and in the list of that issue."""
    codes = assign(site.project_id, [row["section_id"] for row in site.tables["sections"]], ()).by_section
    for section, code in codes.items():
        site.add("tags", code=code, section_id=section, first_issue="P01")
        site.add("issued_tags", issue="P01", code=code, section_id=section)


def add_concession(site: Any, systems: list[Any]) -> None:
    """A departure that was accepted and is in force; it speaks of no finding."""
    section = systems[3].sections[0]
    day = site.working(section.last_test, 1)
    number = site.number("CN", "concessions")
    site.add(
        "concessions", concession_id=number, check="ids-differ-only-in-case", subject=section.id, departure="A disc shows the section in lower case",
        reason="The disc is engraved and can be read", risk="None seen", decision="accepted", approved_by_role=APPROVER, approved_on=day,
        expires_on=day + dt.timedelta(days=site.rng.randint(300, 700)), guarantee_effect=site.rng.choice(("none", "needs_consent")), guarantor_consent=True,
        document_id=site.paper("letter", f"Letter on {number}", day, number),
    )  # fmt: skip


def declare_hashes(site: Any) -> None:
    """Some documents came with their hash."""
    import hashlib

    files = {row["path"]: row for row in site.tables["files"]}
    for row in site.tables["documents"]:
        if site.rng.random() < 0.2:
            file = files[row["file"]]
            row["declared_sha256"] = hashlib.sha256(file_bytes(file["kind"], file["text"])).hexdigest()


def settings(site: Any, completion: dt.date) -> dict[str, Any]:
    """project.yml as plain values."""
    rng = site.rng
    registered = completion + dt.timedelta(days=rng.randint(1, 10))
    issue = registered + dt.timedelta(days=rng.randint(1, 10))
    sections = site.tables["sections"]
    terms = {}
    for material in sorted({row["material"] for row in site.tables["tubes"]}):
        basis = rng.choice(("delivery", "installation", "commissioning", "completion"))
        column = {"delivery": "delivered_on", "installation": "installed_on", "commissioning": "commissioned_on"}.get(
            basis, ""
        )
        start = min(row[column] for row in sections) if column else completion.isoformat()
        within = (registered - dt.date.fromisoformat(start)).days + rng.randint(1, 30)
        paper = site.paper("registration", f"Registration, {material}", registered, material)
        site.paper("guarantee", f"Guarantee terms, {material}", site.first_day, material)
        terms[material] = {
            "years": 10 if material == "carbon_steel" else 30,
            "basis": basis,
            "guarantor": f"Guarantor GU-{rng.randint(1, 3)}",
            "register_within_days": within,
            "registered_on": registered.isoformat(),
            "conditions": ["Fittings, seals and jaws of one system family only."],
            "certificate_type": rng.choice(("2.2", "3.1")),
            "registration": paper,
        }
    return {
        "project": {
            "id": site.project_id, "name": "Sound project", "building": "An invented building", "time_zone": "Europe/London",
            "completion_date": completion.isoformat(),
        },
        "issue": {"number": "P02", "date": issue.isoformat(), "status": "For review", "reason": "Second issue"},
        "duty": {"role": "Duty engineer, day and night", "phone": "020 7946 0143"},
        "tags": {"host": "tags.example"},
        "testing": {"heating_flow": "wet-1.5", "chilled_flow": "wet-1.5", "mains_cold_water": "wet-1.5", "compressed_air": "gas-1.1"},
        "procedures": testing_module.PROCEDURES,
        "guarantee": terms,
        "concession_approvers": [APPROVER, "Designer"],
        "witness": {"stages": ["strength"], "organisations": [testing_module.ORGANISATION]},
    }  # fmt: skip
