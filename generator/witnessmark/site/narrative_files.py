"""Narrative files of an edition: the bundled ones, with the project's own laid over them by the same path."""

from dataclasses import dataclass
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.utils import meta

from witnessmark.model.contract import Edition
from witnessmark.pages.frame import Link
from witnessmark.pages.words import clean, sentence_start

PICTURES = {".png", ".jpg", ".jpeg", ".gif", ".webp"}
HOME = "index.md"


@dataclass(frozen=True, slots=True)
class Narrative:
    """What an edition carries of the narrative: files for MkDocs, links for the menu, and what was left out."""

    files: Files
    guide: tuple[Link, ...]
    left_out: tuple[str, ...]


def _editions(front: dict[str, object]) -> set[str]:
    declared = front.get("editions", [Edition.AUDIT.value])
    values = declared if isinstance(declared, list) else [declared]
    return {str(value).strip().lower() for value in values}


def _title(front: dict[str, object], words: str, path: str) -> str:
    if isinstance(front.get("title"), str):
        return clean(str(front["title"]))
    for line in words.splitlines():
        if line.startswith("# "):
            return clean(line[2:].strip())
    return clean(sentence_start(Path(path).stem.replace("-", " ")))


def _own_files(folder: Path, config: MkDocsConfig) -> list[File]:
    if not folder.is_dir():
        return []
    root = folder.resolve()
    found = []
    for path in sorted(root.rglob("*")):
        if path.is_file() and path.resolve().is_relative_to(root):
            found.append(File.generated(config, path.relative_to(root).as_posix(), abs_src_path=str(path)))
    return found


def narrative_of(files: Files, config: MkDocsConfig, own_folder: Path, edition: Edition) -> Narrative:
    """Choose the files of an edition. A page without ``editions`` in its front matter is for the audit only."""
    # MkDocs adds files of its own, such as a template of a site map; the pack carries the narrative folder alone.
    chosen = {file.src_uri: file for file in files if file.src_dir == config.docs_dir}
    chosen.update((file.src_uri, file) for file in _own_files(own_folder, config))
    kept: list[File] = []
    left_out: list[str] = []
    guide: list[tuple[int, str, Link]] = []
    for path in sorted(chosen):
        file = chosen[path]
        if file.is_documentation_page():
            words, front = meta.get_data(file.content_string)
            if edition.value not in _editions(front):
                continue
            file.inclusion = InclusionLevel.INCLUDED
            kept.append(file)
            if path != HOME:
                order = front.get("order")
                link = Link(_title(front, words, path), file.dest_uri)
                guide.append((order if isinstance(order, int) else 999, path, link))
        elif Path(path).suffix.lower() in PICTURES:
            # Pictures hold data of their own (place, camera, person): only the auditor's copy carries them.
            if edition is Edition.AUDIT:
                kept.append(file)
        else:
            left_out.append(path)
    return Narrative(Files(kept), tuple(link for _, _, link in sorted(guide)), tuple(left_out))
