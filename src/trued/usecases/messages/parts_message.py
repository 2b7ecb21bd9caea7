"""What measured parts come to, as one value for terminal and page."""

from __future__ import annotations

from collections.abc import Iterator

from trued.errors import Question
from trued.job.expression.tree import PartSize, Side
from trued.measure.decision import LEVEL
from trued.standing.feature import named
from trued.standing.feature_status import ActionKind
from trued.standing.stop_history import OFFSET, SLOPE
from trued.usecases.runs.result_message import adjusting_order, record_of
from trued.usecases.saved.inspect_parts import ProofView, measured_of, misfits_of
from trued.usecases.shop.list_checks import one_check
from trued.usecases.standing.action_queue import visits
from trued.words.figures import first_up, short_name
from trued.words.message import Message, Order
from trued.words.orders import at_the_saw
from trued.words.part_names import PartNames
from trued.words.parts import PartsFacts, parts_message


def message_of(view: ProofView) -> Message:
    """The answer; the questions (`questions_of`) stand beside it, each with its choices."""
    taught = {named(s.feature).feature for s in view.taught}
    record = view.record
    return parts_message(
        PartsFacts(
            view.job,
            view.unit,
            view.proof,
            slips=view.slips,
            misfits=misfits_of(view),
            to_measure=tuple(_to_measure(view)),
            reached=view.reached,
            hints=hints_of(view),
            taught=view.taught,
            stop=tuple(_stop(view)),
            corrected=view.planned and bool(taught & {OFFSET, SLOPE}) and not view.mis_cuts.wrong,
            record=None if record is None else (record.judged, record.stated, record.fitted),
            asks=bool(view.mis_cuts.questions),
            run=view.run,
        )
    )


def questions_of(view: ProofView) -> tuple[Question, ...]:
    """What is asked about the parts; each is answered under the run that it names."""
    return view.mis_cuts.questions


def hints_of(view: ProofView) -> tuple[str, ...]:
    """What the parts of one setting look like."""
    names, found = PartNames(view.job), view.mis_cuts
    texts = (
        (found.wrong, "likelier mis-cut or misread than a stop that far off. Not used for the stop."),
        (found.second, "farther off than one setting explains. Cut another at that setting and measure it."),
        (found.lots, "two lots at one setting. Not used for the stop until you answer."),
    )
    return tuple(f"{first_up(names.listed(some))}: {text}" for some, text in texts if some)


def _to_measure(view: ProofView) -> Iterator[str]:
    """Cut sizes, as typed, of fits that are not sure yet and that nobody measured."""
    measured, unsure = measured_of(view.proof), {fit.name for fit in view.proof.fits if fit.chance < LEVEL}
    for spec in view.job.fits:
        if spec.id in unsure:
            for use in spec.uses:
                if isinstance(use, PartSize) and use.side is not Side.THICKNESS:
                    copies = [use.copy] if use.copy else view.job.part(use.part).copies
                    typed = (f"{use.part}@{copy}.{use.side}" for copy in copies)
                    yield from (name for name in typed if name not in measured)


def _stop(view: ProofView) -> Iterator[Order]:
    """What comes next for the stop, by all that is known of it now."""
    for visit in visits(view.taught):
        for step in visit.steps:
            status, action = step.first, step.first.next
            if action is None:
                continue
            check = one_check(action.check) if action.check else None
            name = first_up(", ".join(short_name(s.feature) for s in step.serves))
            if check is not None and (action.do is ActionKind.MOVE or action.mends):
                yield adjusting_order(action.text, status.feature, record_of(status), check, names=name, why=action.why)
            else:
                text = f"{name}: {at_the_saw(action.text)}"
                yield Order(text, check.cautions if check is not None else (), why=action.why)
