"""Tickets: one cut each, as the person at the saw sees it."""

import re
from dataclasses import replace

import pytest
from tests.plan.planned import cut, inch, planned, shop, used

from trued.plan.layout.cut_tree import Axis, Offcut, Sized
from trued.plan.order.order import order_cuts
from trued.plan.order.scale_settings import settings_of
from trued.plan.stations.reach import reach_of
from trued.plan.stations.station import Reach, Station
from trued.plan.tickets.sled_support import sled_support
from trued.plan.tickets.ticket import Ticket, grouped, tickets
from trued.plan.tickets.ticket_words import scale_text
from trued.standing.cuts.cut_errors import assumed_capability


def rack() -> tuple[Ticket, ...]:
    here = planned("rack")
    return tickets(here.order, settings_of(here.layout.used, here.order, assumed_capability(shop())), "in")


def one(axis: Axis, length: float, width: float, at: float, sized: Sized = Sized.LOW, **reach: bool) -> Ticket:
    made = tickets(order_cuts([used(cut(axis, length, width, at, sized=sized))], Reach(**reach)), None, "in")
    return made[0]


def test_tickets_are_numbered_and_wait_for_the_cut_that_frees_their_piece() -> None:
    made = rack()
    assert [ticket.id for ticket in made] == [f"T{n}" for n in range(1, 14)]
    order = [ticket.id for ticket in made]
    assert all(order.index(before) < order.index(ticket.id) for ticket in made for before in ticket.after)
    assert made[0].after == () and made[1].after == ("T1",)


def test_first_ticket_cleans_the_end_and_sets_nothing() -> None:
    first = rack()[0]
    assert (
        first.text == "Crosscut the reference end of the board clean: 1/2 off, kerf counted, on the floor along a guide"
    )
    assert (first.setting, first.scale_text, first.wanted_mm, first.parts) == ("", "", None, ())


def test_setting_is_moved_once_and_tested_on_a_scrap_then() -> None:
    shelves = [ticket for ticket in rack() if ticket.setting == "S2"]
    assert [ticket.new_setting for ticket in shelves] == [True, False]
    assert shelves[0].first.startswith("Cut a scrap first") and shelves[1].first == ""
    assert shelves[0].scale_text == "13 3/8"
    assert shelves[0].wanted_text == "13.3754 (nearest 1/64: 13 3/8)"
    assert shelves[0].remainder_mm == pytest.approx(-0.0095, abs=1e-4)
    assert shelves[0].parts == ("shelf@1", "shelf@2")
    assert shelves[0].text == "Crosscut the blank for shelf@1, shelf@2"


def test_rips_name_their_part_and_piece() -> None:
    last = rack()[-1]
    assert (last.station, last.text, last.piece, last.scale_text) == ("rip fence", "Rip rail@2", "B1/1", "3")
    assert last.edge.startswith("reference edge along the rip fence")
    assert last.face == "up"


def test_without_a_shop_nothing_is_set_but_the_wanted_size_is_there() -> None:
    made = tickets(planned("rack").order, None, "mm")
    assert {ticket.setting_mm for ticket in made} == {None}
    assert {ticket.scale_text for ticket in made} == {""}
    assert made[1].wanted_text == "762.0 mm"


def test_groups_are_the_settings_in_order() -> None:
    assert [group[0].setting for group in grouped(rack())] == ["", "S1", "S2", "S3", "S4", "S5"]


def test_far_end_goes_to_the_stop_when_that_side_is_sized() -> None:
    assert "far end against the stop" in one(Axis.ACROSS, 30, 4, 12, Sized.HIGH).edge
    assert "squared end against the stop" in one(Axis.ACROSS, 30, 4, 12).edge


@pytest.mark.parametrize(
    ("axis", "sized", "lies"),
    [
        (Axis.ACROSS, Sized.LOW, "reference edge against the sled's fence, squared end against the stop"),
        (Axis.ACROSS, Sized.HIGH, "reference edge against the sled's fence, far end against the stop"),
        (
            Axis.ACROSS,
            Sized.NONE,
            "reference edge against the sled's fence, the longer piece on the keeper side, the stop out of the way",
        ),
        (Axis.ALONG, Sized.LOW, "squared end against the sled's fence, reference edge against the stop"),
        (Axis.ALONG, Sized.HIGH, "squared end against the sled's fence, far edge against the stop"),
        (
            Axis.ALONG,
            Sized.NONE,
            "squared end against the sled's fence, the longer piece on the keeper side, the stop out of the way",
        ),
    ],
)
def test_the_blade_runs_square_to_the_fence_of_the_sled(axis: Axis, sized: Sized, lies: str) -> None:
    """What lies along the fence is square to the cut: an edge for a crosscut, an end for a rip (common practice)."""
    ticket = one(axis, 10, 7, 3, sized)
    assert ticket.station == Station.SLED
    assert ticket.edge == lies


def test_shelves_of_the_rack_ripped_on_the_sled_keep_their_length() -> None:
    """Without a rip fence the shelves, 13 3/8 long, go on a sled of 14 in: the 3 1/2 at the stop is their width."""
    here = planned("rack", Reach(crosscut=inch(14), fence=False))
    rips = [done for done in here.order.cuts if done.task.key[0] is Station.SLED and done.task.cut.axis is Axis.ALONG]
    made = {ticket.id: ticket for ticket in tickets(here.order, None, "in")}
    shelf = next(ticket for ticket in made.values() if ticket.text == "Rip shelf@1")
    assert shelf.wanted_text == "3 1/2"
    assert shelf.edge == "squared end against the sled's fence, reference edge against the stop"
    assert "only the end bears on the fence" in " ".join(shelf.cautions)
    assert all(done.task.cut.run <= inch(14) for done in rips) and len(rips) == 6
    judged = planned("rack", replace(reach_of(shop()), crosscut=inch(14), fence=False)).order
    made = {ticket.id: ticket for ticket in tickets(judged, None, "in")}
    shelf = next(ticket for ticket in made.values() if ticket.text == "Rip shelf@1")
    assert shelf.before[1] == "Clamp the piece to the fence on the keeper side."
    found = {one.ticket: one.finding for one in sled_support(judged)}[shelf.id]
    assert found is not None
    piece = found.cut.piece  # along the fence, along the travel, and what is kept: the support is that of a rip
    assert (piece.length_mm, piece.width_mm, piece.keeper_mm) == pytest.approx((184.15, 339.735, 88.9), abs=0.01)


def test_cut_that_only_frees_a_piece_names_it_and_is_marked_from_the_reference_edge() -> None:
    whole = cut(Axis.ALONG, 60, 40, 18, sized=Sized.NONE)
    both = whole.__class__(whole.piece, whole.axis, whole.position, whole.kerf, whole.low, whole.low, Sized.NONE)
    made = tickets(order_cuts([used(both)], Reach()), None, "in")[0]
    assert (
        made.text
        == "Rip the piece for part@1 free, over size, at 18 from the reference edge, on the floor along a guide"
    )


@pytest.mark.parametrize(
    ("ticket", "text", "edge"),
    [
        (one(Axis.ACROSS, 90, 48, 30), "Crosscut part@1 at 30 from the reference end, on the", "the reference end"),
        (one(Axis.ALONG, 90, 48, 15.25), "Rip part@1 at 15 1/4 from the reference edge, on the", "the reference edge"),
        (one(Axis.ACROSS, 90, 48, 59.875, Sized.HIGH), "Crosscut part@1 at 30 from the far end, on", "the far end"),
        (
            one(Axis.ALONG, 9, 9, 4, sled=False),
            "Rip part@1 at 4 from the reference edge, by hand",
            "the reference edge",
        ),
    ],
)
def test_a_cut_to_a_line_says_where_the_line_is(ticket: Ticket, text: str, edge: str) -> None:
    assert ticket.text.startswith(text)
    assert ticket.edge == f"mark from {edge}; saw on the waste side of the line"
    assert ticket.first == "Measure every line twice before the saw starts."


@pytest.mark.parametrize("name", ["carcass", "drawers"])
def test_every_ticket_of_the_guided_saw_has_its_measure_and_tells_its_piece_apart(name: str) -> None:
    here = planned(name)
    made = [ticket for ticket in tickets(here.order, None, "in") if ticket.station == Station.FLOOR]
    assert made
    for ticket in made:
        assert ticket.first == "Measure every line twice before the saw starts."
        assert re.search(r" at [0-9/ .]+ .*from the (reference|far) (end|edge), on the floor", ticket.text), ticket.text
    assert len({ticket.text for ticket in made}) == len(made)


def test_a_rough_blank_is_marked_to_a_64th_and_a_finished_length_to_its_own() -> None:
    """A shelf of 13.3754 in is first sawn half an inch longer: that line needs no ten-thousandths."""
    blank = cut(Axis.ACROSS, 13.8754, 4, 13.3754)
    outer = replace(cut(Axis.ACROSS, 60, 4, 13.8754), low=blank)
    first, second = tickets(order_cuts([used(outer)], Reach(sled=False, fence=False)), None, "in")
    assert first.station == second.station == Station.FLOOR
    assert first.wanted_text == "13 7/8" and " at 13 7/8 from the reference end" in first.text
    assert second.wanted_text == "13.3754 (nearest 1/64: 13 3/8)" and second.wanted_text in second.text


def test_a_piece_with_many_parts_is_named_by_how_many_of_each_and_an_offcut_as_one() -> None:
    freeing = next(ticket for ticket in tickets(planned("drawers").order, None, "in") if " free, " in ticket.text)
    assert re.match(r"Rip the piece for \d × tall_side, ", freeing.text)
    bare = cut(Axis.ALONG, 60, 40, 18, sized=Sized.HIGH)
    kept = replace(bare, low=Offcut(bare.low.piece), sized=Sized.NONE)  # type: ignore[union-attr]
    text = tickets(order_cuts([used(kept)], Reach()), None, "in")[0].text
    assert text.startswith("Rip the offcut at the reference edge free, over size, at 18 from the reference edge")


def test_trim_at_the_far_end_says_what_comes_off() -> None:
    assert one(Axis.ALONG, 40, 6, 5.5, Sized.NONE).text == "Rip the far edge of part@1 clean: 1/2 off, kerf counted"


@pytest.mark.parametrize(
    ("ticket", "said"),
    [
        (one(Axis.ACROSS, 30, 4, 4), "Short keeper: no hand holds it"),
        (one(Axis.ACROSS, 30, 4, 10), "Hands 6 in or more from the kerf"),
        (one(Axis.ALONG, 17, 4, 1.4), "Narrow strip"),
        (one(Axis.ALONG, 17, 4, 1.4), "Riving knife and guard on"),
        (one(Axis.ALONG, 19, 4, 2), "outfeed support"),
        (one(Axis.ACROSS, 16, 20, 8, sled=False), "never a narrow end against the fence"),
        (one(Axis.ACROSS, 90, 48, 8), "both hands on the saw"),
        (one(Axis.ACROSS, 9, 4, 4, sled=False, fence=False), "saw by hand"),
    ],
)
def test_cautions_stand_with_the_step(ticket: Ticket, said: str) -> None:
    assert said in " ".join(ticket.cautions)


def test_cut_at_the_fence_against_the_squared_end_and_cut_by_hand() -> None:
    assert one(Axis.ACROSS, 16, 20, 8, sled=False).edge.startswith("squared end along the rip fence")
    by_hand = one(Axis.ACROSS, 9, 4, 4, sled=False, fence=False)
    assert by_hand.station == Station.HAND
    assert by_hand.text.endswith("by hand along a line")
    assert by_hand.first.startswith("Measure every line twice")


def test_show_face_lies_down_under_the_guided_saw() -> None:
    assert one(Axis.ACROSS, 90, 48, 8).face == "down"


def test_short_rip_carries_no_outfeed_caution() -> None:
    assert "outfeed" not in " ".join(one(Axis.ALONG, 17, 4, 2).cautions)


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (25.4 * 13.375, "in", "13 3/8"),
        (25.4 * 13.3754, "in", "13.3754 (nearest 1/64: 13 3/8)"),
        (339.73, "mm", "339.7 mm"),
        (None, "in", ""),
    ],
)
def test_scale_text(mm: float | None, unit: str, text: str) -> None:
    assert scale_text(mm, unit) == text  # type: ignore[arg-type]
