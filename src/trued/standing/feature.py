"""What is known of each feature by its full or bare name, as the checks declare it (declared.py)."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from trued.equipment.fence_swing import turned_of
from trued.errors import InputRefused
from trued.standing.catalogue import Catalogue
from trued.standing.declared import Feature, Named, named
from trued.units.nearest import nearest

__all__ = [
    "Feature",
    "Named",
    "bare_name",
    "declare_by",
    "feature_of",
    "features",
    "find_feature",
    "full_name",
    "named",
    "said",
]


def _not_told() -> Catalogue:
    raise LookupError("no catalogue of features was told: import trued.checks, or call declare_by")


_catalogue_of: list[Callable[[], Catalogue]] = [_not_told]


def declare_by(catalogue: Callable[[], Catalogue], *, usual: bool = False) -> None:
    """Say once, at the start, where the catalogue comes from: the checks lie above this room, which imports none.

    usual: only where nothing else was said; a person's own checks are not among it.
    """
    if not usual or _catalogue_of[0] is _not_told:
        _catalogue_of[0] = catalogue


def features() -> Mapping[str, Feature]:
    """Every feature that a check declares, by its bare name, in its turn."""
    return _catalogue_of[0]().features


def full_name(thing: str, feature: str, angle: str = "0") -> str:
    """`sled.detent-angle@45closed`: the angle is added only where the feature is another one at every angle.

    feature: bare, or with an angle of its own (`bevel@45`), which then is the one.
    """
    parts, known = named(feature), find_feature(feature)
    lead = f"{thing}.{parts.feature}" if thing else parts.feature
    if known is None or not known.angles:
        return lead
    at = "0" if known.angles == "square" else parts.angle or angle or "0"
    turned = turned_of(at)
    return f"{lead}@{turned.suffix if known.angles == 'swing' else turned.suffix.removesuffix(turned.swing)}"


def find_feature(full: str) -> Feature | None:
    """What is known of a feature by its full or bare name; None for one that no check declares."""
    return _catalogue_of[0]().find(full)


def bare_name(full: str) -> str:
    """The name under which it is declared, without the thing: `kerf`, `detent-angle`, `bevel@0`."""
    known = find_feature(full)
    return known.name if known is not None else named(full).feature


def feature_of(full: str) -> Feature:
    """The feature of that full or bare name; InputRefused names the nearest when there is none."""
    found = find_feature(full)
    if found is None:
        text = f"No feature is called {named(full).feature!r}. {nearest(named(full).feature, tuple(features()))}"
        raise InputRefused.of("feature", full, text)
    return found


def said(full: str) -> str:
    """A feature in words: `detent angle (sled, 45° closed)`."""
    parts, known = named(full), find_feature(full)
    text = known.text if known is not None else parts.feature.replace("-", " ")
    if known is not None and known.angles == "tilt":
        at = "" if parts.angle in ("", "0", "45") else f"at {parts.angle}°"
    else:
        at = parts.turned.text if parts.angle not in ("", "0") else ""
    where = ", ".join(word for word in (parts.thing, at) if word)
    return f"{text} ({where})" if where else text
