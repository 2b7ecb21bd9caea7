"""The measuring procedures there are, and one of them by its id."""

from __future__ import annotations

from trued.checks import all_checks, check_ids, find_check
from trued.form import Check
from trued.usecases.folders import check_folders


def list_checks() -> tuple[Check, ...]:
    """Every check, those of the person's own folders among them."""
    return all_checks(check_folders())


def list_ids() -> tuple[str, ...]:
    """The ids alone, without loading the checks."""
    return check_ids(check_folders())


def one_check(id: str) -> Check:
    """The check of that id; InputRefused when there is none."""
    return find_check(id, check_folders())
