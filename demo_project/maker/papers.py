"""The documents folder: small certificates, drawings, photos and logger files, and the table that lists them."""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import math

from reportlab.lib.pagesizes import A5, landscape
from reportlab.pdfgen.canvas import Canvas

from .equipment import GAUGES
from .model import Building, Dice, Row
from .networks import NETWORKS
from .picture import png_bytes
from .pressure_tests import LOGGED

FIRMS = ("SUB-1", "SUB-2", "SUB-3", "SUB-4")
GOODS_CERTIFICATES = {
    "CU": "Copper tube, EN 1057",
    "ST": "Stainless steel tube, EN 10312",
    "CS": "Carbon steel tube, EN 10305-3",
    "C": "Fittings FAM-C",
    "G": "Fittings FAM-G",
    "S": "Fittings FAM-S",
    "K": "Fittings FAM-K",
}
SCHEMATICS = (
    ("HTG-SCH-01", "Heating schematic", "C02"),
    ("CHW-SCH-01", "Chilled water schematic", "C02"),
    ("DWS-SCH-01", "Cold water schematic", "C01"),
    ("DWS-SCH-02", "Hot water schematic", "C01"),
    ("CA-SCH-01", "Compressed air schematic", "C01"),
    ("GAS-SCH-01", "Gas schematic", "C01"),
)
GUARANTEES = (
    ("copper", "installation", dt.date(2026, 5, 8)),
    ("stainless steel", "completion", dt.date(2026, 6, 22)),
    ("carbon steel", "commissioning", dt.date(2026, 5, 8)),
)
PHOTOS = 8


def add_papers(building: Building) -> None:
    """All documents, with the records that cite them."""
    for network in NETWORKS:
        tests = [
            row
            for row in building["tests"]
            if row["document_id"] == f"DOC-P-{network.code}" and row["stage"] != "visual"
        ]
        lines = [
            f"{row['test_id']} attempt {row['attempt']} {row['stage']}: {row.text('start_pressure_bar')} to"
            f" {row.text('end_pressure_bar')} bar on {row['instrument_id']}, {row['result']}, {row.text('date')}"
            for row in tests
        ]
        add_pdf(
            building,
            f"DOC-P-{network.code}",
            f"tests/pressure-tests-{network.system}.pdf",
            f"Pressure test certificates, {network.words.lower()}",
            "test_certificate",
            dt.date(2026, 4, 24),
            network.system,
            "audit",
            lines,
        )
    for code, kind, span, accuracy, _ in GAUGES:
        row = building.find("calibrations", instrument_id=code)
        add_pdf(
            building,
            f"DOC-C{code[-2:]}",
            f"calibration/{code}.pdf",
            f"Calibration certificate {row['certificate_no']}",
            "calibration_certificate",
            row.date("calibrated_on"),
            code,
            "audit",
            [
                f"{kind.capitalize()} {code}, serial {row['serial_on_certificate']}",
                f"Range 0 to {span:g} bar, class {accuracy:g}",
                f"Largest error found {row.text('error_found_bar')} bar",
                f"Due {row.text('due_on')}",
            ],
        )
    for firm in FIRMS:
        codes = [row.text("operative_id") for row in building.where("operatives", employer=firm)]
        add_pdf(
            building,
            f"DOC-T{firm[-1]}",
            f"training/{firm}.pdf",
            f"Training certificates, {firm}",
            "training_certificate",
            dt.date(2025, 9, 30),
            firm,
            "audit",
            [f"Operative {code}: see the trainings table" for code in codes],
        )
        add_pdf(
            building,
            f"DOC-S{firm[-1]}",
            f"service/{firm}.pdf",
            f"Tool service records, {firm}",
            "service_record",
            dt.date(2025, 9, 30),
            firm,
            "audit",
            ["Press tools, jaws and slings serviced in September 2025"],
        )
    for code, words in GOODS_CERTIFICATES.items():
        batches = [row.text("batch_id") for row in building.where("batches", document_id=f"DOC-M{code}")]
        add_pdf(
            building,
            f"DOC-M{code}",
            f"material/{code}.pdf",
            f"Material certificates: {words}",
            "material_certificate",
            dt.date(2026, 1, 7),
            words,
            "audit",
            batches,
        )
    for n, (number, words, revision) in enumerate(SCHEMATICS, start=1):
        add_pdf(
            building,
            f"DOC-D{n:02d}",
            f"drawings/{number}.pdf",
            f"{words} {number}",
            "drawing",
            dt.date(2026, 4, 27),
            number,
            "facilities",
            [f"Revision {revision}, as installed", "Not to scale"],
            revision,
        )
    _floor_drawings(building)
    for n, (material, basis, registered) in enumerate(GUARANTEES, start=1):
        add_pdf(
            building,
            f"DOC-G{n}",
            f"guarantee/{material.replace(' ', '-')}.pdf",
            f"Guarantee terms, {material}",
            "guarantee",
            dt.date(2025, 9, 29),
            material,
            "facilities",
            [f"Runs from {basis}", "Conditions: see project.yml"],
        )
        add_pdf(
            building,
            f"DOC-G{n + len(GUARANTEES)}",
            f"guarantee/registration-{material.replace(' ', '-')}.pdf",
            f"Receipt of registration, {material}",
            "registration",
            registered,
            material,
            "audit",
            ["Form and test sheets received"],
        )
    add_pdf(
        building,
        "DOC-W1",
        "method/pressing.pdf",
        "Method statement: press joints",
        "method_statement",
        dt.date(2025, 9, 29),
        "All systems",
        "audit",
        ["Cut square, deburr, look for the seal, mark the depth, insert, press, check the mark"],
    )
    _photos(building)
    _traces(building)


def _floor_drawings(building: Building) -> None:
    sections: dict[tuple[str, str], list[str]] = {}
    for row in building["sections"]:
        key = row.text("drawing"), row.text("drawing_revision")
        sections.setdefault(key, []).append(row.text("section_id"))
    for number, revision in sorted(sections):
        lines = [f"Revision {revision}, as installed", "Not to scale", *sections[number, revision]]
        title = f"Floor layout {number}"
        about = "; ".join([number, *sections[number, revision]])
        day = dt.date(2026, 4, 27)
        add_pdf(
            building,
            number,
            f"drawings/{number}.pdf",
            title,
            "drawing",
            day,
            about,
            "facilities",
            lines,
            revision,
        )


def declare_hashes(building: Building) -> None:
    """Laboratories and works sent a hash with their files."""
    for row in building["documents"]:
        if row["kind"] in ("calibration_certificate", "material_certificate", "logger_file"):
            row["declared_sha256"] = hashlib.sha256(building.documents[row.text("file")]).hexdigest()


def add_document(
    building: Building,
    code: str,
    file: str,
    title: str,
    kind: str,
    date: dt.date,
    about: str,
    edition: str,
    content: bytes,
    revision: str = "A",
) -> Row:
    """A file below documents/ and its row in the documents table."""
    building.documents[file] = content
    return building.add(
        "documents",
        document_id=code,
        file=file,
        title=title,
        kind=kind,
        revision=revision,
        date=date,
        about=about,
        edition=edition,
        legible=True,
    )


def add_pdf(
    building: Building,
    code: str,
    file: str,
    title: str,
    kind: str,
    date: dt.date,
    about: str,
    edition: str,
    lines: list[str],
    revision: str = "A",
) -> None:
    """A document of plain lines."""
    add_document(building, code, file, title, kind, date, about, edition, pdf_bytes(code, title, date, lines), revision)


def pdf_bytes(code: str, title: str, date: dt.date, lines: list[str]) -> bytes:
    """A PDF of plain lines, the same bytes every time."""
    buffer = io.BytesIO()
    canvas = Canvas(buffer, pagesize=landscape(A5), invariant=1, pageCompression=0)
    canvas.setTitle(title)
    canvas.setAuthor("Tallow Yard")
    canvas.setCreator("make_demo.py")
    canvas.setProducer("make_demo.py")
    for first in range(0, max(1, len(lines)), 24):
        canvas.setFont("Helvetica-Bold", 12)
        canvas.drawString(36, 380, title)
        canvas.setFont("Helvetica", 8)
        canvas.drawString(36, 364, f"Tallow Yard - {code} - {date.isoformat()} - invented record for demonstration")
        for n, line in enumerate(lines[first : first + 24]):
            canvas.drawString(36, 344 - 13 * n, line)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _photos(building: Building) -> None:
    joints = [joint for joint in building["joints"] if joint["fitting_kind"] == "elbow" and joint["status"] == "tested"]
    for n in range(1, PHOTOS + 1):
        joint = joints[n * len(joints) // (PHOTOS + 1)]
        code = f"DOC-F{n:02d}"
        joint["photo"] = code
        add_document(
            building,
            code,
            f"photos/{code}.png",
            f"Photo of joint {joint['joint_id']}",
            "photo",
            joint.date("press_date"),
            joint.text("joint_id"),
            "facilities",
            png_bytes(n),
        )


def add_personal_papers(building: Building) -> list[tuple[Row, str]]:
    """Papers that name or identify a person and were put where facilities staff would see them, each with a note."""
    name, day = "training/Jonas_Stellbrook_cert.pdf", dt.date(2025, 9, 30)
    content = pdf_bytes("DOC-N1", "Training certificate OP-02", day, ["See the trainings table"])
    title = "Training certificate OP-02"
    certificate = add_document(
        building, "DOC-N1", name, title, "training_certificate", day, "OP-02", "facilities", content
    )
    picture = png_bytes(99, 88, 40)
    day = dt.date(2026, 3, 2)
    signature = add_document(
        building,
        "DOC-N2",
        "tests/signature-witness.png",
        "Signature",
        "signature",
        day,
        "PT-040",
        "facilities",
        picture,
    )
    return [(certificate, "a person's name in the file name"), (signature, "picture of a signature")]


def _traces(building: Building) -> None:
    for n, test in enumerate(LOGGED, start=1):
        row = building.find("tests", test_id=test, stage="strength", result="pass")
        dice = Dice("trace", test)
        start, end = row.number("start_pressure_bar"), row.number("end_pressure_bar")
        day, begin = row.date("date"), row["start_time"]
        if not isinstance(begin, dt.time):
            raise TypeError(f"{test} has no start time")
        first = dt.datetime.combine(day, begin) - dt.timedelta(minutes=30)
        lines = ["Time,Pressure (bar)"]
        for sample in range(0, 92 * 60, 15):
            minutes = sample / 60
            settled = start + 0.28 * math.exp(-minutes / 7)
            share = min(1.0, max(0.0, (minutes - 30) / 60))
            value = settled + (end - start) * share + (dice.whole(-1, 1) * 0.004 if minutes < 91 else 0)
            stamp = first + dt.timedelta(seconds=sample)
            lines.append(f"{stamp:%Y-%m-%d %H:%M:%S},{value:.2f}")
        code = f"DOC-L{n}"
        row["document_id"] = code
        add_document(
            building,
            code,
            f"loggers/{test}.csv",
            f"Logger file {test}",
            "logger_file",
            day,
            test,
            "audit",
            ("\r\n".join(lines) + "\r\n").encode(),
        )
