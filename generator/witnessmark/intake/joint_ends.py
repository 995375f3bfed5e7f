"""A log with one row a fitting is expanded to its press ends, and says that the ends were not recorded one by one."""

from typing import Any

from witnessmark.intake.draft import Draft, Ledger, PendingFinding
from witnessmark.model.fitting import press_ends
from witnessmark.model.project import Repair
from witnessmark.model.source import RowSource


def expand_fittings(draft: Draft, ledger: Ledger) -> None:
    """Turn every row that stands for a fitting into one row a press end, ids ending in -1, -2, -3."""
    names = list(draft.columns)
    columns: dict[str, list[Any]] = {name: [] for name in names}
    sources: list[RowSource] = []
    as_end: list[bool] = []
    for position, source in enumerate(draft.sources):
        ends = _ends(draft, position, ledger)
        for end in range(1, (ends or 1) + 1):
            for name in names:
                value = draft.columns[name][position]
                if ends is not None and name == "joint_id":
                    value = f"{value}-{end}"
                elif (
                    ends is not None
                    and name == "od_mm"
                    and end > 1
                    and draft.columns["fitting_kind"][position] == "reducer"
                ):
                    # The row gives one size; the other end of a reducer has another.
                    value = None
                columns[name].append(value)
            sources.append(source)
            as_end.append(draft.columns["unit_of_count"][position] == "end")
    draft.columns, draft.sources, draft.as_end = columns, sources, as_end


def _ends(draft: Draft, position: int, ledger: Ledger) -> int | None:
    """Ends to make of a row; ``None`` where the row stays one record."""
    if draft.columns["unit_of_count"][position] != "fitting":
        return None
    kind = draft.columns["fitting_kind"][position]
    joint_id = draft.columns["joint_id"][position]
    ends = press_ends().get(kind)
    source = draft.sources[position]
    if ends is None:
        ledger.findings.append(
            PendingFinding(
                "fitting-ends-unknown",
                f"Joint {joint_id} is logged as one row a fitting, and how many press ends "
                f"{'this fitting' if kind is None else 'a ' + kind.replace('_', ' ')} has is not recorded",
                "log each press end in a row of its own",
                source.place("fitting_kind"),
                draft.table,
                source,
            )
        )
        return None
    ledger.repairs.append(
        Repair(
            source.place("joint_id"),
            draft.table,
            "joint_id",
            joint_id,
            ", ".join(f"{joint_id}-{end}" for end in range(1, ends + 1)),
            f"one row a fitting made {ends} ends of a {kind}; the ends were not recorded one by one",
        )
    )
    return ends
