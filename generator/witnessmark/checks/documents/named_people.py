"""Names of people in a text: whole names of the operatives table, in any order of their words."""

import re
import unicodedata

from witnessmark.model.project import Project

_CAPITAL_INSIDE = re.compile(r"(?<=[a-zß-ÿ])(?=[A-ZÀ-Þ])")
_WORD = re.compile(r"[^\W\d_]+")


class NamedPeople:
    """Full names and other spellings; one of a single word says nothing, since words and names look alike."""

    def __init__(self, project: Project) -> None:
        self._codes: dict[tuple[str, ...], str] = {}
        for operative in sorted(project.records.operatives, key=lambda row: row.operative_id):
            for spelling in (operative.name or "", *(operative.also_written or "").split(";")):
                words = _words(spelling)
                if len([word for word in words if len(word) > 1]) > 1:
                    self._codes.setdefault(tuple(sorted(words)), operative.operative_id)
        self._sizes = sorted({len(words) for words in self._codes})

    def codes_in(self, text: str) -> list[str]:
        """Codes of the people whose words stand side by side in a text, in order."""
        words = _words(text)
        found: set[str] = set()
        for size in self._sizes:
            for start in range(len(words) - size + 1):
                code = self._codes.get(tuple(sorted(words[start : start + size])))
                if code is not None:
                    found.add(code)
        return sorted(found)


def whom(codes: list[str]) -> str:
    """'operative OP-03' or 'operatives OP-03, OP-09'."""
    return f"operative {codes[0]}" if len(codes) == 1 else f"operatives {', '.join(codes[:5])}"


def _words(text: str) -> list[str]:
    """Words without accents and capitals; 'AdaPress_cert.pdf' is four of them."""
    spaced = _CAPITAL_INSIDE.sub(" ", text)
    if not spaced.isascii():
        spaced = "".join(c for c in unicodedata.normalize("NFKD", spaced) if not unicodedata.combining(c))
    return _WORD.findall(spaced.casefold())
