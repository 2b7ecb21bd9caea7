"""Threads: the pitch in millimetres from any name of a thread."""

import pytest

from trued.errors import InputRefused
from trued.units import read_thread, read_turns


@pytest.mark.parametrize(
    ("name", "pitch_mm"),
    # ISO 261, coarse, from memory.
    [("M3", 0.5), ("M4", 0.7), ("M5", 0.8), ("M6", 1.0), ("M8", 1.25), ("M10", 1.5), ("M12", 1.75)],
)
def test_coarse_metric_threads(name: str, pitch_mm: float) -> None:
    assert read_thread(name) == pitch_mm == read_thread(f"{name}x{pitch_mm}") == read_thread(f"{pitch_mm} mm")


@pytest.mark.parametrize(
    ("name", "pitch_mm"),
    # ASME B1.1, coarse, numbers from memory: 25.4 mm over the threads an inch, by hand.
    [("#10-24", 1.0583), ("1/4-20", 1.2700), ("5/16-18", 1.4111)],
)
def test_unified_threads(name: str, pitch_mm: float) -> None:
    threads = name.partition("-")[2]
    assert round(read_thread(name), 4) == pitch_mm == round(read_thread(f"{threads}/in"), 4)


@pytest.mark.parametrize(
    "text", ["20/in", "20 / in", '20/"', "20 tpi", "20 per inch", "1/4-20 UNC", "¼-20", "1.27mm", "1,27 mm", "1/4 - 20"]
)
def test_one_thread_and_its_names(text: str) -> None:
    assert read_thread(text) == pytest.approx(1.27, rel=1e-15)


@pytest.mark.parametrize(("text", "pitch_mm"), [("M6x1", 1), ("M8×1.25", 1.25), ("m6 x 0.75 mm", 0.75), ("1mm", 1)])
def test_metric_threads_with_their_pitch(text: str, pitch_mm: float) -> None:
    assert read_thread(text) == pitch_mm


@pytest.mark.parametrize(("thread", "mm"), [("1/4-20", 0.3175), ("M6x1", 0.25)])
def test_a_quarter_turn(thread: str, mm: float) -> None:
    # Arithmetic of the two threads above: 25.4/20/4 and 1/4.
    assert read_turns("1/4 turn") * read_thread(thread) == pytest.approx(mm, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("M7", "as in M7x1"),
        ("0/in", "pitch above 0"),
        ("0mm", "pitch above 0"),
        ("30mm", "at most 1 in"),
        ("20", "Write a thread as"),
        ("", "Write a thread as"),
        ("M6x1,000", "comma with three digits"),
    ],
)
def test_no_thread(text: str, why: str) -> None:
    with pytest.raises(InputRefused, match=why) as refused:
        read_thread(text, where="thread")
    assert refused.value.faults[0].where == "thread"
