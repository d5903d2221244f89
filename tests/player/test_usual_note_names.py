"""Notes are called as usual in the language that is spoken until a player chooses."""

import pytest

from game.music.names import NoteNames
from game.player.settings import Settings
from game.player.settings_file import load, load_or_defaults, save
from game.player.usual_note_names import usual_note_names
from game.text.language import PSEUDO, languages


@pytest.fixture
def system_speaks(monkeypatch):
    """Say which language the system has."""

    def speaks(language):
        monkeypatch.setenv("HOMEFRET_LANGUAGE", "")
        monkeypatch.setenv("LC_ALL", language)

    return speaks


def test_every_language_has_names_and_german_has_h(monkeypatch):
    monkeypatch.delenv("HOMEFRET_LANGUAGE")
    assert {language: usual_note_names(language) for language in languages()} == {
        "de": NoteNames.GERMAN,
        "en": NoteNames.ENGLISH,
    }
    assert usual_note_names(PSEUDO) is NoteNames.ENGLISH


def test_who_chose_nothing_has_the_names_of_the_language_and_who_chose_keeps_them(tmp_path, system_speaks):
    system_speaks("de_DE.UTF-8")
    there, chosen, broken = (tmp_path / f"{name}.json" for name in ("there", "chosen", "broken"))
    there.write_text('{"look": "night"}', encoding="utf-8")
    save(Settings(), chosen)
    broken.write_text("{", encoding="utf-8")
    assert load(tmp_path / "none.json").settings.note_names is NoteNames.GERMAN
    assert load(there).settings == Settings(look=load(there).settings.look, note_names=NoteNames.GERMAN)
    assert load(chosen).settings.note_names is NoteNames.ENGLISH
    assert load_or_defaults(broken).settings.note_names is NoteNames.GERMAN


def test_the_language_of_the_settings_goes_before_that_of_the_system(tmp_path, system_speaks):
    system_speaks("de_DE.UTF-8")
    (tmp_path / "s.json").write_text('{"language": "en"}', encoding="utf-8")
    assert load(tmp_path / "s.json").settings.note_names is NoteNames.ENGLISH


def test_with_another_language_go_its_names_unless_others_were_chosen(system_speaks):
    system_speaks("en_GB.UTF-8")
    assert Settings().changed("language", "de").note_names is NoteNames.GERMAN
    assert Settings().changed("language", "de").changed("language", "").note_names is NoteNames.ENGLISH
    assert Settings(note_names=NoteNames.SOLFEGE).changed("language", "de").note_names is NoteNames.SOLFEGE


def test_a_new_player_at_a_german_computer_finds_german_names(system_speaks):
    system_speaks("de")
    assert Settings(language="en").for_a_new_player().note_names is NoteNames.GERMAN
