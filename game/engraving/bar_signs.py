"""The signs of a bar that steer the order of play or divide the page, as MusicXML 4.0: bar lines, repeats, endings,
sections, segno, coda, words.
"""

from collections.abc import Sequence
from html import escape

from game.music.score import Bar, BarLine, BarMarks, Jump, Until


def left_barline(marks: BarMarks) -> str:
    """The bar line at the start of a bar, or nothing where it is the plain one of the bar before."""
    repeat = '<repeat direction="forward"/>' if marks.repeat_start else ""
    ending = f'<ending number="{_numbers(marks)}" type="start"/>' if marks.endings and marks.ending_starts else ""
    style = "<bar-style>heavy-light</bar-style>" if repeat else ""
    return _barline("left", style, ending, repeat)


def right_barline(marks: BarMarks, *, last: bool, key_changes: bool) -> str:
    """The bar line at the end of a bar: a repeat, the one the page has, failing that the final one, a double one before
    a new key or at a jump, or nothing.
    """
    repeat = style = ending = ""
    if marks.endings and marks.ending_stops:
        # A first ending is closed by its bracket's hook, the last one runs out open (trade).
        kind = "stop" if marks.repeat_end else "discontinue"
        ending = f'<ending number="{_numbers(marks)}" type="{kind}"/>'
    if marks.repeat_end:
        times = f' times="{marks.repeat_end}"' if marks.repeat_end > 2 else ""
        repeat = f'<repeat direction="backward"{times}/>'
    line = _line_at_end(marks, last=last, double=key_changes or marks.jump is not None)
    if line:
        style = f"<bar-style>{line.value}</bar-style>"
    return _barline("right", style, ending, repeat)


def _line_at_end(marks: BarMarks, *, last: bool, double: bool) -> BarLine | None:
    if marks.repeat_end:
        return BarLine.FINAL
    if marks.bar_line:
        return marks.bar_line
    if last:
        return BarLine.FINAL
    return BarLine.DOUBLE if double else None


def opening_signs(marks: BarMarks) -> str:
    """The word of a section, segno and coda, which mark the start of a bar."""
    signs = _above(f"<rehearsal>{escape(marks.section, quote=False)}</rehearsal>") if marks.section else ""
    if marks.segno:
        signs += _direction("<segno/>", 'segno="segno"')
    if marks.coda:
        signs += _direction("<coda/>", 'coda="coda"')
    return signs


def closing_words(marks: BarMarks, jump_words: str) -> str:
    """How often, To Coda, Fine, D.C. and D.S., which act at the end of a bar; `jump_words` from `words_of_jump`."""
    # The numbers of a bracket say how often by themselves.
    often = marks.repeat_end > 2 and not marks.endings
    words = _above(f"<words>{marks.repeat_end}x</words>") if often else ""
    if marks.to_coda:
        words += _direction("<words>To Coda</words>", 'tocoda="coda"')
    if marks.fine:
        words += _direction("<words>Fine</words>", 'fine="yes"')
    if marks.jump:
        act = 'dacapo="yes"' if marks.jump is Jump.DA_CAPO else 'dalsegno="segno"'
        words += _direction(f"<words>{escape(jump_words, quote=False)}</words>", act)
    return words


def words_of_jump(bars: Sequence[Bar], index: int) -> str:
    """What stands over the jump at the end of bar `index`: its own words, else "D.C. al Fine" and their like."""
    if bars[index].marks.jump_words:
        return bars[index].marks.jump_words
    words = "D.C." if bars[index].marks.jump is Jump.DA_CAPO else "D.S."
    played_again = [bar.marks for bar in bars[: index + 1]]
    until = bars[index].marks.until
    if until is Until.CODA or (until is None and any(marks.to_coda for marks in played_again)):
        return f"{words} al Coda"
    if until is Until.FINE or (until is None and any(marks.fine for marks in played_again)):
        return f"{words} al Fine"
    return words


def _numbers(marks: BarMarks) -> str:
    return ",".join(str(number) for number in marks.endings)


def _barline(location: str, style: str, ending: str, repeat: str) -> str:
    inside = style + ending + repeat
    return f'<barline location="{location}">{inside}</barline>' if inside else ""


def _direction(sign: str, sound: str) -> str:
    return _above(sign, f"<sound {sound}/>")


def _above(sign: str, sound: str = "") -> str:
    return f'<direction placement="above"><direction-type>{sign}</direction-type>{sound}</direction>'
