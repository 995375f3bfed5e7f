"""A section with its records at hand, and the count of one kind of them."""

from dataclasses import dataclass

from witnessmark.model.records import Joint, Section, System, TestStage


@dataclass(frozen=True, slots=True)
class Count:
    """Records there and records needed. ``needed`` is ``None`` where nothing says how many; ``words`` say of what.

    ``not_applicable`` says by whom or what the kind is not asked for; '' where it is.
    """

    there: int = 0
    needed: int | None = 0
    words: str = ""
    joint_ids: tuple[str, ...] = ()
    """Joints without such a record."""
    not_applicable: str = ""
    once: bool = False
    """Whether one record is all that is asked for: it is there or not."""


@dataclass(frozen=True, slots=True)
class SectionRecords:
    """A section with what several counts look at."""

    section: Section
    system: System | None
    joints: tuple[Joint, ...]
    """Those in the pipework."""
    pressed: tuple[Joint, ...]
    tests: tuple[TestStage, ...]

    @property
    def passed(self) -> tuple[TestStage, ...]:
        """Test stages under pressure that are recorded as passed."""
        return tuple(test for test in self.tests if test.result == "pass" and test.stage != "visual")
