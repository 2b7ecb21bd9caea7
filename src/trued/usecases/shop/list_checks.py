"""The measuring procedures there are, and one of them by its id."""

from __future__ import annotations

from collections.abc import Mapping

from trued.checks import all_checks, check_ids, find_check
from trued.checks import catalogue as _catalogue
from trued.procedure import Check
from trued.standing.catalogue import Catalogue
from trued.standing.history.old_names import now_called, once_called, renamed
from trued.usecases.files.folders import check_folders


def catalogue() -> Catalogue:
    """The features that all these checks declare."""
    return _catalogue(check_folders())


def list_checks() -> tuple[Check, ...]:
    """Every check, those of the person's own folders among them."""
    return all_checks(check_folders())


def list_ids() -> tuple[str, ...]:
    """The ids alone, without loading the checks."""
    return check_ids(check_folders())


def one_check(id: str) -> Check:
    """The check of that id, or of the one that an old id means now; InputRefused when there is none."""
    return find_check(now_called("check", id), check_folders())


def is_check(id: str) -> bool:
    """Whether there is a check of that id, without loading it."""
    return now_called("check", id) in list_ids()


def facts_meant(id: str) -> Mapping[str, str]:
    """What an old id said by itself, as facts of the check that it is now; nothing for an id of today."""
    old = renamed("check", id)
    return {} if old is None else dict(old.facts)


def fact_names(check: Check, fact: str) -> tuple[str, ...]:
    """The name of a fact, and what it was called before."""
    return tuple(name for name in once_called("fact", fact) if now_called("fact", name, check.id) == fact)
