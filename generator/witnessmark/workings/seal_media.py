"""Whether a seal suits a medium at its temperatures: the reference table, and what the project declares."""

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from witnessmark.model.bundled import shared_path
from witnessmark.model.finding import Outcome
from witnessmark.model.source import SourceLocation
from witnessmark.workings.rating_book import DeclaredEnvelope, RatingBook


@dataclass(frozen=True, slots=True)
class SealRow:
    """One row of the table: 'yes', 'no', 'oil_free_only' or 'declared_only', within temperatures, °C."""

    seal: str
    medium: str
    verdict: str
    min_c: float | None
    max_c: float | None
    basis: str
    note: str


@dataclass(frozen=True, slots=True)
class SealAnswer:
    """The answer for one seal in one section."""

    seal: str
    medium: str
    outcome: Outcome
    sentence: str
    basis: str
    location: SourceLocation | None = None


@cache
def seal_rows() -> dict[tuple[str, str], SealRow]:
    """The table by seal, in capitals, and medium."""
    with shared_path("reference/seal_media.csv").open(encoding="utf-8", newline="") as handle:
        return {
            (row["seal"].upper(), row["medium"]): SealRow(
                row["seal"],
                row["medium"],
                row["verdict"],
                float(row["min_c"]) if row["min_c"] else None,
                float(row["max_c"]) if row["max_c"] else None,
                f"{row['source']} ({row['standing']})",
                row["note"],
            )
            for row in csv.DictReader(handle)
        }


def seal_answer(
    seal: str | None,
    medium: str | None,
    temperatures: Sequence[tuple[str, float | None]],
    book: RatingBook,
    location: SourceLocation | None,
    oil_free: bool | None = None,
) -> SealAnswer:
    """Judge one seal.

    ``oil_free``: what the system's row says of its gas. ``temperatures``: name and °C of every temperature that the
    section can have. A rating of the seal that names the medium is what the project declares: it settles 'only where
    declared' and its temperatures come before those of the table. It does not settle a plain no.
    """
    words = (medium or "").replace("_", " ")

    def answer(outcome: Outcome, sentence: str, basis: str = "") -> SealAnswer:
        return SealAnswer(seal or "", medium or "", outcome, sentence, basis, location)

    if seal is None:
        return answer(Outcome.CANNOT_TELL, "The seal is not recorded.")
    if medium is None:
        return answer(Outcome.CANNOT_TELL, f"The medium on the {seal} seals is not recorded.")
    row = seal_rows().get((seal.upper(), medium))
    declared = [e for e in book.find("seal", (seal,), medium=medium) if e.medium is not None and e.points]
    if row is not None and row.verdict == "no":
        return answer(Outcome.FAIL, f"{seal} is not for {words}: {row.note}.", row.basis)
    if not declared and row is None:
        return answer(Outcome.CANNOT_TELL, f"No table says whether {seal} suits {words}.")
    if row is not None and row.verdict == "oil_free_only" and oil_free is False:
        why = row.note.partition(":")[0]
        return answer(Outcome.FAIL, f"{seal} is on {words} that is recorded as carrying oil: {why}.", row.basis)
    if not declared and row is not None and row.verdict == "oil_free_only" and oil_free is None:
        ask = f"whether the {words} is free of oil, as {seal} seals need it: the cell 'Free of oil' of the system"
        return answer(Outcome.CANNOT_TELL, f"{ask} is not recorded.", row.basis)
    if not declared and row is not None and row.verdict == "declared_only":
        ask = f"{seal} is for {words} only where the fitting's data declare it, and the records hold no such rating."
        return answer(Outcome.CANNOT_TELL, ask, row.basis)
    low, high, basis = _range(row, declared)
    unknown = [name for name, celsius in temperatures if celsius is None]
    for name, celsius in temperatures:
        if celsius is None:
            continue
        if (low is not None and celsius < low) or (high is not None and celsius > high):
            return answer(
                Outcome.FAIL,
                f"{seal} in {words} is for {_words(low)} to {_words(high)}; the {name} is {celsius:g} °C.",
                basis,
            )
    if unknown:
        return answer(
            Outcome.CANNOT_TELL,
            f"The {' and the '.join(unknown)} of the {seal} seals {'is' if len(unknown) == 1 else 'are'} not recorded.",
            basis,
        )
    return answer(
        Outcome.PASS, f"{seal} is for {words} from {_words(low)} to {_words(high)}; the records stay within.", basis
    )


def _range(row: SealRow | None, declared: Sequence[DeclaredEnvelope]) -> tuple[float | None, float | None, str]:
    if declared:
        low = max(e.points[0].temperature for e in declared)
        high = min(e.points[-1].temperature for e in declared)
        return low, high, "; ".join(dict.fromkeys(e.basis or e.rating_id for e in declared))
    if row is None:
        return None, None, ""
    return row.min_c, row.max_c, row.basis


def _words(celsius: float | None) -> str:
    return "no stated limit" if celsius is None else f"{celsius:g} °C"
