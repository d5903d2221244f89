"""Tune files that nobody of good will would hand over, each by what it is after: time, memory, or a reader that falls
over.
"""

import io
import struct
import zipfile
from collections.abc import Callable, Iterator
from itertools import islice

from tests.tunes.hand_written import CONTAINER, note, parts, score, zipped

QUARTERS = "".join(note(name) for name in ("C4", "D4", "E4", "F4"))
HARMONY = "<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>"
ABC = b"X:1\nT:T\nM:4/4\nL:1/4\nK:C\n"


def primes() -> Iterator[int]:
    """The primes from 900,001 on: as divisions they have nothing in common."""
    number = 900_001
    while True:
        if all(number % by for by in range(2, int(number**0.5) + 1)):
            yield number
        number += 2


def divided(divisions: float, *, duration: int = 1) -> str:
    return f"<attributes><divisions>{divisions}</divisions></attributes>{note('C4', duration)}"


def prime_divisions_in_a_bar() -> bytes:
    """Each note counts in another prime: where it stands is a fraction with hundreds of figures."""
    found = primes()
    return score("".join(divided(next(found), duration=700_001) for _ in range(200)))


def prime_divisions_in_bars() -> bytes:
    found = primes()
    return score(*[divided(next(found), duration=700_001) for _ in range(300)])


def decimal_divisions() -> bytes:
    found = primes()
    return score("".join(divided(next(found) / 10**6).replace(">1<", ">0.7001<") for _ in range(200)))


def million_elements(inside: str) -> bytes:
    """Small once it is packed."""
    text = score(QUARTERS).decode()
    return zipped(("tune.xml", text.replace("</score-partwise>", inside + "</score-partwise>").encode()))


def long_attribute(name: str) -> bytes:
    """19 MB in one value."""
    return zipped(("tune.xml", score(QUARTERS).replace(b'number="1"', f'number="{name}"'.encode(), 1)))


def long_title(letters: bytes) -> bytes:
    return zipped(("tune.xml", score(QUARTERS, head="<movement-title>@</movement-title>").replace(b"@", letters)))


def many_attributes() -> bytes:
    names = " ".join(f'a{number}="{number}"' for number in range(1_000_000))
    return zipped(("tune.xml", score(QUARTERS).replace(b"<measure ", f"<measure {names} ".encode(), 1)))


def many_members(count: int) -> bytes:
    """As many as a directory without zip64 can hold; each of no bytes (APPNOTE.TXT 4.4.22)."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("a.xml", b"")
    base = out.getvalue()
    start = base.index(b"PK\x01\x02")
    entry = base[start : base.index(b"PK\x05\x06")]
    size = len(entry) * count
    return base[:start] + entry * count + struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, count, count, size, start, 0)


def changed_bit(content: bytes, local: int, central: int, value: bytes) -> bytes:
    """An archive with something else in both headers of its last member."""
    changed = bytearray(content)
    at, directory = changed.rindex(b"PK\x03\x04"), changed.rindex(b"PK\x01\x02")
    changed[at + local : at + local + len(value)] = value
    changed[directory + central : directory + central + len(value)] = value
    return bytes(changed)


def damaged_bytes() -> bytes:
    """The packed bytes are others: the unpacker stumbles."""
    content = zipped(("tune.xml", score(QUARTERS)))
    at = content.index(b"tune.xml") + 12
    return content[:at] + bytes(byte ^ 0xFF for byte in content[at : at + 40]) + content[at + 40 :]


def bomb(byte: bytes, size: int) -> bytes:
    return zipped(("META-INF/container.xml", CONTAINER % b"tune.xml"), ("tune.xml", byte * size))


def bomb_in_container() -> bytes:
    return zipped(("META-INF/container.xml", b" " * 30_000_000), ("tune.xml", score(QUARTERS)))


def number_of_bytes(length: int) -> bytes:
    """A variable-length number of so many bytes where four are the most there are (Standard MIDI File 1.1)."""
    event = b"\xff" * (length - 1) + b"\x00" + b"\x90\x40\x40"
    track = b"\x00\x90\x3c\x40\x60\x80\x3c\x40" + event + b"\x00\xff\x2f\x00"
    return b"MThd\x00\x00\x00\x06\x00\x00\x00\x01\x00\x60MTrk" + len(track).to_bytes(4, "big") + track


def midi_track(track: bytes, division: bytes = b"\x00\x60", said: int | None = None) -> bytes:
    length = len(track) if said is None else said
    return b"MThd\x00\x00\x00\x06\x00\x00\x00\x01" + division + b"MTrk" + length.to_bytes(4, "big") + track


NOTE = b"\x00\x90\x3c\x40\x60\x80\x3c\x40"
END = b"\x00\xff\x2f\x00"

HOSTILE_TUNES: dict[str, Callable[[], bytes]] = {
    "prime divisions in a bar": prime_divisions_in_a_bar,
    "prime divisions in bars": prime_divisions_in_bars,
    "divisions of many decimals": decimal_divisions,
    "a million empty elements": lambda: million_elements("<a/>" * 999_000),
    "a million empty elements with a namespace": lambda: million_elements('<x xmlns="y">' + "<a/>" * 999_000 + "</x>"),
    "credits without end": lambda: million_elements("<credit><credit-words/></credit>" * 400_000),
    "harmonies without end": lambda: zipped(("tune.xml", score(QUARTERS + HARMONY * 150_000))),
    "directions without end": lambda: zipped(
        (
            "tune.xml",
            score("<direction><direction-type><words>N.C.</words></direction-type></direction>" * 60_000 + QUARTERS),
        )
    ),
    "endings without end": lambda: zipped(
        ("tune.xml", score('<barline><ending number="1" type="start"/></barline>' * 300_000 + QUARTERS))
    ),
    "a hundred thousand parts": lambda: zipped(("tune.xml", parts(*[("M", "")] * 100_000))),
    "an attribute of 19 MB": lambda: long_attribute("1" * 19_000_000),
    "an attribute of 19 MB of signs nobody sees": lambda: long_attribute("&#x200B;" * 2_300_000),
    "a title of 19 MB": lambda: long_title(b"x" * 19_000_000),
    "a title of spaces": lambda: long_title(b" " * 19_000_000 + b"x"),
    "a million attributes": many_attributes,
    "deep nesting": lambda: b"<score-partwise>" + b"<a>" * 1_600_000,
    "deep nesting to its end": lambda: (
        b"<score-partwise>" + b"<a>" * 700_000 + b"</a>" * 700_000 + b"</score-partwise>"
    ),
    "a bar of 2,500 quarters": lambda: score(note("C4", 1) * 9_999),
    "10,000 notes in a bar": lambda: score(
        "<attributes><divisions>64</divisions></attributes>" + (note("C4", 1) + note("D4", 1)) * 4_999
    ),
    "10,000 chords": lambda: score(*[note("C4", 16) + note("E4", 16, before="<chord/>") * 9] * 999),
    "60,000 graces": lambda: score(note("C4", 0, before="<grace/>") * 9_990 + QUARTERS),
    "1,000 bars with chords": lambda: score(*[(HARMONY + note("C4")) * 9 for _ in range(999)]),
    "a bomb": lambda: bomb(b" ", 400_000_000),
    "a bomb of elements": lambda: bomb(b"<a>", 100_000_000),
    "a bomb in the container": bomb_in_container,
    "65,000 members": lambda: many_members(65_000),
    "an encrypted archive": lambda: changed_bit(zipped(("tune.xml", score(QUARTERS))), 6, 8, b"\x01"),
    "an archive packed otherwise": lambda: changed_bit(zipped(("tune.xml", score(QUARTERS))), 8, 10, b"\x63"),
    "an archive with damaged bytes": damaged_bytes,
    "an archive of an archive": lambda: zipped(("tune.xml", zipped(("tune.xml", score(QUARTERS))))),
    "a book of 20,000 tunes": lambda: (ABC + b"C4|\n\n") * 20_000,
    "a tune of 1 MB": lambda: ABC + b"C4|" * 330_000,
    "chord symbols without end": lambda: ABC + b'"C"' * 300_000 + b"C4|",
    "fields without end": lambda: ABC + b"N:x\n" * 240_000 + b"C4|",
    "a title of 1 MB": lambda: b"X:1\nT:" + b"x" * 900_000 + b"\nM:4/4\nL:1/4\nK:C\nC4|",
    "lengths of primes": lambda: ABC + b"".join(b"C1/%d " % prime for prime in islice(primes(), 900)) + b"|",
    "a number without end": lambda: number_of_bytes(900_000),
    "a number just short of the guard": lambda: number_of_bytes(4_000),
    "numbers just short of the guard": lambda: midi_track(NOTE + (b"\xff" * 4_000 + b"\x00\x90\x40\x40") * 240 + END),
    "numbers of five bytes": lambda: midi_track(NOTE + b"\xff\xff\xff\xff\x7f\x90\x40\x40" * 10 + END),
    "a track that says it is 4 GB": lambda: midi_track(NOTE + END, said=0xFFFF_FFFF),
    "a message that says it is 256 MB": lambda: midi_track(NOTE + b"\x00\xff\x01\xff\xff\xff\x7f" + END),
    "a metre each tick": lambda: midi_track(NOTE + b"\x01\xff\x58\x04\x03\x02\x18\x08" * 90_000 + END),
    "a metre of 2 to the 255": lambda: midi_track(b"\x00\xff\x58\x04\x04\xff\x18\x08" + NOTE + END),
    "a tempo of nothing": lambda: midi_track(b"\x00\xff\x51\x03\x00\x00\x00" + NOTE + END),
    "a tick as long as the tune": lambda: midi_track(NOTE + END, b"\x00\x01"),
    "10,000 notes at once": lambda: midi_track(b"".join(b"\x00\x90\x3c\x40" for _ in range(9_999)) + END),
    "notes of 200,000 bars": lambda: midi_track(b"\x8f\xff\xff\x7f\x90\x3c\x40\x60\x80\x3c\x40" + END, b"\x00\x01"),
}
"""What it is, and who makes it."""
