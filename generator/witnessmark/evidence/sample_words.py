"""What an audit sample is and what it can tell, in plain sentences."""

from collections.abc import Iterator

from witnessmark.engineering.acceptance_sampling import acceptance_probability
from witnessmark.evidence.sample import AuditSample


def summary(sample: AuditSample) -> Iterator[str]:
    """What the sample is and what it can tell, in plain sentences."""
    of = f" of system {sample.system_id}" if sample.system_id else ""
    if sample.plan is None:
        yield f"There are {sample.lot} joints{of} to choose from: all are looked at, and no sampling plan applies."
        return
    plan = sample.plan
    arrow = {"down": " (the arrow of the table leads to the plan below)", "up": " (the arrow leads to the plan above)"}
    yield (
        f"{sample.lot:,} joints{of}, seed '{sample.seed}', inspection level {sample.level}, AQL {sample.aql} %: letter "
        f"{plan.letter}{arrow.get(plan.plan.arrow, '')}, {plan.size:,} joints drawn by chance, "
        f"and {len(sample.walk) - len(sample.chance):,} more for their risk (ISO 2859-1, single sampling, normal "
        "inspection)."
    )
    if plan.whole_lot:
        yield "The plan asks for as many joints as there are: every joint is looked at."
        return
    often = acceptance_probability(plan.plan.size, plan.plan.accept, 0.10)
    yield (
        f"Of the joints drawn by chance, {plan.plan.accept} with a fault are accepted and {plan.plan.reject} are not. "
        f"If one joint in ten had a fault, such a sample would still pass {100 * often:.1f} times in a hundred: a "
        "passed sample proves nothing about the joints that were not looked at. Faults among those chosen for risk "
        "count by themselves."
    )
