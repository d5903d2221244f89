"""Pages in our own shorthand, a word a bar: a letter names the bar, then its signs in order: `|:` and `:|` repeat
(`:|3` three times in all), `[1` `[12` an ending begins, `]` it ends, `||` a double bar line, `"` a section's name, `$`
segno, `@` coda, `>@` To Coda, `!` Fine, `DC` or `DS` with `f` (al Fine) or `c` (al Coda).
"""

import random
import re

from game.music.keys import Key
from game.music.meter import Meter
from game.music.score import Bar, BarLine, BarMarks, Jump, Until

_SIGN = re.compile(r"\|\||\"|\|:|:\|\d*|\[\d+|\]|\$|>@|@|!|D[CS][fc]?")
_PLAIN: dict[str, dict[str, object]] = {
    "|:": {"repeat_start": True},
    "$": {"segno": True},
    "@": {"coda": True},
    ">@": {"to_coda": True},
    "!": {"fine": True},
    "||": {"bar_line": BarLine.DOUBLE},
    '"': {"section": "Chorus"},
}


def page(text: str) -> list[Bar]:
    """The bars of a page in shorthand."""
    endings: tuple[int, ...] = ()
    bars = []
    for word in text.split():
        marks: dict[str, object] = {}
        signs = _SIGN.findall(word)
        assert word == word[0] + "".join(signs)
        for sign in signs:
            if sign.startswith(":|"):
                marks["repeat_end"] = int(sign[2:] or 2)
            elif sign.startswith("["):
                endings = tuple(int(digit) for digit in sign[1:])
                marks["ending_starts"] = True
            elif sign == "]":
                marks["ending_stops"] = True
            elif sign.startswith("D"):
                marks["jump"] = Jump.DA_CAPO if sign[1] == "C" else Jump.DAL_SEGNO
                marks["until"] = {"f": Until.FINE, "c": Until.CODA, "": None}[sign[2:]]
            else:
                marks |= _PLAIN[sign]
        marks["endings"] = endings
        if "ending_stops" in marks:
            endings = ()
        bars.append(bar_of(word[0], BarMarks(**marks)))
    return bars


def bar_of(name: str, marks: BarMarks) -> Bar:
    """A bar of this number that bears these marks."""
    meter = Meter()
    return Bar(number=name, meter=meter, key=Key(), length=meter.bar_length, events=(), marks=marks)


def any_marks(rng: random.Random) -> BarMarks:
    """Signs as no page has them."""

    def seldom() -> bool:
        return rng.random() < 0.25

    return BarMarks(
        repeat_start=seldom(),
        repeat_end=rng.choice((0, 0, 0, 2, 3)),
        endings=rng.choice(((), (), (1,), (2,), (1, 2), (3,))),
        ending_starts=seldom(),
        ending_stops=seldom(),
        segno=seldom(),
        coda=seldom(),
        to_coda=seldom(),
        fine=seldom(),
        jump=rng.choice((None, None, Jump.DA_CAPO, Jump.DAL_SEGNO)),
        until=rng.choice((None, Until.FINE, Until.CODA)),
    )
