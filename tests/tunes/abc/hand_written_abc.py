"""Small ABC tunes for tests, and how what was read of them is told."""

from game.music.written import written_notes, written_out
from tests.tunes.read_here import read_here


def abc(music: str, key: str = "C", meter: str = "4/4", unit: str = "1/4", more: str = "") -> bytes:
    """A tune of one line."""
    length = f"L:{unit}\n" if unit else ""
    return f"X:1\nT:Ford\nM:{meter}\n{length}{more}K:{key}\n{music}\n".encode()


def abc_score(music: str, **header: str):
    return read_here(abc(music, **header), name="tune.abc")


def row(score) -> str:
    """The page as a row: pitch and length of each note, bars apart; graces in braces, rests as z."""
    bars = []
    for bar in score.bars:
        signs = []
        for event in bar.events:
            if not hasattr(event, "pitch"):
                signs.append(f"z{event.length}")
            elif event.grace:
                signs.append(f"{{{event.pitch}}}")
            else:
                signs.append(f"{event.pitch}:{event.length}" + ("~" if event.tied_to_next else ""))
        bars.append(" ".join(signs))
    return " | ".join(bars)


def letters_played(score) -> str:
    """The letters of what is played, repeats written out."""
    return "".join(note.pitch.step for note in written_notes(written_out(score).bars, score.reading))
