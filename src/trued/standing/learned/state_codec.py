"""What is known after some rows, as text and back, to the last bit: kept so that it need not be worked out again.

JSON; each value of a class carries the class's name. Python writes a float so that it
reads back the same.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from datetime import datetime
from typing import Any

from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, Shape, UncertainValue
from trued.standing.filtered.filtered_feature import FilteredFeature
from trued.standing.filtered.gain_mixture import GainHypothesis, GainMixture, WeightedState
from trued.standing.filtered.kalman import GaussianState
from trued.standing.filtered.observed_gain import ObservedGain
from trued.standing.filtered.slip import Arm, Turned
from trued.standing.history.history import Result
from trued.standing.learned.learned_state import LearnedState
from trued.standing.outlier import Outlier
from trued.standing.pooled.pooled_feature import PooledFeature
from trued.standing.repeats.repeat_runs import RepeatRuns
from trued.standing.repeats.repeatability import Repeatability
from trued.standing.stop_history import Entry, StopLog
from trued.standing.stop_model import Cuts

VERSION = 13
"""Rises whenever the same rows would come to something else: what an older program kept is then worked out anew."""

_KINDS: dict[str, Callable[..., object]] = {
    kind.__name__: kind
    for kind in (
        *(ToleranceLimits, ErrorSource, UncertainValue, EstimatedSd, Outlier, PooledFeature, GaussianState, RepeatRuns),
        *(
            Result,
            LearnedState,
            WeightedState,
            GainHypothesis,
            GainMixture,
            FilteredFeature,
            ObservedGain,
            Repeatability,
        ),
        *(Arm, Turned),
        *(StopLog, Entry, Cuts),
    )
}


def encode(known: LearnedState) -> str:
    """As text."""
    return json.dumps(_plain(known), separators=(",", ":"))


def decode(text: str) -> LearnedState:
    """From its text; ValueError when it is none."""
    known = _value(json.loads(text))
    if not isinstance(known, LearnedState):
        raise ValueError("this is not what is known of a shop")  # noqa: TRY004 -- what is wrong is the text
    return known


def _plain(value: object) -> object:
    if isinstance(value, Shape):
        return {"": "Shape", "v": value.value}
    if value is None or isinstance(value, str | int | float):
        return value
    if isinstance(value, datetime):
        return {"": "datetime", "v": value.isoformat()}
    if isinstance(value, Mapping):
        return {"": "map", "v": [[_plain(key), _plain(item)] for key, item in value.items()]}
    if type(value).__name__ in _KINDS:
        return {"": type(value).__name__, "v": [_plain(part) for part in _parts(value)]}
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    raise TypeError(f"{type(value).__name__} is no part of what is known of a shop")


def _parts(value: object) -> Iterable[object]:
    """The fields of a named tuple or a dataclass."""
    if is_dataclass(value):
        return [getattr(value, field.name) for field in fields(value)]
    return value if isinstance(value, tuple) else ()


def _value(plain: Any) -> Any:
    if isinstance(plain, list):
        return tuple([_value(item) for item in plain])
    if not isinstance(plain, dict):
        return plain
    kind, inside = plain[""], plain["v"]
    if kind == "Shape":
        return Shape(inside)
    if kind == "datetime":
        return datetime.fromisoformat(inside)
    if kind == "map":
        return {_value(key): _value(item) for key, item in inside}
    return _KINDS[kind](*[_value(item) for item in inside])
