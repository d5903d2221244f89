"""What can go wrong, for the person at the instrument to mend."""

import errno
import os
import sqlite3
import sys

import pytest

from game.errors import (
    _BY_CODE_OF_DATABASE,
    _BY_NUMBER,
    HomefretError,
    MapError,
    SeveralPartsError,
    TuneError,
    reason_of,
)
from game.message import message, verbatim
from game.text.catalogue import catalogue_in, in_english


def test_an_error_carries_a_key_of_the_catalogue_with_its_values():
    assert MapError("map.some_key", name="banjo").message == message("map.some_key", name="banjo")


def test_an_error_may_carry_a_message_as_it_is():
    said = verbatim("no space left")
    assert HomefretError(said).message is said


def test_a_trace_shows_key_and_values_for_words_are_the_catalogues():
    assert str(MapError("map.some_key", name="banjo", frets=3)) == "map.some_key(name='banjo', frets=3)"


def test_a_file_of_several_parts_names_them_and_is_a_fault_of_the_tune():
    with pytest.raises(TuneError) as caught:
        raise SeveralPartsError("tune.several", names=("Flute", "Bass"), count=2)
    assert caught.value.names == ("Flute", "Bass")
    assert caught.value.message == message("tune.several", count=2)


@pytest.mark.skipif(sys.platform != "linux", reason="the words of other systems are others")
def test_reasons_of_the_system_are_called_in_english_as_the_system_calls_them():
    """The system itself (glibc) is what they are held against."""
    told = {number: in_english(reason_of(OSError(number, "something"))) for number in _BY_NUMBER}
    assert told == {number: os.strerror(number) for number in _BY_NUMBER}


def test_no_reason_of_the_system_or_the_database_stays_english_in_german():
    german, english = catalogue_in("de"), catalogue_in("en")
    keys = {*_BY_NUMBER.values(), *_BY_CODE_OF_DATABASE.values()}
    assert [key for key in keys if german.say(key) == english.say(key)] == []


def test_a_reason_of_the_database_is_told_by_its_code_whatever_more_is_known_of_it(tmp_path):
    text = tmp_path / "log.sqlite"
    text.write_text("no database at all" * 100)
    with pytest.raises(sqlite3.DatabaseError) as none:
        sqlite3.connect(text).execute("SELECT 1 FROM sqlite_master")
    with pytest.raises(sqlite3.OperationalError) as away:
        sqlite3.connect(tmp_path / "away" / "log.sqlite")
    moved = sqlite3.OperationalError("attempt to write a readonly database")
    moved.sqlite_errorcode = sqlite3.SQLITE_READONLY_DBMOVED
    told = [in_english(reason_of(error)) for error in (none.value, away.value, moved)]
    assert told == ["file is not a database", "it cannot be opened", "it is read-only"]


def test_an_error_that_nobody_translated_tells_itself_or_else_its_name():
    assert reason_of(ValueError("three ends")) == verbatim("three ends")
    assert reason_of(OSError(errno.EPIPE, "Broken pipe")) == verbatim("Broken pipe")
    assert reason_of(EOFError()) == verbatim("EOFError")


def test_what_windows_says_stays_for_it_speaks_the_language_of_its_user():
    used = PermissionError(errno.EACCES, "Der Prozess kann nicht auf die Datei zugreifen")
    used.winerror = 32
    assert reason_of(used) == verbatim("Der Prozess kann nicht auf die Datei zugreifen")
