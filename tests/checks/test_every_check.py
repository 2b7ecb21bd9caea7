"""What holds for every check, one's own included: the example is what it says, nothing is left undeclared."""

from pathlib import Path

import pytest
from tests.checks.ran import taken

from trued.checks import all_checks, check_ids, find_check
from trued.errors import InputRefused
from trued.procedure import Check, Finding, RunInput, examine, take

FIRST_FIVE = ("bar-play", "five-cut", "kerf", "stop-repeat", "stop-scale")
OWN = Path(__file__).parents[2] / "src" / "trued" / "checks" / "kerf.py"


def test_the_first_five_are_there() -> None:
    assert set(FIRST_FIVE) <= set(check_ids())
    assert [check.id for check in all_checks()] == list(check_ids())


@pytest.mark.parametrize("id", check_ids())
def test_the_example_gives_what_it_says(id: str) -> None:
    check = find_check(id)
    finding = examine(take(check, check.example.given))
    found = {e.feature: e.value for e in finding.estimates}
    assert check.example.gives and check.example.source
    for feature, value in check.example.gives:
        assert found[feature] == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize("check", all_checks(), ids=lambda check: check.id)
def test_it_teaches_only_what_it_declares(check: Check) -> None:
    finding: Finding = examine(take(check, check.example.given))
    assert {found.feature for found in finding.founds} <= set(check.names)


@pytest.mark.parametrize("check", all_checks(), ids=lambda check: check.id)
def test_it_draws_before_any_reading_and_any_fact(check: Check) -> None:
    drawing = check.draw(RunInput(check, ()), ())
    assert drawing.title and len(drawing.told) > 40


@pytest.mark.parametrize("check", all_checks(), ids=lambda check: check.id)
def test_it_never_says_safe(check: Check) -> None:
    said = " ".join([check.title, check.purpose, *check.cautions, *(s.text + s.caution for s in check.steps)])
    assert "safe" not in said.lower()


def test_an_unknown_check_names_the_nearest() -> None:
    with pytest.raises(InputRefused, match="Did you mean five-cut"):
        find_check("fivecut")
    with pytest.raises(InputRefused, match="There is no check 'five_cut'"):
        find_check("five_cut")


def test_a_check_of_one_s_own_is_one_file_in_a_folder(tmp_path: Path) -> None:
    text = OWN.read_text(encoding="utf-8").replace('id="kerf"', 'id="my-kerf"')
    (tmp_path / "my_kerf.py").write_text(text, encoding="utf-8")
    (tmp_path / "_helper.py").write_text("raise RuntimeError\n", encoding="utf-8")
    assert set(check_ids([str(tmp_path)])) == {*check_ids(), "my-kerf"}
    own = find_check("my-kerf", [str(tmp_path)])
    assert own.id == "my-kerf" and taken("kerf", own.example.given).readings


def test_a_file_that_holds_no_check_is_refused(tmp_path: Path) -> None:
    (tmp_path / "empty_one.py").write_text("CHECK = None\n", encoding="utf-8")
    with pytest.raises(InputRefused, match="must hold one CHECK with the id 'empty-one'"):
        find_check("empty-one", [str(tmp_path)])


def test_our_own_checks_cannot_be_replaced_by_a_folder(tmp_path: Path) -> None:
    (tmp_path / "kerf.py").write_text("CHECK = None\n", encoding="utf-8")
    assert find_check("kerf", [str(tmp_path)]).title.startswith("Kerf")
