"""`trued parts JOB.toml part=size ...`: measured parts, the fits, and what they teach."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from trued.cli.result import Answer, Json, common, question_json, question_lines, when
from trued.cli.text.message import message_lines
from trued.cli.text.standing_json import standing_json
from trued.usecases.files.folders import book_path
from trued.usecases.files.read_file import read_text
from trued.usecases.messages.parts_message import message_of, questions_of
from trued.usecases.saved.inspect_parts import ProofView, prove_job
from trued.words.error_keys import keyed

if TYPE_CHECKING:
    from trued.usecases.views import PartResult


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The job, and what was read."""
    del words
    parser.add_argument("job", metavar="JOB.toml", help="the job that was cut")
    parser.add_argument(
        "readings",
        nargs="*",
        metavar="PART[@COPY][.length|.width|.thickness][:instrument]=SIZE",
        help="as shelf@2=13.376, side.width@1=3.497, a difference shelf@2-shelf@1=+0.003, or FIT=0.012",
    )
    parser.add_argument("--unit", choices=("in", "mm"), help="what a bare number means")
    parser.add_argument("--more", action="store_true", help="also each part's number, the stop, the track record")
    common(parser, strict=True, at=True, asks=True)


def run(args: argparse.Namespace) -> Answer:
    """Judge, and keep when there is a book."""
    view = prove_job(
        read_text(Path(args.job)),
        args.readings,
        book=book_path(args.book),
        unit=args.unit,
        at=when(args.at),
        answers=args.answer,
    )
    return Answer(_json(view), "\n".join(told(view, more=args.more)), not_good=view.not_good)


def told(view: ProofView, *, more: bool = False) -> Iterator[str]:
    """The answer, then what is asked, then what was kept."""
    yield from message_lines(message_of(view), tuple(_foot(view)), more=more)


def _foot(view: ProofView) -> Iterator[str]:
    for question in questions_of(view):
        yield ""
        yield from question_lines(question, f"trued answer {question.about[:8]}")
        yield ""
    if view.run is None:
        yield "Not saved: no shop book (--book or TRUED_BOOK). More: --more"
    else:
        yield f"Saved. More: --more    Undo: trued undo {view.run[:8]}"


def _json(view: ProofView) -> Json:
    proof = view.proof
    return {
        "job": view.job.name,
        "run": view.run,
        "planned": view.planned,
        "sizes": [_verdict_json(v) for v in proof.sizes],
        "slips": list(view.slips),
        "mis_cut": list(view.mis_cuts.wrong),
        "second_copy": list(view.mis_cuts.second),
        "two_lots": list(view.mis_cuts.lots),
        "asks": [question_json(question) for question in view.mis_cuts.questions],
        "alike": [_verdict_json(v) for v in proof.alike],
        "gaps": [_verdict_json(v) for v in proof.gaps],
        "fits": [
            {"name": f.name, "mean_mm": f.mean_mm, "sd_mm": f.sd_mm, "chance": f.chance, "shares": {**keyed(f.shares)}}
            for f in proof.fits
        ],
        "lessons": [
            {
                "of": str(lesson.of),
                "station": lesson.station,
                "set_mm": lesson.reading_mm,
                "found_mm": lesson.found.value,
            }
            for lesson in proof.lessons
        ],
        "standing": [standing_json(s) for s in view.taught],
        "record": (
            {"judged": view.record.judged, "stated": view.record.stated, "fitted": view.record.fitted}
            if view.record
            else None
        ),
    }


def _verdict_json(v: PartResult) -> Json:
    return {
        "name": v.name,
        "found_mm": v.found.value,
        "off_mm": v.off.value,
        "u_mm": v.off.u,
        "tolerance_mm": [v.limits.low, v.limits.high] if v.limits else None,
        "chance_in": v.chance,
        "decision": v.decision.value if v.decision else None,
    }
