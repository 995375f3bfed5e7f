"""All evidence of a project: what the answers of all checks amount to. Each part is worked out when asked for, once."""

from dataclasses import dataclass
from functools import cached_property

from witnessmark.checks.judgement import Judgement
from witnessmark.evidence.chain import ChainBook
from witnessmark.evidence.completeness import Completeness
from witnessmark.evidence.guarantee_evidence import GuaranteeEvidence
from witnessmark.evidence.joint_trace import JointTracer
from witnessmark.evidence.readiness import Readiness, readiness_of
from witnessmark.evidence.reverse_trace import ReverseTracer
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings


@dataclass(frozen=True)
class Evidence:
    """A pure function of the three; it asks no question of its own."""

    project: Project
    workings: Workings
    judgement: Judgement

    @cached_property
    def chain(self) -> ChainBook:
        """Chains of joints, sections, systems and the pack."""
        return ChainBook(self.project, self.judgement)

    @cached_property
    def guarantee(self) -> GuaranteeEvidence:
        """Conditions of the guarantees, by material."""
        return GuaranteeEvidence(self.project, self.workings, self.judgement)

    @cached_property
    def completeness(self) -> Completeness:
        """Sections by kind of record."""
        return Completeness(self.project, self.workings, self.chain)

    @cached_property
    def readiness(self) -> Readiness:
        """Whether the records support handover, and what would get there."""
        return readiness_of(self.project, self.workings, self.judgement, self.chain.pack)

    @cached_property
    def joint_trace(self) -> JointTracer:
        """From a joint to all that stands behind it."""
        return JointTracer(self.project, self.workings, self.chain)

    @cached_property
    def reverse_trace(self) -> ReverseTracer:
        """From a batch, tool, operative or gauge to all it touched."""
        return ReverseTracer(self.project, self.workings)

    def prepare(self) -> None:
        """Work out the states that every edition shows, before a build divides itself into processes."""
        chain = self.chain
        _ = chain.joint_states, chain.section_states, chain.system_states, chain.pack
