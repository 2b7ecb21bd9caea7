"""Forty-odd safety trials: a shop and a job of which something must not be cut, what is typed to get past it, and the
way out that the plan must take instead. `LAWFUL` is the shop in which all of them would be made."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from typing import Any

from tests.lawful.plans import NOW, RACK, SHOP

from trued.usecases.changes.record_event import record_event
from trued.usecases.changes.record_move import record_move
from trued.usecases.runs.run_check import run_check

LAWFUL = SHOP
RIPS = frozenset(("rip fence",))
SAW = frozenset(("rip fence", "sled"))
SLED = frozenset(("sled",))


@dataclass(frozen=True)
class Trial:
    """name: what is tried. change: text of the shop file -> other text. job: the job file. done: what is typed into the
    book, in order. gone: stations that make no cut. code: a problem that stands for it. said: words on every surface.
    strict: whether a strict call counts it. first: words of a first step. known, kerf_in: what the checker is told.
    plan: further words of the call. rips: whether there must be none, wherever they are made on the saw.
    """

    name: str
    change: Mapping[str, str] = field(default_factory=dict)
    job: str = RACK
    done: tuple[Callable[[Path, int], object], ...] = ()
    gone: frozenset[str] = frozenset()
    code: str = ""
    said: str = ""
    strict: bool = True
    first: str = ""
    known: Mapping[str, str] = field(default_factory=dict)
    kerf_in: float = 0.0
    plan: Mapping[str, Any] = field(default_factory=dict)
    rips: bool = True
    not_made: bool = False
    waits: str = ""

    @property
    def shop(self) -> str:
        """The shop file of the trial."""
        text = LAWFUL
        for old, new in self.change.items():
            assert old in text, old
            text = text.replace(old, new)
        return text


def board(wood: str, size: tuple[str, str, str], part: tuple[str, str], copies: int = 1, more: str = "") -> str:
    """A job of one board and one kind of part, all sizes in inches."""
    length, width, thick = size
    return (
        f'name = "trial"\nunit = "in"\n[[stock]]\nid = "B"\nmaterial = "{wood}"\nlength = "{length}"\n'
        f'width = "{width}"\nthickness = "{thick}"\nhave = 2\n{more}[[part]]\nid = "leg"\nquantity = {copies}\n'
        f'material = "{wood}"\nlength = "{part[0]}"\nwidth = "{part[1]}"\nthickness = "{thick}"\n'
    )


def at(hours: int) -> Any:
    """A moment after the shop was described."""
    return NOW - timedelta(days=2) + timedelta(hours=hours)


def check(id: str, typed: str, **facts: str) -> Callable[[Path, int], object]:
    """A run of a check."""
    return lambda book, hours: run_check(id, typed.split(), facts, book=book, at=at(hours), answers=("anew",))


def move(feature: str, way: str, amount: str) -> Callable[[Path, int], object]:
    """A move as it is typed; whatever is asked is answered with the first word."""

    def do(book: Path, hours: int) -> object:
        from trued.errors import Asks

        answers: tuple[str, ...] = ()
        for _ in range(3):
            try:
                return record_move(feature, way, amount, book, at=at(hours), answers=answers)
            except Asks as asked:
                answers = (*answers, *(question.choices[0][0] for question in asked.questions))
        raise AssertionError("asked three times")

    return do


def event(kind: str, subject: str = "") -> Callable[[Path, int], object]:
    """An event as it is typed."""
    return lambda book, hours: record_event(kind, subject, book, at=at(hours))


TOE_IN = check(
    "rip-fence",
    "slot=beyond-blade dial=distance length=20 " + "operator_end=5.000 middle=4.990 far_end=4.980 " * 3,
)
PROUD = check(
    "insert",
    "low@operator-keeper=-0.006 low@operator-offcut=0.003 low@far-keeper=-0.001 low@far-offcut=-0.001 rock=0 "
    "strip=operator",
)
KNIFE = "gap_side@keeper={0} gap_side@offcut={0} to_teeth@nearest=3/16 to_teeth@farthest=3/16"
GOOD_KNIFE = check("knife", "knife=0.080 plate=0.067 kerf=0.094 " + KNIFE.format("0.007"))
THICK_KNIFE = check("knife", "knife=0.100 plate=0.067 kerf=0.094 " + KNIFE.format("-0.003"))
THIN_KERF = check("kerf", "whole=5.000 keeper_piece=2.4625 offcut_piece=2.4625")

THICK = board("oak", ("30", "4", "2 1/2"), ("20", "4"))
LEG = board("oak", ("30", "4", "4"), ("20", "3"))
LONG = board("oak", ("120", "13", "1 1/2"), ("100", "13"))
RIP = board("oak", ("48", "5 1/2", "3/4"), ("48", "3"))
HEAVY = board("oak", ("96", "12", "1 1/2"), ("96", "11"))
SHORT = board("pine", ("30", "4", "3/4"), ("4", "4"))
SMALL_RIP = board("pine", ("11", "5", "3/4"), ("11", "2"))
MITER = (
    'name = "trial"\nunit = "in"\n[[stock]]\nid = "B"\nmaterial = "pine"\nlength = "96"\nwidth = "1 3/4"\n'
    'thickness = "3/4"\n[[assembly]]\nid = "picture"\nkind = "frame"\noutside = ["16", "20"]\nwidth = "1 3/4"\n'
    'thickness = "3/4"\nmaterial = "pine"\njoint = "mitre"\n'
)
NO_OUTFEED = {
    'side = "far"\nheld = "floor"\nsize = ["30", "24"]\nload_tested = true': 'side = "far"\nsize = ["30", "24"]'
}
BANS = '["dado-stack"]'


def ban(word: str) -> dict[str, str]:
    return {BANS: f'["{word}"]'}


TRIALS = (
    # thickness and height
    Trial("2 1/2 in stock on the sled", job=THICK, gone=SAW, code="no-station", said="the saw reaches", not_made=True),
    Trial("4 in stock at fence and sled", job=LEG, gone=SAW, code="no-station", said="It could be", not_made=True),
    Trial(
        "1.9 in on the sled of a saw that cuts 2.2",
        {'"90" = "2.85"': '"90" = "2.2"'},
        board("oak", ("30", "4", "1.9"), ("20", "4")),
        gone=SLED, code="other-station", said="the saw reaches", strict=False,
    ),
    Trial(
        "2.2 in on the sled: an eighth above is all there is",
        job=board("oak", ("30", "4", "2.2"), ("20", "4")), first="as high as it goes", strict=False,
    ),
    Trial("no height known", {'max_cut = { "90" = "2.85", "45" = "1.95" }\n': ""}, waits="max_cut",
          code="fact-missing"),
    Trial("no far table known", {', far = "10 1/2"': ""}, waits="far side", code="fact-missing"),
    Trial("wood of unknown weight", job=board("cork", ("30", "4", "3/4"), ("20", "4")), waits="weigh a piece",
          code="fact-missing"),
    # tipping
    Trial("oak 120 × 13 × 1 1/2, part 100: tips by 23.7 in", job=LONG, gone=SLED, code="other-station",
          said="it is not carried", strict=False),
    Trial("squaring a board of 72 in on the sled", said="1: made with the guided saw", code="other-station"),
    Trial("a piece that tips off the sled's base", first="Clamp the piece"),
    Trial("a tail that hangs", first="under the tail"),
    Trial("supports that nobody load-tested", {"load_tested = true": "load_tested = false"}, code="other-station",
          said="its end would tip off the table"),
    Trial("rip of 48 in with nothing behind the table", NO_OUTFEED, RIP, gone=RIPS, code="other-station",
          said="its end would tip off the table", strict=False),
    Trial("rip of 20 in with nothing behind the table", NO_OUTFEED,
          board("oak", ("20", "5 1/2", "3/4"), ("20", "3")), first="Push block with a heel"),
    Trial("rip of a heavy board that the hands would carry", {'size = ["30", "24"]': 'size = ["60", "24"]'}, HEAVY,
          gone=RIPS, code="other-station", said="the hands would carry", strict=False),
    Trial("a keeper of 4 in", job=SHORT, first="Clamp the piece", strict=False),
    Trial("a rip on the sled", job=SMALL_RIP, first="Clamp the piece", code="never-checked"),
    # knife
    Trial("no knife", {'knife = "0.083"': 'knife = "0"'}, rips=False, code="knife", said="no riving knife"),
    Trial("knife as thick as the marked kerf", {'knife = "0.083"': 'knife = "0.100"'}, rips=False, code="knife",
          said="as thick as the kerf"),
    Trial("knife no thicker than the plate", {'knife = "0.083"': 'knife = "0.067"'}, rips=False, code="knife",
          said="no thicker than the blade's plate"),
    Trial("--kerf 0.075 with a knife of 0.083", plan={"kerf": "0.075"}, rips=False, code="knife",
          said="as thick as the kerf"),
    Trial("--kerf 0.130 with a knife of 0.100", {'knife = "0.083"': 'knife = "0.100"'}, plan={"kerf": "0.130"},
          rips=False, code="knife", said="as thick as the kerf"),
    Trial("kerf measured 0.075", done=(THIN_KERF,), rips=False, code="knife", said="as thick as the kerf",
          kerf_in=0.075),
    # blade
    Trial("blade larger than the saw takes", {'diameter = "9 1/2"': 'diameter = "12"'}, gone=SAW, code="blade",
          said="larger than the saw takes"),
    Trial("blade slower than the saw", {"max_speed = 6800": "max_speed = 3000"}, gone=SAW, code="blade",
          said="turns faster than the blade may"),
    Trial("blade of another bore", {'bore = "5/8"': 'bore = "30mm"'}, gone=SAW, code="blade", said="bore of the blade"),
    # the maker's bans
    Trial("ban: crosscut sled", ban("crosscut-sled"), gone=SLED, code="maker-forbids", said="forbids a crosscut sled"),
    Trial("ban: mitre gauge", {**ban("mitre-gauge"), 'kind = "crosscut-sled"': 'kind = "mitre-gauge"'}, gone=SLED,
          code="maker-forbids", said="forbids a mitre gauge"),
    Trial("ban: sled without guard", ban("sled-without-guard"), gone=SLED, code="maker-forbids",
          said="forbids a sled without a guard"),
    Trial("ban: wing", ban("wing"), first="Take off the wing", code="maker-forbids-support", said="forbids a wing"),
    Trial("ban: table drilled", {**ban("table-drilled"), 'held = "bolted"': 'held = "table-drilled"'},
          code="maker-forbids-support", said="Not counted as support: wing"),
    Trial("ban: rail clamped", {**ban("rail-clamped"), 'held = "bolted"\n': ""}, code="maker-forbids-support",
          said="Not counted as support: wing"),
    Trial("ban: cuts that do not go through", ban("non-through-cut"), code="joints-forbidden",
          said="do not go through the wood"),
    Trial("ban: dado stack", ban("dado-stack"), code="joints-not-planned", said="forbids a stack of dado blades"),
    # metal
    Trial("metal of the fence in the way", {'base = "1/2"': 'base = "1/2"\npivot_beside = "2"\nmetal_end = "1 15/16"'},
          gone=SLED, code="metal", said="stands in the blade's way"),
    Trial("metal of which one place alone is known", {'base = "1/2"': 'base = "1/2"\nmetal_end = "1"'},
          code="never-checked", said="turn the blade by hand first"),
    # never checked
    Trial("nothing was ever checked", code="never-checked", said="never checked here"),
    Trial("nobody looked into the manual", {f"maker_forbids = {BANS}\n": ""}, code="never-checked",
          said="look it up in the manual before the first cut"),
    Trial("nobody compared the blade's speed", {"speed = 4150\n": ""}, code="never-checked",
          said="whether the blade suits the saw by speed"),
    # typed moves and events
    Trial("toe out, a move typed after", done=(TOE_IN, move("rip-toe", "out", "0.0001")), gone=RIPS, code="safety-out",
          said="Only rip-fence opens it again", known={"rip-toe": "out"}),
    Trial("toe out, the whole move typed after", done=(TOE_IN, move("rip-toe", "out", "0.0215")), gone=RIPS,
          code="safety-out", said="Only rip-fence opens it again", known={"rip-toe": "out"}),
    Trial("toe out, the saw carried after", done=(TOE_IN, event("saw-carried")), gone=RIPS, code="safety-out",
          said="Only rip-fence opens it again", known={"rip-toe": "out"}),
    Trial("insert proud, the saw carried after", done=(PROUD, event("saw-carried")), gone=SAW, code="insert",
          said="Only insert opens it again"),
    Trial("knife found too thick, another blade typed after", done=(THICK_KNIFE, event("blade-same-kerf")), rips=False,
          code="safety-out", said="run knife first", known={"knife-under-kerf": "out", "after-blade": "yes"}),
    Trial("a thinner blade, the knife not looked at", done=(GOOD_KNIFE, event("blade-thinner")), rips=False,
          code="safety-out", said="run knife first", known={"after-blade": "yes"}),
    Trial("--shop beside the book: toe out stays out", done=(TOE_IN,), gone=RIPS, code="safety-out", said="toe",
          known={"rip-toe": "out"}, plan={"beside": LAWFUL}),
    Trial("--shop beside the book: what the book's maker forbids stays forbidden", ban("crosscut-sled"), gone=SLED,
          code="maker-forbids", said="forbids a crosscut sled", plan={"beside": LAWFUL}),
    Trial("parts with mitered ends", job=MITER, gone=SAW, code="angles-not-planned", said="miter"),
)  # fmt: skip
