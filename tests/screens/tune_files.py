"""Files with tunes, to be dropped on the window."""

from pathlib import Path

_MUSICXML = """<?xml version="1.0"?><score-partwise version="4.0"><work><work-title>{title}</work-title></work>
<part-list>{list}</part-list>{parts}</score-partwise>"""
_PART = """<part id="{id}"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats>
<beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes><note><pitch><step>G</step>
<octave>4</octave></pitch><duration>4</duration><type>whole</type></note></measure></part>"""
_ABC = "X:1\nT:{title}\nM:4/4\nL:1/4\nK:F\n{music}\n"


def tune_file(folder: Path, *parts: str, title: str = "The Weir") -> Path:
    """A MusicXML file of a bar, with so many parts."""
    listed = "".join(f'<score-part id="P{i}"><part-name>{n}</part-name></score-part>' for i, n in enumerate(parts))
    music = "".join(_PART.format(id=f"P{i}") for i in range(len(parts)))
    path = folder / "dropped.musicxml"
    path.write_text(_MUSICXML.format(title=title, list=listed, parts=music), encoding="utf-8")
    return path


def tune_folder(folder: Path) -> Path:
    """A folder with three tunes in ABC: Zeal is the easiest to read, Quay the most chromatic."""
    tunes = folder / "mine"
    tunes.mkdir()
    for title, music in (("Zeal", "F2G2|A4|"), ("Quay", "F^GA_d|^ce=g_b|"), ("Rill", "FAce|fcAF|")):
        (tunes / f"{title}.abc").write_text(_ABC.format(title=title, music=music))
    return tunes
