"""The one gate: what an edition may show. Visibility is declared once per field, in the contract."""

from functools import cache

from witnessmark.model.contract import Edition, contract


@cache
def shown(table: str, field: str, edition: Edition) -> bool:
    """Whether ``edition`` may show ``field`` of ``table``; what the contract does not declare is for the audit only."""
    declared = contract().get(table)
    if declared is not None:
        for each in declared.fields:
            if each.name == field:
                return edition.may_show(each.visibility)
    return edition is Edition.AUDIT
