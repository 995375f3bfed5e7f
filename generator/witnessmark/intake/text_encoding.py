"""Bytes of a text file to text, saying how they were read."""

from __future__ import annotations

import codecs

from witnessmark.intake.grid import Remark
from witnessmark.intake.unreadable_file import UnreadableFile

_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)


def decode(data: bytes, file_label: str, encoding: str | None = None) -> tuple[str, str, list[Remark]]:
    """The text, the name of the encoding, and remarks on what was found out or put right.

    Without ``encoding``: a byte order mark decides, then valid UTF-8, then Windows-1252 with a remark. Raises
    ``UnreadableFile`` when the bytes do not fit the encoding that was named or marked.
    """
    remarks: list[Remark] = []
    name, skip = _named(encoding, file_label), 0
    for mark, marked in _MARKS:
        if data.startswith(mark):
            skip = len(mark)
            name = marked
            break
    if name is None and (name := _utf16_without_mark(data)):
        remarks.append(Remark("encoding-found", f"the file has no byte order mark and was read as {name.upper()}"))
    if name is None:
        text, name, found = _unmarked(data)
        remarks += found
    else:
        try:
            text = data[skip:].decode(name)
        except UnicodeDecodeError as error:
            row = data.count(b"\n", 0, skip + error.start) + 1
            raise UnreadableFile(
                file_label,
                "encoding-wrong",
                f"byte {skip + error.start + 1} is not {name.upper()}",
                "save the file as CSV UTF-8, or correct 'encoding' in project.yml",
                row=row,
            ) from None
    if "\x00" in text:
        remarks.append(
            Remark(
                "nul-removed", f"NUL characters were removed ({text.count(chr(0))})", "save the file again as CSV UTF-8"
            )
        )
        text = text.replace("\x00", "")
    return text.removeprefix("\ufeff"), name, remarks


def _named(encoding: str | None, file_label: str) -> str | None:
    if encoding is None:
        return None
    try:
        info = codecs.lookup(encoding)
    except (LookupError, ValueError):
        info = None
    if info is None or not getattr(info, "_is_text_encoding", True):
        raise UnreadableFile(
            file_label,
            "encoding-unknown",
            f"there is no text encoding '{encoding}'",
            "write utf-8, utf-16 or windows-1252 in project.yml",
        )
    return info.name


def _unmarked(data: bytes) -> tuple[str, str, list[Remark]]:
    try:
        return data.decode("utf-8"), "utf-8", []
    except UnicodeDecodeError as error:
        row = data.count(b"\n", 0, error.start) + 1
    text = data.decode("cp1252", errors="replace")
    lost = text.count("\ufffd")
    message = f"the file is not UTF-8 (first at row {row}) and was read as Windows-1252"
    if lost:
        message += f"; bytes without a character there show as \ufffd ({lost})"
    remedy = "check accented letters and signs such as ° and Ø, or save the file as CSV UTF-8"
    return text, "cp1252", [Remark("encoding-found", message, remedy, row=row)]


def _utf16_without_mark(data: bytes) -> str | None:
    head = data[:2000]
    half = len(head) // 2
    if half < 4:
        return None
    odd, even = head[1::2].count(0), head[0::2].count(0)
    if odd > 0.7 * half and even < 0.1 * half:
        return "utf-16-le"
    if even > 0.7 * half and odd < 0.1 * half:
        return "utf-16-be"
    return None
