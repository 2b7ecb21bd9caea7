"""What no page can hold is taken out, everything else stays."""

from xml.etree import ElementTree as ET

from hypothesis import given
from hypothesis import strategies as st

from trued.render.picture.printable_text import plain


@given(st.text(alphabet=st.characters()))
def test_any_text_can_then_be_written_and_read_as_xml(text: str) -> None:
    words = plain(text)
    written = ET.tostring(_element(words))
    assert (ET.fromstring(written).text or "") == words  # noqa: S314 - our own XML
    words.encode("utf-8")


def test_words_and_signs_stay() -> None:
    assert plain(' a  "b" <c> & 13½ 日本\n#d\x00\t') == 'a "b" <c> & 13½ 日本 #d'


def _element(text: str) -> ET.Element:
    element = ET.Element("t")
    element.text = text
    return element
