"""Which joint replaces which, as the log says it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from witnessmark.checks.joint_number import fitting_of
from witnessmark.model.project import Project
from witnessmark.model.records import Joint


def replacing(project: Project) -> list[Joint]:
    """Joints that say which joint they replace, by id."""
    return sorted(
        (j for j in project.records.joints if j.replaces_joint), key=lambda j: (j.joint_id, j.source.location)
    )


class JointNames:
    """What the log means by the joints that others replace: an id, or the fitting whose ends carry letters."""

    def __init__(self, project: Project, joints: Iterable[Joint]) -> None:
        """Look up all that ``joints`` say they replace."""
        wanted = {name.casefold() for joint in joints for name in _names(joint.replaces_joint or "")}
        self._rows: dict[str, list[Joint]] = defaultdict(list)
        self._ends: dict[str, list[Joint]] = defaultdict(list)
        if not wanted:
            return
        for joint in project.records.joints:
            key = joint.joint_id.casefold()
            if key in wanted:
                self._rows[key].append(joint)
            fitting, lettered = fitting_of(key)
            if lettered and fitting in wanted:
                self._ends[fitting].append(joint)

    def meant(self, text: str) -> tuple[list[Joint], list[str]]:
        """The joints that ``text`` names, separated by semicolons, and the names that stand for none."""
        joints: list[Joint] = []
        unknown: list[str] = []
        for name in _names(text):
            key = name.casefold()
            found = self._rows.get(key) or self._ends.get(key, [])
            joints += found
            if not found:
                unknown.append(name)
        return joints, unknown


def _names(text: str) -> list[str]:
    return [name for name in (part.strip() for part in text.split(";")) if name]


def circles(leads_to: Mapping[str, Iterable[str]]) -> list[tuple[str, ...]]:
    """Every group of ids that lead back to themselves, each in order of its ids; an id that names itself is one."""
    found: dict[tuple[str, ...], None] = {}
    done: set[str] = set()
    for start in sorted(leads_to):
        if start in done:
            continue
        path: list[str] = []
        place: dict[str, int] = {}
        stack = [(start, iter(sorted(leads_to.get(start, ()))))]
        place[start] = 0
        path.append(start)
        while stack:
            name, following = stack[-1]
            step = next(following, None)
            if step is None:
                stack.pop()
                path.pop()
                del place[name]
                done.add(name)
            elif step in place:
                found[tuple(sorted(path[place[step] :]))] = None
            elif step not in done:
                place[step] = len(path)
                path.append(step)
                stack.append((step, iter(sorted(leads_to.get(step, ())))))
    return list(found)
