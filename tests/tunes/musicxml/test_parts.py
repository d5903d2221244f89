"""The parts of a score, and what it says about itself."""

from xml.etree import ElementTree as ET

from game.errors import SeveralPartsError, TuneError
from game.tunes.musicxml.parts import chosen_part, composer_of, source_named_in, title_of
from tests.refusing import refusal
from tests.tunes.hand_written import ATTRIBUTES, QUARTERS, measure, note, parts, pitch_names, score


def test_title_composer_and_part_come_from_the_file(read):
    """Names are taken where MusicXML has them."""
    head = (
        "<work><work-title>Evening Walk</work-title></work>"
        '<identification><creator type="lyricist">A</creator><creator type="composer">B</creator></identification>'
    )
    tune = read(score(QUARTERS, head=head))
    assert (tune.title, tune.composer, tune.part) == ("Evening Walk", "B", "Melody")


def test_a_movement_title_goes_before_a_work_title(read):
    """The movement is what stands on the page."""
    head = "<work><work-title>Suite</work-title></work><movement-title>Air</movement-title>"
    assert read(score(QUARTERS, head=head)).title == "Air"


def test_a_credited_title_is_used_when_there_is_no_other(read):
    """The largest words on the first page."""
    head = (
        '<credit page="1"><credit-words font-size="9">Slowly</credit-words></credit>'
        '<credit page="1"><credit-words font-size="24">Long Road</credit-words></credit>'
    )
    assert read(score(QUARTERS, head=head)).title == "Long Road"


def test_several_parts_are_listed_by_number_and_name(read):
    """The player chooses; nothing is guessed."""
    text = parts(("Flute", measure(ATTRIBUTES + QUARTERS)), ("Bass", measure(ATTRIBUTES + note("C3", 16))))
    with refusal(SeveralPartsError, r"2 parts \(1 Flute, 2 Bass\); choose one with --part N") as caught:
        read(text)
    assert caught.value.names == ("Flute", "Bass")
    assert pitch_names(read(text, part=2)) == ["C3"]
    with refusal(TuneError, r"no part 3"):
        read(text, part=3)


def root(text: bytes):
    return ET.fromstring(text)


def test_the_only_part_is_chosen_without_being_asked_for():
    chosen = chosen_part(root(score(QUARTERS)), None, "tune.xml")
    assert (chosen.name, len(chosen.element.findall("measure"))) == ("Melody", 1)


def test_a_part_without_a_name_goes_by_its_number():
    text = parts(("", measure(QUARTERS)), ("Bass", measure(QUARTERS)))
    assert chosen_part(root(text), 1, "tune.xml").name == "part 1"
    with refusal(SeveralPartsError, r"2 parts \(1 part 1, 2 Bass\)"):
        chosen_part(root(text), None, "tune.xml")


def test_a_credit_that_says_it_is_the_title_goes_before_larger_words():
    text = (
        b'<s><credit page="1"><credit-words font-size="40">Big</credit-words></credit>'
        b"<credit><credit-type>title</credit-type><credit-words>Small</credit-words></credit></s>"
    )
    assert title_of(root(text)) == "Small"


def test_a_score_that_says_nothing_of_itself_has_neither_title_nor_composer_nor_source():
    assert (title_of(root(b"<s/>")), composer_of(root(b"<s/>")), source_named_in(root(b"<s/>"))) == ("", "", "")


def test_without_a_composer_whoever_is_named_first_is_told_and_the_source_by_itself():
    text = b'<s><identification><creator type="arranger">A</creator><source>Our own</source></identification></s>'
    assert (composer_of(root(text)), source_named_in(root(text))) == ("A", "Our own")
