"""Where the trace of a joint stands: on the page of its section, at an anchor of its own."""

from collections.abc import Mapping

from witnessmark.model.project import Project
from witnessmark.model.records import Joint


def trace_page(code: str) -> str:
    """Address of the page that traces the joints of the section with that tag code."""
    return f"trace/sections/{code}.html"


class JointPlaces:
    """Anchors and addresses of all joints of a project; ``codes`` are the tag codes by section id.

    An anchor is the row, so that it stays when rows are added elsewhere. Joints of one section may come from several
    files and sheets: where rows meet, the later ones in the order read get a number behind it.
    """

    def __init__(self, project: Project, codes: Mapping[str, str]) -> None:
        self._codes = codes
        # Kept for the few that meet only: there may be a hundred thousand joints.
        self._later: dict[int, int] = {}
        for joints in project.joints_of_section.values():
            times: dict[int, int] = {}
            for joint in joints:
                row = joint.source.row
                times[row] = times.get(row, 0) + 1
                if times[row] > 1:
                    self._later[id(joint)] = times[row]

    def anchor(self, joint: Joint) -> str:
        """'row-7', or 'row-7-2' where the section has a joint of another file or sheet in the same row."""
        later = self._later.get(id(joint))
        return f"row-{joint.source.row}-{later}" if later else f"row-{joint.source.row}"

    def address(self, joint: Joint) -> str:
        """Page and anchor; '' where the records hold no section of that id."""
        code = self._codes.get(joint.section_id or "")
        return f"{trace_page(code)}#{self.anchor(joint)}" if code else ""
