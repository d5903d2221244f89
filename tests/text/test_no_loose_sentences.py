"""Every sentence a person reads comes from the text catalogue: in the sources none stands loose."""

from pathlib import Path

import pytest

import game
from tests.text.loose_sentences import Loose, loose_sentences

GAME = Path(game.__file__).parent
ALL = ("*",)

# What may stand in the sources although it reads like a sentence, by file or folder, each with its reason.
ALLOWED: dict[str, tuple[str, ...]] = {
    # Answers for programs and their schemas are English whatever language is spoken.
    "commands/answers/": ALL,
    "commands/make_schemas.py": ALL,
    # The words of argparse by which they are found in the catalogue.
    "commands/argparse_words.py": ALL,
    # Tools of the developers print to developers.
    "text/compile.py": ALL,
    "desk/bake_fonts.py": ALL,
    # Names of programs, systems and formats are the same in every language.
    "commands/parser.py": ("homefret {}",),
    "screens/choosing/file_chooser.py": ("MusicXML, ABC, MIDI",),
    "instrument/ports/find_driver.py": ("Windows MIDI",),
    # A note with the trace of a crash, for whoever mends the program.
    "player/crash_note.py": ALL,
    # Names in files, logs and answers, of which people read a translation: `Level.told`, `Rhythm.told`, `title_told`,
    # `part_told`.
    "lines/levels.py": ALL,
    "lines/rhythms.py": ALL,
    "lines/titles.py": ALL,
    "lines/fresh_line.py": ("A fresh line",),
    "tunes/part_names.py": ("{}, channel {}",),
    # What the log, the settings and exports call things: codes, never read by people.
    "instrument/sources/": ("computer keys", "neck on screen", "simulated player"),
    "instrument/ports/midi_inputs.py": ("port Homefret",),
    "instrument/decoding/device_names.py": ("unnamed device", "midi through"),
    # Names that PortAudio gives to the systems of Windows.
    "instrument/ports/sound_library.py": ("Windows WASAPI", "Windows DirectSound", "unnamed input"),
    "practice_log/database/schema.py": (
        "names given",
        "tunes of takes",
        "entries by device",
        "notes heard unsurely",
        " WHEN OLD.kind <> 'unread'",
    ),
    "practice_log/queries/coach_events.py": ("passage opened",),
    # Statements and the types of columns.
    "practice_log/classes/class_schema.py": ALL,
    "practice_log/classes/class_file.py": (" WITHOUT ROWID",),
    "practice_log/classes/class_projection.py": ("CASE {} {} END", "WHEN '{}' THEN {}"),
    "practice_log/classes/class_writing.py": ("written, sounding, string, fret", " WITHOUT ROWID"),
    "practice_log/school/": ALL,
    "practice_log/queries/summaries.py": ("take sums",),
    "practice_log/queries/take_sightings_sql.py": ALL,
    "report/outlook.py": ("first sight", "time to find"),
    "practice_log/writing/rescue.py": ('{"homefret rescue": 1}', "rescue {}"),
    "practice_log/foreign/limited_child.py": ("salvaged rows",),
    "practice_log/foreign/read_export.py": ("salvaged rows",),
    "practice_log/foreign/salvage.py": ("names given", "notes heard unsurely"),
    "practice_log/documents/document_values.py": ALL,
    "practice_log/transfer/contents.py": ("homefret practice export",),
    # An export says in English what it is, to whoever looks into the file with a text editor.
    "practice_log/transfer/told_contents.py": (
        "What one player practised with Homefret. Open it with: homefret report --from FOLDER",
    ),
    # Musical Italian on the page, as in every country; terms of MusicXML and words that are looked for in files.
    "engraving/bar_signs.py": ("{} al Coda", "{} al Fine"),
    "tunes/abc/abc_tune.py": ("MIDI transpose",),
    "engraving/beams.py": ("backward hook", "forward hook"),
    # The titles of a tune, and of a drill as it stands in logs.
    "music/drill_title.py": ("Single notes, in ",),
    "demo/demonstration.py": ("Ode to Joy",),
    # Caught where it is raised.
    "practice_log/foreign/readable_rows.py": ("a key that is none",),
    "audio/player.py": ("the sound card takes nothing", "the sound card always came between"),
}


@pytest.fixture(scope="module")
def found() -> dict[str, tuple[Loose, ...]]:
    """What stands loose, by the path within `game/`."""
    paths = {path.relative_to(GAME).as_posix(): path for path in sorted(GAME.rglob("*.py"))}
    loose = {name: loose_sentences(path.read_text(encoding="utf-8")) for name, path in paths.items()}
    return {name: sentences for name, sentences in loose.items() if sentences}


def may_stand(name: str, sentence: Loose) -> bool:
    entries = (texts for entry, texts in ALLOWED.items() if name.startswith(entry))
    return any(texts == ALL or sentence.text in texts for texts in entries)


def test_no_sentence_stands_loose_in_the_sources(found):
    """Put it into `content/text/en.po` and ask for it by its key."""
    loose = [
        f"{name}:{sentence.line}: {sentence.text}"
        for name, sentences in found.items()
        for sentence in sentences
        if not may_stand(name, sentence)
    ]
    assert loose == []


@pytest.mark.parametrize("entry", ALLOWED)
def test_nothing_is_allowed_that_is_not_there(found, entry):
    there = {one.text for name, loose in found.items() if name.startswith(entry) for one in loose}
    assert there if ALLOWED[entry] == ALL else set(ALLOWED[entry]) <= there
