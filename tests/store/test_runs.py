"""A run is kept whole, once, as typed; a correction is a new row that takes the old one's place."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.store.samples import a_run, id_of, minute, new_book, readings_of

from trued.errors import InputRefused
from trued.store.book import Book
from trued.store.rows import ReadingRow


def test_a_run_comes_back_as_it_was_typed(book: Book) -> None:
    run = a_run("one", 5)
    readings = readings_of(run, "10", "11")
    assert book.add_run(run, readings)
    (stored,) = book.runs()
    assert (stored.run, stored.readings) == (run, readings)
    assert stored.as_typed == ("fence_end:caliper-1=10", "fence_end:caliper-1=11")
    assert book.run(run.id) == stored
    assert book.run(id_of("another")) is None


def test_a_reading_that_is_no_length_and_has_a_station_comes_back(book: Book) -> None:
    run = a_run("one")
    reading = ReadingRow(id_of("r"), run.id, 0, "play", "7", run.taken, minute(9), station="start", unit="mm")
    book.add_run(run, [reading])
    assert book.runs()[0].readings == (reading,)
    assert reading.as_typed == "play@start=7"


def test_the_same_run_delivered_twice_is_one_run(book: Book) -> None:
    run = a_run("one")
    readings = readings_of(run, "10", "11")
    assert book.add_run(run, readings)
    later = tuple(replace(reading, received=minute(600)) for reading in readings)
    assert not book.add_run(run, later), "it was received again; the first time stays"
    assert book.runs()[0].readings == readings
    assert book.rows()["reading"] == 2


def test_readings_that_come_later_join_their_run(book: Book) -> None:
    run = a_run("one")
    both = readings_of(run, "10", "11")
    assert book.add_run(run, both[:1])
    assert book.add_run(run, both)
    assert book.runs()[0].readings == both


def test_another_row_under_the_same_id_is_refused_and_nothing_of_it_kept(book: Book) -> None:
    run = a_run("one")
    book.add_run(run, readings_of(run, "10"))
    changed = (replace(readings_of(run, "10")[0], typed="12"), *readings_of(run, "10", "11")[1:])
    with pytest.raises(InputRefused, match="Another row of this id"):
        book.add_run(run, changed)
    assert book.runs()[0].readings == readings_of(run, "10")


def test_two_readings_for_one_place_are_refused(book: Book) -> None:
    run = a_run("one")
    (first,) = readings_of(run, "10")
    with pytest.raises(InputRefused, match="goes against what is"):
        book.add_run(run, [first, replace(first, id=id_of("other"), typed="11")])
    assert book.runs() == ()


def test_a_reading_of_another_run_is_our_own_fault(book: Book) -> None:
    with pytest.raises(ValueError, match="another run"):
        book.add_run(a_run("one"), readings_of(a_run("two"), "10"))


def test_runs_stand_in_the_order_of_their_time_whenever_they_came(book: Book) -> None:
    for name, at in (("late", 9), ("early", 1), ("same b", 4), ("same a", 4)):
        book.add_run(a_run(name, at))
    keys = [(stored.run.taken, stored.run.id) for stored in book.runs()]
    assert keys == sorted(keys)
    assert keys[0][1] == id_of("early")


def test_runs_are_found_by_check_fixture_and_time(book: Book) -> None:
    sled, gauge = a_run("sled", 1), a_run("gauge", 2, fixture="gauge")
    book.add_run(sled)
    book.add_run(gauge)
    assert [stored.run for stored in book.runs(fixture="gauge")] == [gauge]
    assert [stored.run for stored in book.runs(check="five-cut", until=minute(1))] == [sled]
    assert book.runs(check="kerf") == ()


def test_a_correction_takes_the_place_of_the_run_and_the_old_one_stays_to_be_seen(book: Book) -> None:
    first = a_run("first")
    second = a_run("second", supersedes=first.id)
    book.add_run(first, readings_of(first, "10"))
    book.add_run(second, readings_of(second, "11"))
    assert [stored.run for stored in book.runs()] == [second]
    assert sorted(stored.run.id for stored in book.runs(corrected=True)) == sorted([first.id, second.id])


def test_a_run_taken_back_leaves_nothing(book: Book) -> None:
    first = a_run("first")
    book.add_run(first, readings_of(first, "10"))
    book.add_run(a_run("back", supersedes=first.id, withdrawn=True))
    assert book.runs() == ()
    assert len(book.runs(corrected=True)) == 2


def test_a_correction_of_what_is_not_there_is_refused(book: Book) -> None:
    with pytest.raises(InputRefused, match="not in the book"):
        book.add_run(a_run("second", supersedes=id_of("first")))


def test_one_reading_is_corrected_in_its_place(book: Book) -> None:
    run = a_run("one")
    ten, eleven = readings_of(run, "10", "11")
    book.add_run(run, [ten, eleven])
    better = replace(ten, id=id_of("better"), typed="12", exact_mm=(1524, 5), supersedes=ten.id)
    assert book.correct_reading(better)
    assert not book.correct_reading(better)
    assert book.runs()[0].readings == (better, eleven)


@pytest.mark.parametrize("wrong", [{"seq": 1}, {"supersedes": id_of("nothing")}])
def test_a_correction_belongs_to_the_same_place(book: Book, wrong: dict[str, object]) -> None:
    run = a_run("one")
    ten, eleven = readings_of(run, "10", "11")
    book.add_run(run, [ten, eleven])
    with pytest.raises(InputRefused, match="same place"):
        book.correct_reading(replace(ten, **{"id": id_of("better"), "supersedes": ten.id, **wrong}))  # type: ignore[arg-type]


def test_a_device_that_is_not_paired_cannot_have_sent_a_run(book: Book) -> None:
    with pytest.raises(InputRefused, match="not in the book"):
        book.add_run(a_run("one", device=id_of("phone")))


@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(targets=st.lists(st.integers(0, 7), max_size=8), back=st.lists(st.booleans(), min_size=8, max_size=8))
def test_of_each_line_of_corrections_the_last_that_came_stands(
    tmp_path_factory: pytest.TempPathFactory, targets: list[int], back: list[bool]
) -> None:
    """Against the same rule worked out by hand, for corrections of corrections and two of the same row."""
    chains: dict[int, int] = {}
    stands: dict[int, int | None] = {}
    with new_book(tmp_path_factory.mktemp("book")) as book:
        for n, target in enumerate(targets):
            corrects = target if target < n else None
            withdrawn = corrects is not None and back[n]
            book.add_run(
                a_run(
                    f"run {n}",
                    n,
                    supersedes=None if corrects is None else id_of(f"run {corrects}"),
                    withdrawn=withdrawn,
                )
            )
            chains[n] = n if corrects is None else chains[corrects]
            stands[chains[n]] = None if withdrawn else n
        expected = sorted(n for n in stands.values() if n is not None)
        assert [stored.run.id for stored in book.runs()] == [id_of(f"run {n}") for n in expected]
