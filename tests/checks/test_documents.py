"""Questions on documents: what is there, what it is, and whose name it shows to whom."""

import datetime as dt
import hashlib
from collections.abc import Callable
from typing import Any

import pytest

from witnessmark.checks.documents.document_undated import _OF_A_DAY
from witnessmark.checks.documents.signature_outside_audit import _AUDIT_ONLY, _NOT_ON_TAGS
from witnessmark.checks.registry import CHECKS
from witnessmark.checks.run import judge
from witnessmark.model.contract import contract
from witnessmark.model.finding import Finding, Outcome
from witnessmark.pipeline import Outcome as Worked

Ask = Callable[..., list[Finding]]
DIGEST = hashlib.sha256(b"certificate").hexdigest()
SOUND: dict[str, Any] = {
    "document_id": "D-1", "file": "tests/PT-1.pdf", "title": "Test certificate PT-1", "kind": "test_certificate",
    "date": dt.date(2026, 3, 9), "edition": "audit", "legible": True, "sha256": DIGEST, "size_bytes": 11,
    "declared_sha256": DIGEST,
}  # fmt: skip


@pytest.fixture
def ask(record: Any, make_outcome: Callable[..., Worked]) -> Ask:
    """Puts one question to documents, each given as changes of a sound one."""

    def put(slug: str, *rows: dict[str, Any], raw: dict[str, str] | None = None) -> list[Finding]:
        outcome = make_outcome(
            documents=tuple(record("documents", raw=raw, **{**SOUND, **row}) for row in rows),
            operatives=(
                record(
                    "operatives", operative_id="OP-03", name="Ada Press", initials="A.P.", also_written="Press, A.; Ada"
                ),
                record("operatives", operative_id="OP-09", name="Bo Çheck", also_written="Bo van Check; B. Check"),
            ),
        )
        check = next(check for check in CHECKS if check.rule.slug == slug)
        return list(check.run(outcome.project, outcome.workings).findings)

    return put


DOCUMENTS = [check.rule.slug for check in CHECKS if ".checks.documents." in check.run.__module__ and not check.awaits]


@pytest.mark.parametrize("slug", DOCUMENTS)
def test_a_sound_document_gives_no_finding(slug: str, ask: Ask) -> None:
    assert ask(slug, {}) == []
    assert ask(slug) == []


@pytest.mark.parametrize(
    ("slug", "row", "outcome", "words"),
    [
        ("document-without-file", {"file": None}, Outcome.CANNOT_TELL, "D-1 (test certificate) names no file"),
        ("document-empty", {"size_bytes": 0}, Outcome.FAIL, "is empty"),
        (
            "document-differs-from-its-hash",
            {"declared_sha256": "0" * 64},
            Outcome.FAIL,
            "the one declared begins 00000000",
        ),
        ("document-not-legible", {"legible": False}, Outcome.FAIL, "cannot be read"),
        ("document-not-legible", {"legible": None}, Outcome.CANNOT_TELL, "does not say whether"),
        ("document-undated", {"date": None}, Outcome.CANNOT_TELL, "has no date"),
        ("document-dated-after-issue", {"date": dt.date(2026, 5, 16)}, Outcome.FAIL, "dated 16 May 2026"),
        ("signature-outside-audit", {"edition": "tag"}, Outcome.FAIL, "offered to the tag edition"),
        ("signature-outside-audit", {"edition": "facilities", "kind": "signature"}, Outcome.FAIL, "is a signature"),
    ],
)
def test_one_fault_is_found_and_told(slug: str, row: dict[str, Any], outcome: Outcome, words: str, ask: Ask) -> None:
    findings = ask(slug, row)
    assert [(f.subject.id, f.outcome) for f in findings] == [("D-1", outcome)]
    assert words in findings[0].message


@pytest.mark.parametrize(
    ("slug", "row"),
    [
        ("document-differs-from-its-hash", {"declared_sha256": f" sha256:{DIGEST.upper()} "}),
        ("document-differs-from-its-hash", {"declared_sha256": None}),
        ("document-differs-from-its-hash", {"sha256": None}),
        ("document-not-legible", {"legible": None, "size_bytes": None}),
        ("document-not-legible", {"legible": None, "kind": "logger_file"}),
        ("document-undated", {"date": None, "kind": "photo"}),
        ("document-dated-after-issue", {"date": dt.date(2026, 5, 15)}),
        ("signature-outside-audit", {"edition": "facilities"}),
        ("signature-outside-audit", {"edition": None, "kind": "signature"}),
    ],
)
def test_what_is_in_order_is_not_told(slug: str, row: dict[str, Any], ask: Ask) -> None:
    assert ask(slug, row) == []


def test_a_file_that_the_reading_refused_is_told_once(ask: Ask) -> None:
    """The cell named a file outside the folder: the reading says so, and this question does not say it again."""
    assert ask("document-without-file", {"file": None}, raw={"file": "../../elsewhere.pdf"}) == []


def test_blanks_are_one_finding_a_kind(ask: Ask) -> None:
    rows = [{"document_id": f"D-{n}", "legible": None, "kind": "photo" if n < 4 else "manual"} for n in range(1, 8)]
    findings = ask("document-not-legible", *reversed(rows))
    assert [(f.subject.id, f.outcome) for f in findings] == [("D-4", Outcome.CANNOT_TELL), ("D-1", Outcome.CANNOT_TELL)]
    assert "Documents D-1, D-2, D-3 (photo) do not say" in findings[1].message


@pytest.mark.parametrize(
    ("file", "title"),
    [
        ("training/Ada_Press_cert.pdf", "Certificate"),
        ("training/AdaPress.pdf", "Certificate"),
        ("training/press-ada.pdf", "Certificate"),
        ("training/1.pdf", "Certificate of ADA PRESS, renewed"),
        ("Ada Press/1.pdf", "Certificate"),
    ],
)
def test_a_name_in_a_file_name_or_title_for_others_than_the_auditor_is_found(file: str, title: str, ask: Ask) -> None:
    findings = ask("person-named-in-file", {"edition": "facilities", "file": file, "title": title})
    assert [f.outcome for f in findings] == [Outcome.FAIL]
    assert "OP-03" in findings[0].message
    assert "ada" not in findings[0].message.casefold(), "the finding does not repeat the name"
    assert ask("person-named-in-file", {"edition": "audit", "file": file, "title": title}) == []


@pytest.mark.parametrize("title", ["Bo Check", "BO ÇHECK", "bo van check"])
def test_accents_and_other_spellings_make_no_difference(title: str, ask: Ask) -> None:
    assert len(ask("person-named-in-file", {"edition": "tag", "title": title})) == 1


@pytest.mark.parametrize("title", ["Press tool PT-02", "Adapter press jaw", "Check valve", "Press and Ada", "Bo"])
def test_words_that_only_resemble_a_name_are_not_taken_for_one(title: str, ask: Ask) -> None:
    assert ask("person-named-in-file", {"edition": "tag", "title": title}) == []


def test_a_name_in_a_cell_that_a_tag_shows_is_one_finding_a_column(
    record: Any, make_outcome: Callable[..., Worked]
) -> None:
    """Cells that only the auditor sees, such as remarks, may hold it."""
    texts = ["Ask Ada Press", "ask ada press!", "Ask the duty engineer", None]
    outcome = make_outcome(
        operatives=(record("operatives", operative_id="OP-03", name="Ada Press"),),
        valves=tuple(
            record("valves", valve_id=f"V-{n}", section_ids=(), location=text, remarks="Ada Press turned it")
            for n, text in enumerate(texts)
        ),
    )
    check = next(check for check in CHECKS if check.rule.slug == "person-named-in-records")
    findings = check.run(outcome.project, outcome.workings).findings
    assert [(f.subject.id, f.outcome) for f in findings] == [("valves", Outcome.FAIL)]
    assert "Column location of the valves table, which the tag edition shows" in findings[0].message
    assert "OP-03 in 2 cells" in findings[0].message
    assert "Ada" not in findings[0].message


def test_every_kind_asked_about_is_in_the_contract() -> None:
    kinds = set(contract()["documents"].field("kind").enum)
    assert kinds >= _OF_A_DAY | _AUDIT_ONLY | _NOT_ON_TAGS


def test_what_awaits_records_is_listed_and_is_no_pass(make_outcome: Callable[..., Worked]) -> None:
    outcome = make_outcome()
    awaiting = tuple(check for check in CHECKS if check.rule.slug in ("edition-not-searched", "issue-register-missing"))
    assert len(awaiting) == 2
    judgement = judge(outcome.project, outcome.workings, awaiting)
    assert [run.outcome for run in judgement.runs] == [Outcome.CANNOT_TELL] * 2
    assert all(run.skipped for run in judgement.runs)
