"""A stop's cursor and its scale: the facts and the words that the checks of the stop share.

true = reading + offset. With the stop left where it is, an offset above nought (parts come out long) is mended when the
scale comes to read MORE by that much; "take the offset off the cursor" would double it.
"""

from __future__ import annotations

from trued.equipment.sides import KEEPER
from trued.procedure.asks import Need, SetupFact
from trued.procedure.declaration import RunInput

KEEPER_FACT = SetupFact(
    "keeper", "the side of the blade on which the keeper lies", choices=KEEPER, needed_for=Need.WORDS
)
CURSOR_FACT = SetupFact(
    "cursor",
    "whether the cursor rides on the stop or the scale itself moves",
    choices=("rides", "scale-moves"),
    needed_for=Need.WORDS,
)


def cursor_way(taken: RunInput, *, long: bool) -> str:
    """The sentence that says which way cursor or scale goes, with a blank before it; "" while the kind is not known."""
    numbers = "larger" if long else "smaller"
    return {
        "rides": f" The cursor goes toward the {numbers} numbers.",
        "scale-moves": f" Slide the scale until {numbers} numbers stand at the cursor.",
    }.get(taken.word("cursor"), "")
