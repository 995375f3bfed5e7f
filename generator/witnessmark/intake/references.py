"""Ids and references: every id once, every reference to a record that exists, every person to one person."""

from collections import defaultdict
from collections.abc import Callable
from typing import Any

from witnessmark.intake.draft import Draft, Ledger, PendingFinding
from witnessmark.intake.table_reader import value_text
from witnessmark.model.contract import Table, contract, key_field
from witnessmark.model.project import Repair, SetAside, SourceAccount

_SEVERAL_ROWS = {"joints", "tests"}
"""Tables whose conflicting rows are all kept, for the evidence checks to judge."""


def keep_one_of_each(draft: Draft, ledger: Ledger) -> None:
    """Set aside rows that repeat an id: identical ones quietly, conflicting ones with a finding."""
    table = contract()[draft.table]
    if not table.key:
        _drop_identical(draft, ledger, table)
        return
    keys = list(zip(*(draft.columns[name] for name in table.key), strict=True))
    seen: dict[Any, list[int]] = defaultdict(list)
    drop: set[int] = set()
    for position, key in enumerate(keys):
        seen[key].append(position)
        earlier = seen[key][0]
        if earlier == position:
            continue
        copied = next((other for other in seen[key][:-1] if _same(draft, other, position)), None)
        if copied is not None:
            earlier = copied
            drop.add(position)
            _aside(
                draft,
                ledger,
                position,
                f"the same as row {draft.sources[earlier].row} of {draft.sources[earlier].table.file}",
            )
        elif draft.table not in _SEVERAL_ROWS:
            drop.add(position)
            kept = draft.sources[earlier].place(table.key[0])
            _aside(draft, ledger, position, f"the id '{key[0]}' is already used in {kept.words}")
            ledger.findings.append(
                PendingFinding(
                    "id-used-twice",
                    f"{table.field(table.key[0]).title} '{key[0]}' stands in two rows that differ; the first was read",
                    "correct the id of one row, or delete the row that is wrong",
                    draft.sources[position].place(table.key[0]),
                    draft.table,
                    None,
                    (kept,),
                    cannot_tell=False,
                )
            )
    draft.drop(drop)


def _drop_identical(draft: Draft, ledger: Ledger, table: Table) -> None:
    if draft.table == "tubes":
        # Two equal lengths of tube in one section are two lengths, not a copy.
        return
    names = [field.name for field in table.fields]
    seen: dict[tuple[Any, ...], int] = {}
    drop: set[int] = set()
    for position, row in enumerate(zip(*(draft.columns[name] for name in names), strict=True)):
        earlier = seen.setdefault(row, position)
        if earlier != position:
            drop.add(position)
            _aside(
                draft,
                ledger,
                position,
                f"the same as row {draft.sources[earlier].row} of {draft.sources[earlier].table.file}",
            )
    draft.drop(drop)


def _same(draft: Draft, one: int, other: int) -> bool:
    return all(column[one] == column[other] for column in draft.columns.values())


def _aside(draft: Draft, ledger: Ledger, position: int, reason: str) -> None:
    source = draft.sources[position]
    ledger.set_aside.append(
        SetAside(source.location, draft.table, reason, " | ".join(text for text in source.raw if text))
    )


def recount(accounts: list[SourceAccount], drafts: dict[str, Draft]) -> list[SourceAccount]:
    """Accounts with the rows that are still used, after repeated rows were set aside."""
    used: dict[tuple[str, str, str], set[int]] = defaultdict(set)
    records: dict[tuple[str, str, str], int] = defaultdict(int)
    for draft in drafts.values():
        for source in draft.sources:
            place = (source.table.file, source.table.sheet, draft.table)
            used[place].add(source.row)
            records[place] += 1
    result = []
    for account in accounts:
        if account.table not in drafts:
            result.append(account)
            continue
        place = (account.file, account.sheet, account.table)
        rows = len(used[place])
        result.append(
            SourceAccount(
                account.file,
                account.sheet,
                account.table,
                account.rows_in,
                rows,
                account.rows_in - rows,
                records[place],
                account.sha256,
            )
        )
    return result


class _Register:
    """Ids of one table, exactly and without case."""

    def __init__(self, ids: list[str]) -> None:
        self._exact = set(ids)
        self._folded: dict[str, list[str]] = defaultdict(list)
        for known in ids:
            self._folded[known.casefold()].append(known)

    def find(self, text: str) -> tuple[str | None, list[str]]:
        """The id meant, or the ids it could be."""
        if text in self._exact:
            return text, []
        near = self._folded.get(text.casefold(), [])
        return (near[0], []) if len(near) == 1 else (None, near)


class _People(_Register):
    """Operatives by code, name, initials and other spellings."""

    def __init__(self, draft: Draft) -> None:
        super().__init__(draft.columns.get("operative_id", []))
        self._spelled: dict[str, set[str]] = defaultdict(set)
        for position, code in enumerate(draft.columns.get("operative_id", [])):
            for name in ("name", "initials"):
                self._add(draft.columns[name][position], code)
            for part in (draft.columns["also_written"][position] or "").split(";"):
                self._add(part, code)

    def _add(self, spelling: str | None, code: str) -> None:
        key = _plain(spelling or "")
        if key:
            self._spelled[key].add(code)

    def find(self, text: str) -> tuple[str | None, list[str]]:
        code, near = super().find(text)
        if code is not None or near:
            return code, near
        key = _plain(text)
        found = self._spelled.get(key) or self._spelled.get(_turned(key)) or set()
        return (next(iter(found)), []) if len(found) == 1 else (None, sorted(found))


def _plain(text: str) -> str:
    return (
        " ".join(text.replace(".", " ").casefold().split())
        if " " in text.strip()
        else text.replace(".", "").strip().casefold()
    )


def _turned(key: str) -> str:
    """'smith, jo' as 'jo smith'."""
    last, comma, first = key.partition(",")
    return f"{first.strip()} {last.strip()}" if comma else key


def resolve(drafts: dict[str, Draft], ledger: Ledger) -> None:
    """Make every reference point at a record; one that points at none becomes unknown, with a finding."""
    registers: dict[str, _Register] = {}
    for name, table in contract().items():
        if name == "operatives":
            registers[name] = _People(drafts[name])
        elif table.key and len(table.key) == 1:
            registers[name] = _Register(drafts[name].columns.get(key_field(name), []))
    for name, table in contract().items():
        draft = drafts[name]
        for field in table.fields:
            if field.reads in ("ref", "person"):
                register = registers[field.refers_to]
                draft.columns[field.name] = _resolved(draft, table, field.name, register.find, field.refers_to, ledger)
            elif field.reads == "refs":
                _resolve_lists(draft, table, field.name, registers[field.refers_to].find, field.refers_to, ledger)


def _resolved(
    draft: Draft,
    table: Table,
    name: str,
    find: Callable[[str], tuple[str | None, list[str]]],
    target: str,
    ledger: Ledger,
) -> list[str | None]:
    answers: dict[str, tuple[str | None, list[str]]] = {}
    values: list[str | None] = []
    for position, text in enumerate(draft.columns[name]):
        if text is None:
            values.append(None)
            continue
        if text not in answers:
            answers[text] = find(text)
        found, near = answers[text]
        values.append(found)
        if found is None:
            ledger.findings.append(_unresolved(draft, table, name, position, text, near, target))
        elif found != text:
            ledger.repairs.append(
                Repair(
                    draft.sources[position].place(name),
                    draft.table,
                    name,
                    text,
                    found,
                    f"matched '{text}' to {found} of {target.replace('_', ' ')}",
                )
            )
    return values


def _resolve_lists(
    draft: Draft,
    table: Table,
    name: str,
    find: Callable[[str], tuple[str | None, list[str]]],
    target: str,
    ledger: Ledger,
) -> None:
    column = draft.columns[name]
    for position, texts in enumerate(column):
        kept: list[str] = []
        for text in texts or ():
            found, near = find(text)
            if found is None:
                ledger.findings.append(_unresolved(draft, table, name, position, text, near, target))
            elif found not in kept:
                kept.append(found)
        column[position] = tuple(kept)


def _unresolved(
    draft: Draft, table: Table, name: str, position: int, text: str, near: list[str], target: str
) -> PendingFinding:
    title = table.field(name).title
    words = target.replace("_", " ")
    place = draft.sources[position].place(name)
    if near:
        kind = "person-could-be-two" if table.field(name).reads == "person" else "reference-could-be-two"
        return PendingFinding(
            kind,
            f"{title}: '{text}' could be {' or '.join(near)} of the {words} table",
            f"write the code in the cell, or under 'answers:' in project.yml write "
            f"'{draft.table}.{name}: {{words: {{{text}: {near[0]}}}}}'",
            place,
            draft.table,
            draft.sources[position],
        )
    return PendingFinding(
        "unknown-reference",
        f"{title}: '{value_text(text)}' is not in the {words} table",
        f"add '{value_text(text)}' to the {words} table, or correct the cell",
        place,
        draft.table,
        draft.sources[position],
        cannot_tell=False,
    )
