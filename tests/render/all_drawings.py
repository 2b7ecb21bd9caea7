"""Every drawing there is to test with: the samples, and those of all checks before and after their examples."""

from tests.render import samples

from trued.checks import all_checks
from trued.drawing.shapes import Drawing, Label, Line
from trued.procedure import examine, take
from trued.render.picture.svg import Picture


def drawings_of_checks() -> dict[str, Drawing]:
    """Each check's drawing before and after its example, for each first fact it knows."""
    found = {}
    for check in all_checks():
        places = {fact.name: fact.choices for fact in check.facts if fact.choices}
        for turn in range(max((len(choices) for choices in places.values()), default=1)):
            facts = {name: choices[turn % len(choices)] for name, choices in places.items()}
            taken = take(check, check.example.given, facts)
            found[f"{check.id} before {turn}"] = check.draw(taken, ())
            found[f"{check.id} after {turn}"] = check.draw(taken, examine(taken).founds)
    return found


DRAWINGS = {
    "sled": samples.sled(),
    "crowd": samples.crowd(),
    "tall": samples.tall(),
    "board": samples.drawn(samples.board()),
    "sheet": samples.drawn(samples.sheet()),
    "one point": Drawing("Point", "One place.", (Label((3, 3), "here"),)),
    "one line": Drawing("Line", "A standing line.", (Line((3, 3), (3, 8), "blade"), Label((3, 3), "foot"))),
    **drawings_of_checks(),
}


def overlapping(made: Picture) -> list[tuple[str, str]]:
    """Pairs of labels whose boxes overlap."""
    labels = made.labels
    return [
        (one.words.label.text, other.words.label.text)
        for n, one in enumerate(labels)
        for other in labels[:n]
        if one.box.meets(other.box)
    ]


def outside(made: Picture) -> list[str]:
    """Labels that are not wholly in the picture."""
    return [
        each.words.label.text
        for each in made.labels
        if each.box.left < 0 or each.box.right > made.width or each.box.top < made.top or each.box.bottom > made.bottom
    ]
