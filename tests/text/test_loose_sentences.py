"""The search for loose sentences finds those that are planted, and passes over what nobody reads."""

import pytest

from tests.text.loose_sentences import Loose, loose_sentences


@pytest.mark.parametrize(
    ("source", "text"),
    [
        ('say("Now with the metronome.")', "Now with the metronome."),
        ("print(f'{count} takes copied into {out}')", "{} takes copied into {}"),
        ('raise TuneError(verbatim("it ends too early"))', "it ends too early"),
        ('raise OSError(f"the port {name} is gone")', "the port {} is gone"),
        ('columns = ("times read", "days")', "times read"),
        ('WORDS = {1: "wrong pitch"}', "wrong pitch"),
        ('return "first " "sight"', "first sight"),
        ('x = "Zuerst die Töne, dann der Rhythmus."', "Zuerst die Töne, dann der Rhythmus."),
        ('x = "“Once more”, she said"', "“Once more”, she said"),
        ('x = "don\'t stop"', "don't stop"),
        ("x = f\"{say('a.b')} {'not at all' if late else ''}\"", "not at all"),
        ("x = '{bpm:.0f} beats a minute'", "{bpm:.0f} beats a minute"),
        ('def f(what="this file"): pass', "this file"),
        ('class Level:\n    name = "five notes"', "five notes"),
        ('parser.add_argument("--out", help="where it goes")', "where it goes"),
        ("x = 'Read {}?\\nSave it!'", "Read {}?\nSave it!"),
    ],
)
def test_a_planted_sentence_is_found(source, text):
    assert [one.text for one in loose_sentences(source)] == [text]


@pytest.mark.parametrize(
    "source",
    [
        '"""A docstring of a module."""',
        'def f():\n    """What it does."""\n    return 1',
        'x = 1\n"""What x is for."""',
        'say("coach.new_day", bpm=60)',
        'raise ValueError(f"a take of {n} notes cannot be")',
        'raise ModuleNotFoundError("verovio is not installed")',
        'assert found, "it is not there"',
        'x: "dict[str, int | None]" = {}',
        'def f(x: "Callable[[int], str] | None") -> "tuple of int": ...',
        'class Stage(Enum):\n    SIGHT = "first sight"',
        'x = "SELECT name FROM player"',
        'x = "{} ORDER BY take"',
        "x = '<score-part id=\"P1\"><part-name>melody</part-name>'",
        'x = "times_read last_week marks"',
        'x = "Cb Gb Db".split()',
        'x = re.compile(r"Sibling of (.*)")',
        'x = "title"',
        'x = "--json"',
        'x = "{title}, {count}"',
        'x = "a.b c:d e/f"',
    ],
)
def test_what_nobody_reads_is_passed_over(source):
    assert loose_sentences(source) == ()


def test_sentences_are_told_with_their_lines_in_order():
    source = 'a = 1\nprint("Nothing was read.")\n\nprint("Signed off now.")\n'
    assert loose_sentences(source) == (Loose(2, "Nothing was read."), Loose(4, "Signed off now."))
