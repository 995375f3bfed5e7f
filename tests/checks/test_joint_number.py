"""Joint ids as sites write them, taken apart."""

import pytest

from witnessmark.checks.joint_number import JointNumber, fitting_of, joint_number


@pytest.mark.parametrize(
    ("joint_id", "parts"),
    [
        ("LTHW-F-R2-J014-A", ("LTHW-F-R2-J", 14, "A", "014")),
        ("J014A", ("J", 14, "A", "014")),
        ("14", ("", 14, "", "14")),
        ("J-14.b", ("J-", 14, "b", "14")),
        ("R2 J007", ("R2 J", 7, "", "007")),
    ],
)
def test_an_id_is_a_run_a_number_and_an_end(joint_id: str, parts: tuple[str, int, str, str]) -> None:
    assert joint_number(joint_id) == JointNumber(*parts)


@pytest.mark.parametrize("joint_id", ["", "A", "-", "tie-in", "J014-A (old)", "J" + "9" * 12, "J٣"])
def test_an_id_that_ends_in_no_number_has_no_parts(joint_id: str) -> None:
    assert joint_number(joint_id) is None


@pytest.mark.parametrize(
    ("joint_id", "fitting"), [("J014-A", "J014"), ("J014b", "J014"), ("J014.C", "J014"), ("J014", "J014"), ("J014-X", "J014-X"), ("A", "A"), ("-A", "-A"), ("", "")]
)  # fmt: skip
def test_the_ends_of_a_fitting_share_its_id(joint_id: str, fitting: str) -> None:
    assert fitting_of(joint_id) == (fitting, fitting != joint_id)
