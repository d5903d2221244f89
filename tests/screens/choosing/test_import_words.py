"""What became of dropped files, in words."""

from dataclasses import replace
from pathlib import Path

import pytest

from game.message import message
from game.screens.choosing.import_words import fault_told, import_told
from game.tunes.library.import_results import (
    ImportDone,
    ImportProgress,
    ImportRefused,
    ImportStarted,
    PartsToChoose,
)
from game.tunes.library.library import shipped_entries

FILE = Path("folder") / "duo.xml"
ENTRY = shipped_entries()[0]
FAULT = message("tune.empty", file="bad.abc")
SEVERAL = message("command.add.none_could_be_read", count=2, fault=FAULT)


@pytest.mark.parametrize(
    ("news", "told"),
    [
        (ImportStarted(FILE), "Reading duo.xml …"),
        (ImportProgress(path=FILE, number=3, count=200), "Reading 3 of 200: duo.xml …"),
        (
            PartsToChoose(FILE, ("Flute", "part 2")),
            "duo.xml has several parts. On the shelf, press the number of the one to read: 1 Flute, 2 part 2.",
        ),
        (ImportDone(entries=(ENTRY,), files=1), f"{ENTRY.title} is on the shelf."),
        (
            ImportDone(entries=(ENTRY, ENTRY), files=3, faults=(FAULT, FAULT)),
            "2 tunes are on the shelf. Not read: 2. bad.abc: is empty; export the tune again.",
        ),
        (
            ImportDone(entries=(ENTRY,), files=1, notes=(message("tune.no_segno"), message("tune.no_coda"))),
            f"{ENTRY.title} is on the shelf. D.S. without a segno: it is not taken.",
        ),
        (ImportRefused((FAULT, SEVERAL)), "bad.abc: is empty; export the tune again."),
        (ImportRefused((SEVERAL,)), "None of 2 files could be read: bad.abc: is empty; export the tune again."),
        (ImportRefused((FAULT,), 3), "bad.abc: is empty; export the tune again. You left 3 files unread."),
        (ImportRefused((), 1), "You left 1 file unread."),
        (
            ImportDone(entries=(ENTRY,), files=5, unread=4),
            f"{ENTRY.title} is on the shelf. You left 4 files unread.",
        ),
        (ImportRefused(), "There is no tune in that folder. Drop one with MusicXML, ABC or MIDI files."),
    ],
)
def test_each_outcome_is_told_in_one_line(news, told):
    assert import_told(news) == told


def test_the_name_of_a_file_keeps_its_letters_and_a_sentence_begins_with_a_capital():
    assert fault_told(message("tune.empty", file="my tune.abc")) == "my tune.abc: is empty; export the tune again."
    assert fault_told(SEVERAL).startswith("None of 2 files could be read: bad.abc")


def test_no_more_parts_are_asked_about_than_there_are_digits():
    asked = PartsToChoose(FILE, tuple(f"P{number}" for number in range(1, 12)))
    assert import_told(asked).endswith("8 P8, 9 P9.")
    assert import_told(replace(asked, names=("A",))).endswith(": 1 A.")
