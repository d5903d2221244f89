"""Names become initials in whatever way and script they are written, and stay apart."""

import unicodedata
from uuid import UUID, uuid5

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.text.initials import initials, initials_of_all

SPACE = UUID(int=5)


@pytest.mark.parametrize(
    ("name", "short"),
    [
        ("Anna Lena Berg", "A. L. B."),
        ("  Anna\tBerg ", "A. B."),
        ("anna berg", "A. B."),
        ("ANNA BERG", "A. B."),
        ("Anna", "A."),
        ("Jean-Luc Vidal", "J.-L. V."),
        ("Jean‑Luc Vidal", "J.-L. V."),
        ("jean-luc vidal", "J.-L. V."),
        ("Ludwig van der Berg", "L. v. d. B."),
        ("Ana d'Angelo", "A. d."),
        ("Niamh O'Brien", "N. O."),
        ("Øystein Åse", "Ø. Å."),
        ("Émile Šimić", "É. Š."),
        ("Éva Nagy", "É. N."),
        ("Berg, Anna", "B. A."),
        ("Anna Berg (7b, new)", "A. B."),
        ("anna_berg", "A. B."),
        ("\N{LATIN SMALL LETTER DZ WITH CARON}emo", "\N{LATIN CAPITAL LETTER D WITH SMALL LETTER Z WITH CARON}."),
        ("山田 太郎", "山. 太."),
        ("김민준", "김."),
        ("נועה לוי", "נ. ל."),
        ("ليلى حداد", "ل. ح."),
        ("कीर्ति शर्मा", "की. श."),
        ("เกรียงไกร ใจดี", "ก. จ."),
        ("ნინო ბერიძე", "ნ. ბ."),
        ("Ада Лёва", "А. Л."),
        ("Student 7", "S. 7."),
        ("", ""),
        ("  ", ""),
        ("🎸 !", ""),
    ],
)
def test_a_name_becomes_its_initials(name, short):
    assert initials(name) == unicodedata.normalize("NFC", short)


@given(st.text(max_size=40))
def test_initials_of_initials_are_the_same(name):
    assert initials(initials(name)) == initials(name)


@given(st.text(max_size=40))
def test_of_each_word_no_more_is_left_than_a_letter_with_its_marks(name):
    for word in initials(name).split():
        for part in word.split("-"):
            assert part.endswith(".")
            letters = [letter for letter in part[:-1] if not unicodedata.category(letter).startswith("M")]
            # A ligature that becomes a capital is two letters.
            assert 1 <= len(letters) <= 3


def test_those_of_the_same_initials_are_told_apart_by_digits_of_their_ids():
    names = {1: "Anna Berg", 2: "Arno Bock", 3: "Cem Dal", 4: "", 5: "🎸"}
    ids = {key: uuid5(SPACE, str(key)) for key in names}
    told = initials_of_all(names, ids)
    assert told[3] == "C. D."
    assert told[1] == f"A. B. ({ids[1].hex[-2:]})"
    assert told[2] == f"A. B. ({ids[2].hex[-2:]})"
    assert told[4] == f"({ids[4].hex[-2:]})"
    assert len(set(told.values())) == len(names)


def test_two_whose_ids_end_alike_get_as_many_digits_as_tell_them_apart():
    names = {"x": "Anna Berg", "y": "Arno Bock"}
    ids = {"x": UUID("1" * 29 + "abc"), "y": UUID("1" * 29 + "bbc")}
    assert initials_of_all(names, ids) == {"x": "A. B. (abc)", "y": "A. B. (bbc)"}


def test_who_goes_takes_no_label_of_another_along():
    """Numbers in a row would move up, and a label would be another's from then on."""
    names = dict.fromkeys(range(40), "Anna Berg")
    ids = {key: uuid5(SPACE, str(key)) for key in names}
    before = initials_of_all(names, ids)
    del names[0]
    after = initials_of_all(names, ids)
    assert len(set(after.values())) == len(after)
    for key in names:
        (_, old), (_, new) = before[key].split("("), after[key].split("(")
        assert old.endswith(new)


@pytest.mark.parametrize("how_many", [0, 1])
def test_few_names_are_told_too(how_many):
    names = dict.fromkeys(range(how_many), "Anna Berg")
    assert initials_of_all(names, {key: UUID(int=key) for key in names}) == dict.fromkeys(names, "A. B.")
