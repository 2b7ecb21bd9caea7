"""What a check took goes into the book and can be taken once more from it, to the last digit."""

import pytest
from tests.store.samples import id_of, minute

from trued.drawing.shapes import Drawing
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import Instrument
from trued.procedure import Check, Example, Kind, ReadingSpec, RunInput, SetupFact, Step, take
from trued.store.book import Book
from trued.store.kept.run_rows import rows_of

OWN = Instrument("caliper-1", "caliper", 0.0127, 0.0254, EstimatedSd(0.02, 12.0), None, True, "maker")

CHECK = Check(
    id="sample",
    version=3,
    title="A sample",
    purpose="Reads one of each kind.",
    minutes=1.0,
    features=("thing",),
    at_hand=("caliper",),
    cautions=("Unplug the saw.",),
    asks=(
        ReadingSpec("width", "the width", stations=1),
        ReadingSpec("play", "the play", Kind.GAP, need=(1, 20)),
        ReadingSpec("turns", "how many turns", Kind.COUNT),
        ReadingSpec("face", "which face", Kind.CHOICE, choices=("up", "down")),
    ),
    facts=(SetupFact("radius", "the radius", Kind.LENGTH),),
    steps=(Step("Read them.", ("width", "play", "turns", "face")),),
    evaluate=lambda _: (),
    moves=lambda _taken, _founds: (),
    blunders=(),
    draw=lambda _taken, _founds: Drawing("nothing", "nothing", ()),
    example=Example(("turns=1",), (), "none"),
    sources=("none",),
)
TYPED = ("width@1/2=25 3/16", "width@1=25-13/64:", "play:rule=-0.002", "play=.0625", "turns=7", "face=up")
FACTS = {"radius": "18"}


def again(typed: tuple[str, ...]) -> RunInput:
    return take(CHECK, typed, FACTS, instruments=[OWN])


def test_a_run_out_of_the_book_is_the_run_that_was_taken(book: Book) -> None:
    typed = tuple(text.rstrip(":") for text in TYPED)
    taken = again(typed)
    run, readings = rows_of(taken, id_of("run"), minute(5), started=minute(1), fixture="sled", facts=FACTS)
    book.add_run(run, readings)
    (stored,) = book.runs(check="sample")
    assert (stored.run.check_version, stored.run.started, stored.run.fixture) == (3, minute(1), "sled")
    assert stored.as_typed == (
        "width@1/2:caliper-1=25 3/16",
        "width@1:caliper-1=25-13/64",
        "play:rule=-0.002",
        "play:caliper-1=.0625",
        "turns=7",
        "face=up",
    )
    once_more = take(CHECK, stored.as_typed, stored.run.facts, instruments=[OWN], unit="in")
    assert [(r.name, r.station, r.value, r.exact_mm, r.choice, r.instrument) for r in once_more.readings] == [
        (r.name, r.station, r.value, r.exact_mm, r.choice, r.instrument) for r in taken.readings
    ]
    assert once_more.facts == taken.facts == {"radius": pytest.approx(457.2)}


def test_the_same_run_gives_the_same_rows_each_time(book: Book) -> None:
    taken = again(("width@1/2=25", "play=0", "turns=1", "face=up"))
    assert book.add_run(*rows_of(taken, id_of("run"), minute(5)))
    assert not book.add_run(*rows_of(taken, id_of("run"), minute(5)))
