"""The address that a tag's QR symbol holds, and where its page stands inside an edition."""

from __future__ import annotations

from witnessmark.model.settings import TagSettings


def tag_address(tags: TagSettings, code: str) -> str:
    """Address of a tag: ``HTTPS://HOST[/PATH]/T/CODE/``, upper case throughout."""
    path = "/".join(part for part in tags.path.split("/") if part)
    return f"https://{tags.host}/{path + '/' if path else ''}t/{code}/".upper()
