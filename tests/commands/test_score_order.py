"""`homefret score` plays the bars of a page in the right order: repeats, endings and jumps however a file writes them.

Each page is one whole note a bar; the bars are named by letters, and the signs are MusicXML 4.0 written by hand: as bar
lines, as symbols, as attributes of `sound`, or as words. The order expected is common practice (trade); where the page
is plain enough for it, the `music21` library's own `expandRepeats` is asked too (outside check).
"""

import re
import warnings

import pytest

from game.commands.score_command import score_answer
from game.neck.neck_map import standard_map
from game.tunes.read_tune import read_tune
from game.tunes.sandbox.reading_process import ReadingProcess
from tests.tunes.hand_written import ATTRIBUTES, measure, note, parts

_LEFT_SIGNS = re.compile(r'<barline location="left">.*?</barline>')
LEFT = '<barline location="left">{}</barline>'
RIGHT = '<barline location="right">{}</barline>'
OPEN = LEFT.format('<repeat direction="forward"/>')
CLOSE = RIGHT.format('<repeat direction="backward"/>')


def times(number: int) -> str:
    return RIGHT.format(f'<repeat direction="backward" times="{number}"/>')


def first(number: str, *, closes: bool = True, ends: bool = True) -> str:
    """A bracket over one bar: its beginning, the sign that repeats, its end."""
    begins = LEFT.format(f'<ending number="{number}" type="start"/>')
    stop = f'<ending number="{number}" type="stop"/>' if ends else ""
    sign = '<repeat direction="backward"/>' if closes else ""
    return begins + (RIGHT.format(stop + sign) if stop or sign else "")


def last(number: str = "2", kind: str = "stop") -> str:
    begins = LEFT.format(f'<ending number="{number}" type="start"/>')
    return begins + RIGHT.format(f'<ending number="{number}" type="{kind}"/>')


def begins_ending(number: str) -> str:
    return LEFT.format(f'<ending number="{number}" type="start"/>')


def ends_ending(number: str, *, closes: bool = True) -> str:
    sign = '<repeat direction="backward"/>' if closes else ""
    return RIGHT.format(f'<ending number="{number}" type="stop"/>{sign}')


def words(text: str) -> str:
    return f"<direction><direction-type><words>{text}</words></direction-type></direction>"


def sound(attribute: str) -> str:
    return f'<sound {attribute}="yes"/>'


def symbol(name: str) -> str:
    return f"<direction><direction-type><{name}/></direction-type></direction>"


def page(*bars: str) -> bytes:
    """Each bar a letter, then its signs: those of the left bar line go before the note, the others after it."""
    written = []
    for index, bar in enumerate(bars):
        name, _, signs = bar.partition(" ")
        content = (ATTRIBUTES if index == 0 else "") + note("CDEFGAB"[index % 7] + "4", 16)
        lefts = "".join(_LEFT_SIGNS.findall(signs))
        rest = _LEFT_SIGNS.sub("", signs)
        written.append(measure(lefts + content + rest, name))
    return parts(("Melody", "".join(written)))


# Sentence, bars, order, and whether music21 is asked too.
CASES = [
    ("no signs", ["a", "b", "c"], "abc", True),
    ("a section between signs", ["a", f"b {OPEN}", f"c {CLOSE}", "d"], "abcbcd", True),
    ("a closing sign alone goes back to the beginning", ["a", f"b {CLOSE}", "c"], "ababc", True),
    ("a second closing sign alone goes back to after the first", [f"a {CLOSE}", "b", f"c {CLOSE}"], "aabcbc", False),
    ("times", [f"a {OPEN}", f"b {times(3)}", "c"], "abababc", False),
    ("one bar repeated", ["a", f"b {OPEN}{CLOSE}", "c"], "abbc", True),
    ("two sections", [f"a {OPEN}", f"b {CLOSE}", f"c {OPEN}", f"d {CLOSE}"], "ababcdcd", True),
    ("two endings", [f"a {OPEN}", f"b {first('1')}", f"c {last()}", "d"], "abacd", True),
    ("two endings without an opening sign", ["a", f"b {first('1')}", f"c {last()}"], "abac", True),
    ("an open second ending", [f"a {OPEN}", f"b {first('1')}", f"c {last(kind='discontinue')}", "d"], "abacd", True),
    ("a second ending never closed", [f"a {OPEN}", f"b {first('1')}", f"c {begins_ending('2')}", "d"], "abacd", False),
    ("a second ending without a bracket", [f"a {OPEN}", f"b {first('1')}", "c", "d"], "abacd", False),
    ("an ending for the first two times", [f"a {OPEN}", f"b {first('1, 2')}", f"c {last('3')}"], "ababac", False),
    ("three endings", [f"a {OPEN}", f"b {first('1')}", f"c {first('2')}", f"d {last('3')}"], "abacad", False),
    (
        "endings of two bars",
        [f"a {OPEN}", f"b {begins_ending('1')}", f"c {ends_ending('1')}", f"d {last()}"],
        "abcad",
        True,
    ),
    (
        "a first ending that forgot its sign",
        [f"a {OPEN}", f"b {first('1', closes=False)}", f"c {last()}"],
        "abac",
        False,
    ),
    ("D.C. in words", ["a", "b", f"c {words('D.C.')}"], "abcabc", False),
    ("D.C. al Fine in words", ["a", f"b {words('Fine')}", f"c {words('D.C. al Fine')}"], "abcab", False),
    ("da capo by sound", ["a", f"b {sound('fine')}", f"c {sound('dacapo')}"], "abcab", False),
    (
        "D.C. leaves repeats out",
        [f"a {OPEN}{CLOSE}", f"b {words('Fine')}", f"c {words('D.C. al Fine')}"],
        "aabcab",
        False,
    ),
    ("D.S. by symbol and words", ["a", f"b {symbol('segno')}", f"c {words('D.S.')}"], "abcbc", False),
    (
        "D.S. al Fine by sound",
        ["a", f"b {sound('segno')}", f"c {sound('fine')}", f"d {sound('dalsegno')}"],
        "abcdbc",
        False,
    ),
    (
        "D.S. al Coda by symbols and words",
        [
            "a",
            f"b {symbol('segno')}",
            f"c {words('To Coda')}",
            f"d {words('D.S. al Coda')}",
            f"e {symbol('coda')}",
            "f",
        ],
        "abcdbcef",
        False,
    ),
    (
        "D.C. al Coda by two bare signs: the first is where one leaves",
        ["a", f"b {symbol('coda')}", f"c {words('D.C. al Coda')}", f"d {symbol('coda')}"],
        "abcabd",
        False,
    ),
    (
        "D.C. al Coda by sound",
        ["a", f"b {sound('tocoda')}", f"c {sound('dacapo')}", f"d {sound('coda')}"],
        "abcabd",
        False,
    ),
    (
        "Dal Segno, written out, in two pieces of text",
        [
            f"a {symbol('segno')}",
            "b <direction><direction-type><words>Dal</words><words>Segno al Fine</words></direction-type></direction>"
            + words("Fine"),
            "c",
        ],
        "abab",
        False,
    ),
    ("repeats before the jump of the same bar", ["a", f"b {OPEN}{CLOSE}{words('D.C.')}"], "abbab", False),
    (
        "the last ending after D.C.",
        [f"a {OPEN}", f"b {first('1')}", f"c {last()}{words('Fine')}", f"d {words('D.C. al Fine')}"],
        "abacdac",
        False,
    ),
    (
        "To Coda without any jump, in a repeat",
        [f"a {OPEN}", f"b {words('To Coda')}", f"c {CLOSE}", f"d {symbol('coda')}"],
        "abcabd",
        False,
    ),
    ("D.S. without a segno is passed over", ["a", f"b {words('D.S.')}", "c"], "abc", False),
    ("a coda nobody jumps to", ["a", f"b {symbol('coda')}", "c"], "abc", False),
    ("times of one is no repeat", ["a", f"b {times(1)}", "c"], "abc", False),
]


@pytest.fixture(scope="module")
def process():
    with ReadingProcess() as one:
        yield one


@pytest.mark.parametrize(("bars", "order"), [case[1:3] for case in CASES], ids=[case[0] for case in CASES])
def test_bars_come_in_the_order_of_common_practice(bars, order, process):
    """The bar of each note of the answer."""
    answer = score_answer(read_tune(page(*bars), process=process), standard_map())
    assert "".join(told.bar for told in answer.notes) == order
    assert answer.bars == len(bars)
    assert [told.onset for told in answer.notes] == [str(4 * place) for place in range(len(order))]


@pytest.mark.parametrize(
    ("bars", "order"), [case[1:3] for case in CASES if case[3]], ids=[case[0] for case in CASES if case[3]]
)
def test_where_the_page_is_plain_music21_agrees(bars, order):
    """Its own reading and its own expansion; letters of the notes stand for the bars."""
    converter = pytest.importorskip("music21.converter")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        part = converter.parseData(page(*bars).decode(), format="musicxml").parts[0].expandRepeats()
    letters = [note.name for note in part.recurse().notes]
    assert letters == ["CDEFGAB"["abcdefg".index(bar)] for bar in order]


def test_there_are_enough_cases_by_hand():
    """No two pages alike, and all kinds of signs."""
    assert len({tuple(case[1]) for case in CASES}) == len(CASES) >= 30
