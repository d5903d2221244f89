"""What an export says of itself is read with caps, and what goes wrong is one sentence."""

import subprocess
import sys
import zipfile
import zlib

import msgspec
import pytest

from game.errors import LogError
from game.practice_log.foreign.export_contents import MAX_MEMBERS, export_contents, export_faults, on_one_line
from game.text.catalogue import catalogue_in
from tests.refusing import refusal

OURS = b'{"format": "homefret practice export"}'
FAULTS = [OSError("gone"), EOFError(), zipfile.BadZipFile("bad"), zlib.error("x"), ValueError("x")]


def _made(path, members):
    with zipfile.ZipFile(path, "w") as made:
        for name, content in members:
            made.writestr(name, content)
    return zipfile.ZipFile(path)


@pytest.mark.parametrize(
    ("members", "words"),
    [
        ([("letter.txt", b"hello")], "no export"),
        ([("contents.json", b'{"format": "diary"}')], "diary"),
        ([("contents.json", b" " * 1_000_001)], "a.zip"),
        ([("contents.json", OURS), *((str(at), b"") for at in range(MAX_MEMBERS))], "a.zip"),
    ],
)
def test_what_is_no_export_is_refused(tmp_path, members, words):
    with _made(tmp_path / "a.zip", members) as archive, refusal(LogError, words):
        export_contents(archive, "a.zip")


def test_contents_are_read_as_they_are_and_stand_on_one_line(tmp_path):
    with _made(tmp_path / "a.zip", [("contents.json", OURS)]) as archive:
        assert export_contents(archive, "a.zip") == OURS
    assert bytes(on_one_line(b'{\n "a":\n [1,\n 2]}')) == b'{"a":[1,2]}'
    with pytest.raises(msgspec.MsgspecError):
        on_one_line(b"{")


@pytest.mark.parametrize("fault", FAULTS)
def test_whatever_goes_wrong_in_reading_is_one_sentence_of_ours(tmp_path, fault):
    with refusal(LogError, "a.zip"), export_faults(tmp_path / "a.zip"):
        raise fault


def test_a_zip_with_a_fault_in_it_is_told_apart_from_what_is_none(tmp_path):
    """A byte that a bad stick turned, a page of words that was named a zip: in German as well."""
    with _made(tmp_path / "a.zip", [("contents.json", OURS)]):
        pass
    whole = (tmp_path / "a.zip").read_bytes()
    told = []
    for content in (whole.replace(OURS, OURS[:-2] + b"!}"), b"<html>please sign in</html>"):
        (tmp_path / "a.zip").write_bytes(content)
        with pytest.raises(LogError) as caught, export_faults(tmp_path / "a.zip"):
            zipfile.ZipFile(tmp_path / "a.zip").read("contents.json")
        told.append(catalogue_in("de").tell(caught.value.message))
    assert told == [
        f"a.zip lässt sich nicht lesen ({reason}): bitte noch einmal darum"
        for reason in ("die Zip-Datei ist beschädigt", "das ist keine Zip-Datei")
    ]


def test_reading_an_export_of_today_loads_no_more_of_the_game_than_it_needs():
    """A child is started for each file: what it loads, it loads for every student."""
    code = (
        "import sys, game.practice_log.foreign.limited_child, game.practice_log.foreign.documents_of_file; "
        "print(sum(name.startswith('game.') for name in sys.modules), 'game.music.score' in sys.modules)"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert int(told[0]) <= 25
    assert told[1] == "False"
