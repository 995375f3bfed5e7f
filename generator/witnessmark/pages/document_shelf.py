"""Documents that an edition carries: which files go along, under which names, and how tables list them."""

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from witnessmark.model.contract import Edition
from witnessmark.model.records import Document
from witnessmark.pages.context import Context
from witnessmark.pages.table import NONE, Cell, Column, Row, RowReader, TableView

DOCUMENT_FIELDS = (
    "document_id",
    "title",
    "kind",
    "revision",
    "date",
    "about",
    "edition",
    "legible",
    "declared_sha256",
    "file",
)
_PHOTO_SUFFIXES = {".jpg", ".jpeg", ".png", ".heic", ".heif", ".tif", ".tiff", ".webp", ".gif", ".bmp"}
_SUFFIX = re.compile(r"\.[a-z0-9]{1,8}")


@dataclass(frozen=True, slots=True)
class ShelvedDocument:
    """A file to carry along."""

    source: Path
    address: str


def allowed(document: Document, edition: Edition) -> bool:
    """Whether an edition may carry a document, by what the records say of it."""
    if edition is Edition.AUDIT:
        return True
    if edition is Edition.TAG:
        return False
    return document.edition in (Edition.TAG.value, Edition.FACILITIES.value)


def document_place(context: Context, document: Document) -> tuple[ShelvedDocument | None, str]:
    """The file to carry for a document, or the words for why there is none."""
    if not document.file:
        return None, "no file in the records"
    if not allowed(document, context.edition):
        return None, "kept in the audit edition"
    suffix = PurePosixPath(document.file.replace("\\", "/")).suffix.lower()
    if context.edition is not Edition.AUDIT and suffix in _PHOTO_SUFFIXES:
        return None, "photo, kept in the audit edition with the data inside it"
    folder = (context.outcome.project.folder / "documents").resolve()
    try:
        path = (folder / document.file).resolve()
        inside = path.is_relative_to(folder) and path.is_file()
    except (OSError, ValueError):
        inside = False
    if not inside:
        return None, "the file is not in the documents folder"
    digest = hashlib.sha256(document.document_id.encode("utf-8", "surrogatepass")).hexdigest()[:16]
    return ShelvedDocument(path, f"documents/{digest}{suffix if _SUFFIX.fullmatch(suffix) else ''}"), ""


def document_reader(context: Context) -> RowReader:
    """Reads documents as rows of this edition."""
    return RowReader(context, "documents", DOCUMENT_FIELDS)


def document_row(context: Context, reader: RowReader, document: Document, anchor: str = "") -> Row:
    """A document with the link to its file, or why there is none."""
    place, why = document_place(context, document)
    file = Cell("open the file", place.address) if place else Cell(why, mark=NONE)
    return Row(anchor, (*reader.cells(document), file))


def document_table(context: Context, reader: RowReader, documents: Sequence[Document], caption: str) -> TableView:
    """A list of documents."""
    rows = tuple(document_row(context, reader, document) for document in documents)
    return TableView(
        caption, (*reader.columns, Column("Open")), rows, "The records name no document about this section."
    )


def shelf(context: Context) -> list[ShelvedDocument]:
    """All files that the edition carries, each once."""
    found: dict[str, ShelvedDocument] = {}
    for document in context.outcome.project.records.documents:
        place, _ = document_place(context, document)
        if place is not None:
            found.setdefault(place.address, place)
    return [found[address] for address in sorted(found)]
