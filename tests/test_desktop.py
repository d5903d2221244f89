"""How a desktop knows the game: its entry, its icon, and the files it opens."""

import configparser
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from game.commands import play_command
from game.paths import shipped

_MIME = "{http://www.freedesktop.org/standards/shared-mime-info}"


@pytest.fixture
def entry():
    parser = configparser.ConfigParser(interpolation=None)
    parser.optionxform = str
    parser.read(shipped("content", "desktop", "homefret.desktop"), encoding="utf-8")
    return parser["Desktop Entry"]


def test_the_entry_has_what_the_specification_wants(entry):
    """Desktop Entry Specification 1.5 (freedesktop.org): Type and Name, for an application Exec; lists end in ";"."""
    assert (entry["Type"], entry["Name"], entry["Exec"]) == ("Application", "Homefret", "homefret %F")
    assert all(entry[name].endswith(";") for name in ("Categories", "Keywords", "MimeType"))
    # Registered categories of the Desktop Menu Specification 1.1; Education is a main one (from memory).
    assert entry["Categories"].split(";")[:-1] == ["Education", "Music"]


def test_every_kind_of_file_it_opens_is_known_to_the_desktop_or_told_to_it(entry):
    """IANA's media types: application/vnd.recordare.musicxml, +xml, text/vnd.abc (from memory); desktops know MIDI."""
    told = ET.parse(shipped("content", "desktop", "homefret-mime.xml")).getroot()
    types = {kind.get("type"): kind.find(f"{_MIME}glob").get("pattern") for kind in told.iter(f"{_MIME}mime-type")}
    assert set(entry["MimeType"].split(";")[:-1]) == {*types, "audio/midi"}
    assert set(types.values()) == {"*.musicxml", "*.mxl", "*.abc"}


def test_the_window_is_the_one_the_entry_speaks_of(entry):
    source = Path(play_command.__file__).read_text(encoding="utf-8")
    assert f'"SDL_VIDEO_X11_WMCLASS", "{entry["StartupWMClass"]}"' in source
