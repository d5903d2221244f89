"""From a MusicXML text to our Score: notes, bars, octave and everything that is said about them."""

import io
import sys
import zipfile
from fractions import Fraction

import pytest

from game.errors import SeveralPartsError, TuneError
from game.music.keys import Key
from game.music.meter import Meter
from game.music.order import order_of_play
from game.music.score import Jump, Note, Reading, Rest, Until
from game.music.written import written_notes, written_out
from game.text.catalogue import tell
from game.tunes.read_tune import read_tune
from tests.refusing import refusal
from tests.tunes.hand_written import ATTRIBUTES, measure, note, parts, score
from tests.tunes.told import warnings_told

QUARTERS = "".join(note(name) for name in ("C4", "D4", "E4", "F4"))


def names(tune):
    return [str(one.pitch) for one in written_notes(tune.bars, tune.reading)]


def test_a_plain_bar_is_read_note_by_note(read):
    """Spelling, onset and length come out as they were written."""
    tune = read(score(note("F#4", 6, "<dot/>", value="quarter") + note("Gb4", 2) + note("B#3", 8)))
    assert [(str(n.pitch), n.onset, n.length) for n in tune.bars[0].notes] == [
        ("F#4", 0, Fraction(3, 2)),
        ("Gb4", Fraction(3, 2), Fraction(1, 2)),
        ("B#3", 2, 2),
    ]
    assert tune.bars[0].notes[0].value.dots == 1
    assert tune.file_format == "musicxml"
    assert not tune.warnings


def test_a_single_file_is_read_in_a_process_of_its_own_without_loading_music21_here():
    """The one-file path starts its own process."""
    before = "music21" in sys.modules
    assert names(read_tune(score(QUARTERS))) == ["C4", "D4", "E4", "F4"]
    assert ("music21" in sys.modules) == before


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


def test_names_lose_control_characters_and_keep_their_letters(read):
    """Text out of files is one clean line; markup stays text."""
    head = "<work><work-title>&lt;b&gt;Tea\u202e &#9;&amp;\n\n Cake\u0085</work-title></work>"
    assert read(score(QUARTERS, head=head)).title == "<b>Tea & Cake"


def test_ties_join_across_the_bar_line(read):
    """Two noteheads, one note of five quarters."""
    tied = (
        note("A4", 16, '<tie type="start"/>'),
        note("A4", 4, '<tie type="stop"/>') + note("B4", 12, "<dot/>"),
    )
    played = written_notes(read(score(*tied)).bars, Reading.GUITAR)
    assert [(str(n.pitch), n.length) for n in played] == [("A4", 5), ("B4", 3)]


def test_triplets_keep_exact_thirds_and_get_their_bracket(read):
    """Three in the time of two, bracketed although the file marks no bracket."""
    third = "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>"
    attributes = ATTRIBUTES.replace("<divisions>4<", "<divisions>3<")
    group = "".join(note(name, 1, third, value="eighth") for name in ("C4", "D4", "E4", "F4", "G4", "A4"))
    tune = read(score(group + note("C4", 6, value="half"), attributes=attributes))
    notes = tune.bars[0].notes
    assert [n.onset for n in notes[:4]] == [0, Fraction(1, 3), Fraction(2, 3), 1]
    assert [n.value.tuplet.starts for n in notes[:6]] == [True, False, False, True, False, False]
    assert [n.value.tuplet.stops for n in notes[:6]] == [False, False, True, False, False, True]
    assert notes[6].value.tuplet is None


def test_a_length_no_single_value_prints_becomes_tied_noteheads(read):
    """Five quarters' worth of sixteenths is a quarter tied to a sixteenth."""
    tune = read(score(note("C4", 5, value="") + note("D4", 11, value="")))
    heads = tune.bars[0].notes
    assert all(head.value.length == head.length for head in heads)
    played = written_notes(tune.bars, Reading.GUITAR)
    assert [n.length for n in played] == [Fraction(5, 4), Fraction(11, 4)]


def test_a_short_first_bar_is_a_pickup_and_lasts_what_it_holds(read):
    """Bar lengths are what bars hold: short, full, overfull."""
    tune = read(score(note("G4"), QUARTERS, QUARTERS + note("G4")))
    assert [(bar.length, bar.pickup) for bar in tune.bars] == [(1, True), (4, False), (5, False)]
    assert [n.onset for n in written_notes(tune.bars, Reading.GUITAR)][-1] == 9


def test_an_empty_bar_lasts_a_whole_bar(read):
    """Some programs leave the rest out."""
    bar = read(score(QUARTERS, "", QUARTERS)).bars[1]
    assert bar.length == 4
    assert [event.whole_bar for event in bar.events if isinstance(event, Rest)] == [True]


def test_silence_at_the_end_of_a_bar_counts(read):
    """A `forward` after the last note is a rest."""
    tune = read(score(note("C4", 4) + "<forward><duration>12</duration></forward>", QUARTERS))
    assert tune.bars[0].length == 4
    assert sum(event.length for event in tune.bars[0].events) == 4


def test_key_and_metre_changes_hold_from_their_bar_on(read):
    """Each bar knows its own."""
    change = (
        "<attributes><key><fifths>-3</fifths><mode>minor</mode></key>"
        "<time><beats>6</beats><beat-type>8</beat-type></time></attributes>"
    )
    bars = read(score(QUARTERS, change + note("C4", 12, "<dot/>", value="half"), note("G4", 12, value=""))).bars
    assert [bar.meter for bar in bars] == [Meter(), Meter(6, 8), Meter(6, 8)]
    assert [bar.key for bar in bars] == [Key(), Key(-3, minor=True), Key(-3, minor=True)]


def test_bar_numbers_are_those_printed(read):
    """Text, as the page has it."""
    body = measure(ATTRIBUTES + QUARTERS, "0") + measure(QUARTERS, "12a")
    assert [bar.number for bar in read(parts(("Melody", body))).bars] == ["0", "12a"]


def test_grace_notes_are_kept_and_take_no_time(read):
    """They are on the page, and nobody is asked for them."""
    tune = read(score(note("D4", 0, before="<grace/>", value="eighth") + QUARTERS))
    assert [n.grace for n in tune.bars[0].notes] == [True, False, False, False, False]
    assert names(tune) == ["C4", "D4", "E4", "F4"]


@pytest.mark.parametrize(
    ("element", "said"),
    [
        (note("E5", 4, before="<cue/>"), "Cue notes were left out (bar 1)."),
        (note("E5", 4, "<notehead>slash</notehead>"), "Slash noteheads were left out (bar 1)."),
        (
            "<note><unpitched><display-step>E</display-step></unpitched><duration>4</duration></note>",
            "Notes without a pitch were left out (bar 1).",
        ),
    ],
)
def test_what_is_not_melody_becomes_a_rest_and_is_said(read, element, said):
    """The bar keeps its time."""
    tune = read(score(note("C4") + element + note("D4", 8)))
    assert [(str(n.pitch), n.onset) for n in tune.bars[0].notes] == [("C4", 0), ("D4", 2)]
    assert said in warnings_told(tune)


def test_the_top_note_of_a_chord_is_read_and_said(read):
    """One line."""
    tune = read(score(note("C4", 16) + note("G4", 16, before="<chord/>") + note("E4", 16, before="<chord/>")))
    assert names(tune) == ["G4"]
    assert any("top note" in warning for warning in warnings_told(tune))


def test_warnings_name_bars_as_they_are_printed(read):
    """Bar 7 of the page, though it is the second of the file."""
    chord = note("C4", 16) + note("G4", 16, before="<chord/>")
    tune = read(parts(("Melody", measure(ATTRIBUTES + QUARTERS, "6") + measure(chord, "7"))))
    assert warnings_told(tune) == ("Of each chord the top note was read (1 bar: 7).",)


def test_the_first_voice_is_read_and_said(read):
    """Others stay out."""
    second = "<backup><duration>16</duration></backup>" + note("C4", 16, "<voice>2</voice>")
    first = note("A4", 8, "<voice>1</voice>") + note("B4", 8, "<voice>1</voice>")
    tune = read(score(first + second))
    assert names(tune) == ["A4", "B4"]
    assert any("several voices" in warning for warning in warnings_told(tune))


def test_the_first_staff_is_read_and_said(read):
    """Of a piano part the upper staff."""
    lower = "<backup><duration>16</duration></backup>" + note("C3", 16, "<voice>5</voice><staff>2</staff>")
    attributes = ATTRIBUTES.replace("<clef>", '<staves>2</staves><clef number="1">')
    tune = read(score(note("A4", 16, "<voice>1</voice><staff>1</staff>") + lower, attributes=attributes))
    assert names(tune) == ["A4"]
    assert any("several staves" in warning for warning in warnings_told(tune))


def test_quarter_tones_are_rounded_and_said(read):
    """Our neck has semitones only."""
    text = score(note("C#4", 16)).replace(b"<alter>1</alter>", b"<alter>1.5</alter>")
    tune = read(text)
    assert names(tune) == ["C##4"]
    assert any("Quarter tones" in warning for warning in warnings_told(tune))


def test_several_parts_are_listed_by_number_and_name(read):
    """The player chooses; nothing is guessed."""
    text = parts(("Flute", measure(ATTRIBUTES + QUARTERS)), ("Bass", measure(ATTRIBUTES + note("C3", 16))))
    with refusal(SeveralPartsError, r"2 parts \(1 Flute, 2 Bass\); choose one with --part N") as caught:
        read(text)
    assert caught.value.names == ("Flute", "Bass")
    assert names(read(text, part=2)) == ["C3"]
    with refusal(TuneError, r"no part 3"):
        read(text, part=3)


def test_chord_symbols_come_from_root_and_kind(read):
    """Text from the file where it has one, else our short form; onset from where the symbol stands."""

    def harmony(root, kind, more="", text=""):
        shown = f' text="{text}"' if text else ""
        return f"<harmony><root><root-step>{root}</root-step>{more}</root><kind{shown}>{kind}</kind></harmony>"

    flat = "<root-alter>-1</root-alter>"
    bar = (
        harmony("G", "minor-seventh")
        + note("C4")
        + harmony("B", "dominant", flat)
        + note("D4")
        + harmony("B", "half-diminished")
        + note("E4", 8)
        + "<backup><duration>4</duration></backup>"
        + harmony("F", "major-seventh", text="△7")
        + "<forward><duration>4</duration></forward>"
    )
    chords = read(score(bar)).bars[0].chords
    assert [(c.onset, c.text) for c in chords] == [(0, "Gm7"), (1, "Bb7"), (2, "Bm7b5"), (3, "Fmaj7")]
    assert chords[1].kind == "dominant"


def test_a_slash_chord_keeps_its_bass(read):
    """B♭7 over D."""
    harmony = (
        "<harmony><root><root-step>B</root-step><root-alter>-1</root-alter></root><kind>dominant</kind>"
        "<bass><bass-step>D</bass-step></bass></harmony>"
    )
    (chord,) = read(score(harmony + QUARTERS)).bars[0].chords
    assert (chord.text, chord.root, chord.bass) == ("Bb7/D", "Bb", "D")


CLEF = "<clef><sign>G</sign><line>2</line>"
OCTAVE_CLEF = ATTRIBUTES.replace(CLEF, f"{CLEF}<clef-octave-change>-1</clef-octave-change>")
TRANSPOSED = ATTRIBUTES.replace(
    "</attributes>",
    "<transpose><chromatic>0</chromatic><octave-change>-1</octave-change></transpose></attributes>",
)


# Source: MusicXML 4.0, clef-octave-change and transpose; design contract for the page.
@pytest.mark.parametrize(
    ("attributes", "choice", "page", "sounding"),
    [
        (ATTRIBUTES, None, "C5", 60),
        (ATTRIBUTES, Reading.GUITAR, "C5", 60),
        (ATTRIBUTES, Reading.CONCERT, "C5", 72),
        (OCTAVE_CLEF, None, "C6", 72),
        (OCTAVE_CLEF, Reading.CONCERT, "C5", 72),
        (TRANSPOSED, None, "C5", 60),
        (TRANSPOSED, Reading.CONCERT, "C4", 60),
    ],
)
def test_the_octave_is_settled_by_clef_and_transposition(read, attributes, choice, page, sounding):
    """A file that fixes the sound keeps it and the page moves; a lead sheet keeps its page."""
    tune = read(score(note("C5", 16), attributes=attributes), read=choice)
    (only,) = written_notes(tune.bars, tune.reading)
    assert (str(only.pitch), only.sounding) == (page, sounding)
    assert tell(tune.octave_reason).endswith(".")


def test_a_part_for_a_transposing_instrument_keeps_its_page_and_says_so(read):
    """B♭ clarinet: two semitones below the page."""
    attributes = ATTRIBUTES.replace(
        "</attributes>",
        "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>",
    )
    tune = read(score(note("C5", 16), attributes=attributes))
    assert names(tune) == ["C5"]
    assert any("2 semitones below the page" in warning for warning in warnings_told(tune))


def barline(content: str, location: str = "right") -> str:
    return f'<barline location="{location}">{content}</barline>'


def words(text: str, sound: str = "") -> str:
    return f"<direction><direction-type><words>{text}</words></direction-type>{sound}</direction>"


def played(tune):
    return "".join(bar.number for bar in written_out(tune).bars)


def test_repeats_and_endings_are_played_in_order(read):
    """Bar signs reach the order of play."""
    back, ending = '<repeat direction="backward"/>', '<ending number="{}" type="{}"/>'
    tune = read(
        score(
            QUARTERS,
            barline('<repeat direction="forward"/>', "left") + QUARTERS,
            barline(ending.format(1, "start"), "left") + QUARTERS + barline(ending.format(1, "stop") + back),
            barline(ending.format(2, "start"), "left") + QUARTERS + barline(ending.format(2, "discontinue")),
            QUARTERS,
        )
    )
    assert played(tune) == "1232" + "45"
    assert tune.bars[2].marks.endings == (1,)


def test_an_unclosed_second_ending_stops_at_a_double_bar(read):
    """What follows the double bar is a section of its own."""
    back, ending = '<repeat direction="backward"/>', '<ending number="{}" type="{}"/>'
    tune = read(
        score(
            QUARTERS,
            barline(ending.format("1", "start"), "left") + QUARTERS + barline(ending.format("1", "stop") + back),
            barline(ending.format("2", "start"), "left") + QUARTERS + barline("<bar-style>light-light</bar-style>"),
            QUARTERS + barline(back),
        )
    )
    assert played(tune) == "12" + "13" + "44"


@pytest.mark.parametrize("numbers", ["1, 2", "1-2", "1.,2.", "1 2"])
def test_an_ending_for_several_times_is_understood_however_it_is_written(read, numbers):
    """One bracket for two times through."""
    back, ending = '<repeat direction="backward"/>', '<ending number="{}" type="{}"/>'
    tune = read(
        score(
            QUARTERS,
            barline(ending.format(numbers, "start"), "left")
            + QUARTERS
            + barline(back + ending.format(numbers, "stop")),
            barline(ending.format("3", "start"), "left") + QUARTERS + barline(ending.format("3", "stop")),
        )
    )
    assert played(tune) == "121213"


@pytest.mark.parametrize(
    ("segno", "leave", "jump", "coda"),
    [
        (words("Segno"), words("To Coda"), words("D.S. al Coda"), words("Coda")),
        (
            '<direction><direction-type><segno/></direction-type><sound segno="1"/></direction>',
            words("To Coda", '<sound tocoda="1"/>'),
            words("D.S.", '<sound dalsegno="1"/>'),
            '<direction><direction-type><coda/></direction-type><sound coda="1"/></direction>',
        ),
        ('<sound segno="a"/>', '<sound tocoda="a"/>', '<sound dalsegno="a"/>', '<sound coda="a"/>'),
        (
            "<direction><direction-type><segno/></direction-type></direction>",
            "<direction><direction-type><coda/></direction-type></direction>",
            words("Dal Segno al Coda"),
            "<direction><direction-type><coda/></direction-type></direction>",
        ),
    ],
    ids=["words", "symbols with sounds", "sounds alone", "bare symbols"],
)
def test_dal_segno_al_coda_is_found_however_it_is_written(read, segno, leave, jump, coda):
    """By words, by symbol, by sound element."""
    tune = read(score(QUARTERS, segno + QUARTERS, QUARTERS + leave, QUARTERS + jump, coda + QUARTERS))
    assert played(tune) == "1234" + "23" + "5"


def test_da_capo_al_fine_is_found_in_words(read):
    """With what the words say about how far."""
    tune = read(score(QUARTERS, QUARTERS + words("Fine"), QUARTERS + words("D.C. al Fine")))
    assert played(tune) == "12312"
    assert (tune.bars[2].marks.jump, tune.bars[2].marks.until) == (Jump.DA_CAPO, Until.FINE)


def test_an_instruction_in_several_pieces_is_read_as_one(read):
    """ "D.C. al" and "Fine" in different type."""
    pieces = (
        "<direction><direction-type><words>D.C. al</words></direction-type>"
        "<direction-type><words>Fine</words></direction-type></direction>"
    )
    tune = read(score(QUARTERS + words("Fine"), QUARTERS + pieces))
    assert played(tune) == "121"
    assert not tune.bars[1].marks.fine


def test_a_repeat_sign_in_the_middle_of_a_bar_is_said(read):
    """We repeat whole bars only."""
    middle = barline('<repeat direction="backward"/>', "middle")
    tune = read(score(QUARTERS, note("C4", 8) + middle + note("D4", 8)))
    assert "The repeat sign in the middle of bar 2 was taken for the whole bar." in warnings_told(tune)


def test_a_segno_that_is_missing_is_said(read):
    """And the jump is not taken."""
    tune = read(score(QUARTERS, QUARTERS + words("D.S.")))
    assert order_of_play(tune.bars) == (0, 1)
    assert "D.S. without a segno: it is not taken." in warnings_told(tune)


@pytest.mark.parametrize(("text", "swung"), [("Medium swing", True), ("Straight eighths", False), ("Slow", None)])
def test_swing_is_what_the_page_asks_for(read, text, swung):
    """In words."""
    assert read(score(words(text) + QUARTERS)).swung is swung


def test_a_timewise_score_is_read_as_well(read):
    """Measures that hold parts."""
    text = (
        '<score-timewise><part-list><score-part id="P1"><part-name>M</part-name></score-part></part-list>'
        f'<measure number="1"><part id="P1">{ATTRIBUTES}{QUARTERS}</part></measure>'
        f'<measure number="2"><part id="P1">{QUARTERS}</part></measure></score-timewise>'
    )
    assert len(names(read(text.encode()))) == 8


def zipped(**members: bytes) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return buffer.getvalue()


CONTAINER = b'<container><rootfiles><rootfile full-path="%s"/></rootfiles></container>'


@pytest.mark.parametrize(
    "container",
    [
        {"META-INF/container.xml": CONTAINER % b"tune.xml"},
        {"META-INF/container.xml": CONTAINER % b"elsewhere.xml"},
        {"META-INF/container.xml": b"<container><broken"},
        {},
    ],
    ids=["named", "misnamed", "broken", "none"],
)
def test_a_compressed_score_is_found_whatever_its_container_says(read, container):
    """Failing a good container, the one score there is."""
    content = zipped(**container, **{"tune.xml": score(QUARTERS)})
    assert names(read(content)) == ["C4", "D4", "E4", "F4"]


def test_the_format_is_told_by_content_not_by_name(tmp_path):
    """An .mxl that calls itself .xml."""
    path = tmp_path / "tune.xml"
    path.write_bytes(zipped(**{"tune.xml": score(QUARTERS)}))
    assert len(read_tune(path).bars) == 1


def test_utf_16_is_read(read):
    """The encoding the file declares."""
    text = score(QUARTERS, head="<movement-title>Été</movement-title>").decode().replace("UTF-8", "UTF-16")
    assert read(text.encode("utf-16")).title == "Été"


def test_every_bar_is_filled_without_overlap(read):
    """Events follow each other from the start of the bar to its end."""
    tune = read(score(QUARTERS, "<forward><duration>8</duration></forward>" + note("C4", 8), ""))
    for bar in tune.bars:
        now = Fraction(0)
        for event in bar.events:
            assert event.onset == now
            now += event.length
        assert now == bar.length
    assert isinstance(tune.bars[1].events[-1], Note)
