"""ZIP containers, XLSX among them, without a clock: the same contents give the same bytes."""

from __future__ import annotations

import io
import re
import zipfile

_EPOCH = (1980, 1, 1, 0, 0, 0)  # the first moment that a ZIP directory can hold
_CORE = "docProps/core.xml"
_APP = "docProps/app.xml"
_APP_MAKER = re.compile(rb"<Application>[^<]*</Application>\s*<AppVersion>[^<]*</AppVersion>")
_CORE_DATES = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*(</dcterms:)")


def fixed_zip(data: bytes) -> bytes:
    """The container again, its entries in the same order, with fixed dates inside and out."""
    target = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as source, zipfile.ZipFile(target, "w") as fixed:
        for entry in source.infolist():
            content = source.read(entry)
            if entry.filename == _CORE:
                content = _CORE_DATES.sub(rb"\g<1>2000-01-01T00:00:00Z\g<2>", content)
            elif entry.filename == _APP:
                # The version of the library that wrote it is no part of the contents.
                content = _APP_MAKER.sub(b"<Application>Witnessmark</Application>", content)
            plain = zipfile.ZipInfo(entry.filename, _EPOCH)
            plain.compress_type = zipfile.ZIP_DEFLATED
            plain.external_attr = 0o644 << 16
            plain.create_system = 3
            fixed.writestr(plain, content, compresslevel=6)
    return target.getvalue()
