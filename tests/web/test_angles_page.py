"""The page asks for the angle and the side by name, and the next run at a detent begins with those of that detent."""

from datetime import UTC, datetime, timedelta

from tests.web.asking import Inputs, Site, words

from trued.usecases.runs.asked_with import at_angle
from trued.usecases.runs.run_check import run_check

RING = ("swung=closed", *("piece=7.5",) * 4, "width=2", "where=inside", "gap=0.0197")
BEGIN = datetime.now(UTC) - timedelta(hours=5)
KEY = "d" * 32


def test_a_form_without_its_angle_comes_back_with_a_sentence(shop: Site) -> None:
    form = Inputs(shop.get("/checks/sight-line").text)
    typed = {"r.to_mark": ["4", "5"], "r.to_cut": ["4.01", "5.01"]}
    wrong = shop.post("/checks/sight-line", form.filled(typed))
    assert wrong.status_code == 422 and "in degrees from a square cut; 0 when it is square" in words(wrong.text)
    kept = shop.post("/checks/sight-line", form.filled(typed | {"f.angle": ["0"]}))
    assert kept.status_code == 303


def test_the_next_run_at_a_detent_begins_at_that_detent(shop: Site) -> None:
    run_check("detent-angle", RING, {"angle": "45"}, book=shop.book, at=BEGIN, key=KEY)
    page = shop.get(f"/runs/{KEY}").text
    assert "45° closed" in words(page)
    assert "angle=45&amp;swing=closed" in page
    again = shop.get("/checks/detent-angle?fixture=sled&angle=45&swing=closed").text
    assert 'name="f.angle" value="45"' in " ".join(again.split()) or Inputs(again).value("f.angle") == "45"
    assert Inputs(again).value("r.swung") == "closed"


def test_a_move_is_typed_in_the_unit_of_its_order(shop: Site) -> None:
    """The sled of the example shop has its screw 18 in from the pivot: 0.0165 in there is 0.000917 rad."""
    page = shop.get("/moved?feature=sled.fence-angle@0&direction=open&amount=0.0165").text
    told = words(page)
    assert "How far, at the screw" in told and "degrees" not in told and "°" not in told.partition("As 0.0054")[0]
    form = Inputs(page)
    assert form.value("amount") == "0.0165"
    sent = shop.post("/moved", form.filled({"direction": ["open"]}))
    assert sent.status_code == 303
    history = words(shop.get("/standing/sled.fence-angle@0").text)
    assert "pen by 0.0165 in at the screw" in history


def test_the_terminal_names_the_angle_of_the_next_run() -> None:
    assert at_angle("sled.detent-angle@45closed") == " --angle 45 --swing closed"
    assert at_angle("sled.stop-offset@0") == " --angle 0"
    assert at_angle("sled.fence-angle@0") == at_angle("blade.kerf") == at_angle("saw.bevel@45") == ""
    assert at_angle("sled.detent-angle@?") == ""
