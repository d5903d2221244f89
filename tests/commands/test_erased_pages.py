"""What was written of a student who is erased is found under whatever name a cloud drive gave it, and nothing else."""

from uuid import UUID

import pytest

from game.commands.erased_pages import OURS, with_pages
from game.player.erasing import PlayerFiles
from game.player.written_pages import remember_page
from game.report.page_names import page_name

ADA, BEN = UUID(int=0xADA0), UUID(int=0xBE00)


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "deep").mkdir()
    return tmp_path


def found(folder, *names):
    known = PlayerFiles(
        player=None, ids=frozenset({ADA}), paged=frozenset({ADA}), names=frozenset(names), shared=folder
    )
    return with_pages(known)


def written(folder, name, text):
    (folder / name).write_text(text, encoding="utf-8")
    return folder / name


def test_a_page_of_all_that_does_not_name_them_stays(folder):
    written(folder, "index.html", f'{OURS}"><a href="{page_name(BEN)}">Ben</a>')
    written(folder, "homepage.html", "Zoë Quist")
    assert found(folder, "Zoë Quist").pages == ()


@pytest.mark.parametrize(
    "copy", ["index (1).html", "index-DESKTOP.html", "index.sync-conflict-20261130-101010-AB.html"]
)
def test_copies_that_a_cloud_drive_made_of_the_page_of_all_go_with_it(folder, copy):
    pages = {written(folder, name, f'{OURS}"><a href="{page_name(ADA)}">') for name in ("index.html", copy)}
    written(folder, "index-of-ours.html", f'{OURS}"><a href="{page_name(BEN)}">')
    written(folder, "index of mine.html", "Zoë Quist")
    assert set(found(folder, "Zoë Quist").pages) == pages


def test_copies_of_their_own_page_and_its_tables_go_and_pages_of_others_stay(folder):
    stem = page_name(ADA).removesuffix(".html")
    theirs = {written(folder, f"{stem}{end}", "") for end in (".html", " (1).html", "-days.csv", "-days (1).csv")}
    written(folder, page_name(BEN), "Zoë Quist")
    assert set(found(folder, "Zoë Quist").pages) == theirs


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("week.toml", 'note = "slowly, zoe\u0308 QUIST!"'),
        ("zoe-quist.toml", ""),
        ("deep/Zoë Quist.toml", ""),
        ("zoe-quist.toml.txt", ""),
    ],
)
def test_assignments_that_call_them_by_name_are_told_and_stay(folder, name, text):
    told = written(folder, name, text)
    written(folder, "all.toml", 'title = "Zoë Quistmann plays"')
    left = found(folder, "Zoë Quist")
    assert (left.texts, left.pages) == ((told,), ())


def test_a_copy_of_the_marks_is_told_and_stays_for_it_may_be_a_book_of_ones_own(folder):
    marks = written(folder, "marks.csv", str(ADA))
    copy = written(folder, "marks (1).csv", str(ADA))
    remember_page(folder, folder / "class.sqlite", marks)
    left = found(folder, "Zoë Quist")
    assert (left.texts, left.pages) == ((copy,), (marks,))
