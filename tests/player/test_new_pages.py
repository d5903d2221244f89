"""Where the notes of a tune's pages stood before."""

from game.music.former_pages import former_pages
from game.music.passage import passages_of
from game.music.written import written_out
from game.player.new_pages import new_pages
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.library import open_entry, shipped_entries
from tests.made import score
from tests.sampling import sample

# Three of those that came later are cut otherwise than every four bars, too.
CHANGED = ("03-", "20-", "22-", "34-", "42-", "51-", "57-", "65-", "70-", "97-", "101-")


def named(made):
    return [(passage_key(page), page) for page in passages_of(made)]


def test_each_note_of_a_new_page_stood_where_it_is_said_and_nowhere_else():
    for entry in shipped_entries():
        if entry.name.startswith(CHANGED):
            made = written_out(open_entry(entry))
            before = {passage_key(page): page for page in former_pages(made)}
            pages, found = dict(named(made)), new_pages(made, named(made))
            assert found.said, entry.name
            for said in found.said:
                notes = pages[said.is_now].notes
                numbers = sorted(n for one in said.former for n in range(one.first, one.last + 1))
                assert numbers == [note.n for note in notes], entry.name
                sizes = [one.last - one.first for one in said.former]
                assert sizes[0] == max(sizes)
                for one in said.former:
                    old = before[one.name].notes
                    for n in range(one.first, one.last + 1):
                        assert notes[n - 1].pitch == old[n + one.shift - 1].pitch, (entry.name, n)


def test_pages_that_are_as_before_are_not_told_of():
    for entry in sample((one for one in shipped_entries() if not one.name.startswith(CHANGED)), by_default=9):
        made = written_out(open_entry(entry))
        assert new_pages(made, named(made)) == ((), ()), entry.name


def test_of_the_ode_the_page_with_its_tie_is_new_and_the_first_two_are_not():
    made = score(*["C4 q, D4 q, E4 q, F4 q"] * 3, "C4 q, D4 q, G4 q, E4 q ~", "~E4 q, E4 q, F4 q, G4 q", *["C4 w"] * 3)
    pages = named(made)
    assert [(page.start, page.stop) for _, page in pages] == [(0, 3), (3, 8)]
    found = new_pages(made, pages)
    (first, _), (second, _) = ((passage_key(page), page) for page in former_pages(made))
    assert [name for name, _ in found.former] == [first, second]
    long = found.said[1]
    # The tied note was struck on the former page, which began with it: there the next one was the second.
    assert [(one.name, one.first, one.last, one.shift) for one in long.former] == [
        (second, 5, 10, -3),
        (first, 1, 4, 12),
    ]
