"""Small MusicXML texts for tests, built from a few words."""

import io
import zipfile

from game.music.written import written_notes, written_out

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
DOCTYPE = (
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">\n'
)
ATTRIBUTES = (
    "<attributes><divisions>4</divisions><key><fifths>0</fifths></key>"
    "<time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>"
)


def note(name: str = "C4", duration: int = 4, extra: str = "", *, before: str = "", value: str = "") -> str:
    """One note; `before` stands before the pitch (grace, cue, chord), `extra` after the duration."""
    step, rest = name[0], name[1:]
    alter = rest.count("#") - rest.count("b")
    sign = f"<alter>{alter}</alter>" if alter else ""
    kind = value or {16: "whole", 8: "half", 4: "quarter", 2: "eighth", 1: "16th"}.get(duration, "")
    return (
        f"<note>{before}<pitch><step>{step}</step>{sign}<octave>{rest.strip('#b')}</octave></pitch>"
        + (f"<duration>{duration}</duration>" if duration else "")
        + (f"<type>{kind}</type>" if kind else "")
        + f"{extra}</note>"
    )


def measure(content: str, number: str = "1") -> str:
    return f'<measure number="{number}">{content}</measure>'


def score(*measures: str, head: str = "", attributes: str = ATTRIBUTES, doctype: str = DOCTYPE) -> bytes:
    """A score of one part; the attributes go into the first bar."""
    first, *others = measures or (note("C4", 16),)
    bars = [measure(attributes + first, "1")]
    bars += [measure(content, str(number)) for number, content in enumerate(others, start=2)]
    return parts(("Melody", "".join(bars)), head=head, doctype=doctype)


def parts(*named: tuple[str, str], head: str = "", doctype: str = DOCTYPE) -> bytes:
    """A score of several parts, each a name and its measures."""
    listed = "".join(
        f'<score-part id="P{n}"><part-name>{name}</part-name></score-part>'
        for n, (name, _) in enumerate(named, start=1)
    )
    bodies = "".join(f'<part id="P{n}">{body}</part>' for n, (_, body) in enumerate(named, start=1))
    text = f'<score-partwise version="4.0">{head}<part-list>{listed}</part-list>{bodies}</score-partwise>'
    return (HEAD + doctype + text).encode()


QUARTERS = "".join(note(name) for name in ("C4", "D4", "E4", "F4"))


def pitch_names(tune):
    return [str(one.pitch) for one in written_notes(tune.bars, tune.reading)]


def barline(content: str, location: str = "right") -> str:
    return f'<barline location="{location}">{content}</barline>'


def words(text: str, sound: str = "") -> str:
    return f"<direction><direction-type><words>{text}</words></direction-type>{sound}</direction>"


def bars_played(tune):
    return "".join(bar.number for bar in written_out(tune).bars)


def zipped(*members: tuple[str, bytes]) -> bytes:
    """An archive of members, each a name and its content."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members:
            archive.writestr(name, content)
    return buffer.getvalue()


CONTAINER = b'<container><rootfiles><rootfile full-path="%s"/></rootfiles></container>'
