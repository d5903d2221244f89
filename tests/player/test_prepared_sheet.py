"""What is prepared for the next start is shown as it was made, or not at all."""

from datetime import date, timedelta

import msgspec
import pytest

from game.player.prepared_sheet import read_prepared, write_prepared
from game.player.settings import Settings

DAY = date(2026, 11, 24)


class Page(msgspec.Struct, frozen=True):
    """Something to be shown."""

    words: tuple[str, ...]
    lines: int


PAGES = {DAY: Page(("Warm up",), 5), DAY + timedelta(days=1): Page(("E♭", "B"), 2)}


@pytest.fixture
def kept(tmp_path):
    write_prepared(tmp_path, PAGES, Settings(), "en")
    return tmp_path


def read(folder, day=DAY, settings=None, language="en", kind=Page):
    return read_prepared(folder, day, kind, settings or Settings(), language)


def test_each_day_has_its_own_page(kept):
    assert [read(kept, day) for day in PAGES] == [(page, True) for page in PAGES.values()]


def test_for_a_day_without_one_there_is_the_newest_and_it_is_said_so(kept):
    assert read(kept, DAY + timedelta(days=30)) == (PAGES[DAY + timedelta(days=1)], False)


def test_other_settings_or_another_language_make_it_nothing(kept):
    assert read(kept, settings=Settings(position=7)) is None
    assert read(kept, language="de") is None


@pytest.mark.parametrize("content", [b"", b"\x00" * 200, b"\x93\x01\x02\x03", b"[" * 100_000])
def test_whatever_lies_there_a_start_is_not_stopped_by_it(kept, content):
    (kept / "today.prepared").write_bytes(content)
    assert read(kept) is None


def test_a_page_of_another_structure_is_left_unread(kept):
    class Other(msgspec.Struct):
        words: int

    assert read(kept, kind=Other) is None


def test_a_folder_that_cannot_be_written_changes_nothing(tmp_path):
    write_prepared(tmp_path / "gone", PAGES, Settings(), "en")
    assert read(tmp_path / "gone") is None


def test_no_unfinished_file_is_left_behind(kept):
    assert [path.name for path in kept.iterdir()] == ["today.prepared"]
