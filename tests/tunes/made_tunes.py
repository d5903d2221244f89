"""Tunes by their number, each another, in the formats that are read."""

from tests.tunes.hand_written import note, score
from tests.tunes.made_midi import midi_bytes, steps

ABC = "X:1\nT:{title}\nM:4/4\nL:1/{unit}\nK:{key}\n{music}\n"
LETTERS = "DEFGABcdef"


def abc(number: int) -> bytes:
    """Another tune for each number, from quarters in steps to eighths in leaps with accidentals."""
    unit = 4 if number % 3 else 8
    row = [LETTERS[(number * 7 + place * (1 + number % 4)) % len(LETTERS)] for place in range(unit * 2)]
    if number % 5 == 0:
        row[1::2] = [f"^{letter}" for letter in row[1::2]]
    return ABC.format(title=f"Tune {number}", unit=unit, key="FGCD"[number % 4], music="".join(row)).encode()


def musicxml(number: int) -> bytes:
    names = [f"{'CDEFGAB'[(number + place * 3) % 7]}{4 + number % 2}" for place in range(4)]
    head = f"<movement-title>Sheet {number}</movement-title>"
    return score("".join(note(name) for name in names), head=head)


def midi(number: int) -> bytes:
    return midi_bytes(steps(*[0.5, 1, 0.5, 2] * 2, first=45 + number % 12), names=[f"Played {number}"])
