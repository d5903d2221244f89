"""The rhythm of the pitches, tapped with the click bar by bar. Pure.

While the click runs the page stands still; when a run has ended its whole bars are written. The bar that was stopped in
is not: it is tapped again.
"""

from dataclasses import replace
from fractions import Fraction

from game.message import Message, message
from game.tunes.entering.draft import Draft, DraftOnset, bar_line_from
from game.tunes.entering.entering import Entering, changed, open_bar, within
from game.tunes.entering.tapped_rhythm import (
    SILENT_BARS,
    Tap,
    TappedOnset,
    TapRun,
    single_taps,
    tapped,
    without_tap,
    written_line,
)


def begun(state: Entering, *, zero_s: float, quarter_s: float) -> Entering:
    """The click runs from the bar at the pencil; one that has a rhythm already is tapped alone."""
    start = state.bar_start
    only_bar = bool(state.draft.onsets) and start < state.draft.settled
    run = TapRun(start=start, zero_s=zero_s, quarter_s=quarter_s, only_bar=only_bar)
    return replace(state, run=run, said=None)


def struck(state: Entering, tap: Tap) -> Entering:
    """A tap while the click runs."""
    return state if state.run is None else replace(state, run=tapped(state.run, tap))


def tap_revised(state: Entering, before: tuple[int, float], after: tuple[int, float] | None) -> Entering:
    """A tap of an instrument turns out to be another note, which is a tap as well, or none."""
    tap = next((tap for tap in state.run.taps if (tap.sounding, tap.at_s) == before), None) if state.run else None
    if state.run is None or tap is None:
        return state
    run = without_tap(state.run, tap)
    if after is not None:
        run = tapped(run, replace(tap, sounding=after[0], at_s=after[1]))
    return replace(state, run=run)


def notes_before(draft: Draft, start: Fraction) -> int:
    """How many notes begin before a bar: as many pitches are spent there."""
    return sum(onset.at < start for onset in draft.onsets)


def pitch_due(state: Entering) -> int:
    """The pitch that the next tap is for, counted from 0; the number of pitches after the last."""
    run = state.run
    if run is None:
        return notes_before(state.draft, state.bar_start)
    struck_so_far = sum(not tap.rest for tap in single_taps(run))
    return min(notes_before(state.draft, run.start) + struck_so_far, len(state.draft.pitches))


def ends_itself(state: Entering, now_s: float) -> bool:
    """Whether the run is over: its one bar, the bar of the last pitch, or bars in which nobody tapped any more."""
    run, draft = state.run, state.draft
    if run is None:
        return False
    now = run.quarters(now_s) - _LATE / run.quarter_s
    length = draft.meter.bar_length
    first_line = bar_line_after(draft, run.start)
    if run.only_bar:
        return now >= first_line
    taps = single_taps(run)
    last = Fraction(run.quarters(taps[-1].at_s)) if taps else run.start
    end = max(bar_line_after(draft, last + length / 32), first_line)
    return now >= (end if pitch_due(state) >= len(draft.pitches) and taps else end + SILENT_BARS * length)


# A tap that is late for the last beat of a bar may come after its bar line; a tap that is early for a bar does not.
_LATE = 0.1


def bar_line_after(draft: Draft, at: Fraction) -> Fraction:
    """The first bar line after a time."""
    return (at // draft.meter.bar_length + 1) * draft.meter.bar_length


def ended(state: Entering, now_s: float) -> Entering:
    """The run has ended, by itself or by the player: its whole bars are written."""
    run, draft = state.run, state.draft
    if run is None:
        return state
    state = replace(state, run=None)
    line = written_line(run, draft.meter, swung=draft.swung)
    until = _whole_bars(draft, run, line.onsets, now_s)
    if until <= run.start:
        return replace(state, said=message("writing.nothing_tapped"))
    inside = [onset for onset in line.onsets if onset.at < until]
    after = _tapped_over(draft, run, inside, until)
    swung = True if line.swing and draft.swung is None else draft.swung
    after = replace(after, swung=swung)
    state = changed(state, after, _told(draft, after, run, line.onsets, until))
    return replace(state, bar=min(after.bar_of(until), open_bar(after)))


def _whole_bars(draft: Draft, run: TapRun, onsets: tuple[TappedOnset, ...], now_s: float) -> Fraction:
    """The bar line up to which the run is written: bars that were left, and no silent ones at the end."""
    if not onsets:
        return run.start
    first = bar_line_after(draft, run.start)
    if run.only_bar:
        return first if run.quarters(now_s) >= first - _LEFT else run.start
    now = Fraction(run.quarters(now_s) + _LEFT)
    left = now // draft.meter.bar_length * draft.meter.bar_length
    spent = notes_before(draft, run.start)
    notes = [onset.at for onset in onsets if not onset.rest][: len(draft.pitches) - spent]
    rests = [onset.at for onset in onsets if onset.rest]
    last = max([*notes[-1:], *rests[-1:]], default=run.start)
    # Who stops behind the last note of all has nothing more to tap.
    all_spent = bool(notes) and len(notes) == len(draft.pitches) - spent
    return bar_line_after(draft, last) if all_spent else min(left, bar_line_after(draft, last))


# A bar has been left when its last sixteenth is nearly over, for who stops at its end.
_LEFT = 0.2


def _tapped_over(draft: Draft, run: TapRun, inside: list[TappedOnset], until: Fraction) -> Draft:
    """The draft with the taps in the place of what was there from the start of the run to `until`."""
    onsets = [_cut(onset, run.start, until) for onset in draft.onsets if onset.at < run.start]
    later = [onset for onset in draft.onsets if onset.at >= until]
    # A rest that began later is now that of whatever sounds last before it.
    later_rest = onsets[-1].rest_at if onsets else None
    later_rest = later_rest if later_rest is not None and later_rest >= until else None
    for tap in inside:
        if onsets and (onsets[-1].rest_at is None or onsets[-1].rest_at >= tap.at):
            onsets[-1] = replace(onsets[-1], rest_at=tap.at if tap.rest else None)
        if not tap.rest:
            onsets.append(DraftOnset(at=tap.at))
    if later_rest is not None and onsets[-1].rest_at is None:
        onsets[-1] = replace(onsets[-1], rest_at=later_rest)
    onsets += later
    return replace(draft, onsets=tuple(onsets[: len(draft.pitches)]), settled=max(draft.settled, until))


def _cut(onset: DraftOnset, start: Fraction, until: Fraction) -> DraftOnset:
    """A note from before the run: a rest that began within what is tapped again is tapped again, too."""
    inside = onset.rest_at is not None and start <= onset.rest_at < until
    return replace(onset, rest_at=None) if inside else onset


def _told(before: Draft, after: Draft, run: TapRun, onsets: tuple[TappedOnset, ...], until: Fraction) -> Message | None:
    """What the page does not show by itself: taps for which there is no pitch, and pitches that moved along."""
    spare = sum(not onset.rest for onset in onsets) - (len(before.pitches) - notes_before(before, run.start))
    if spare > 0 and not run.only_bar:
        return message("writing.taps_left", count=spare)
    by = len(after.onsets) - len(before.onsets)
    if run.only_bar and by and any(onset.at >= until for onset in before.onsets):
        return message("writing.moved_along" if by > 0 else "writing.moved_back", count=abs(by))
    return None


def bar_inserted(state: Entering) -> Entering:
    """An empty bar before the one at the pencil, to be tapped: whoever skipped a bar taps none of the others again."""
    draft, start = state.draft, state.bar_start
    if state.bar < 0 or not draft.onsets or start >= draft.settled:
        return replace(state, said=None)
    return changed(state, _bars_moved(draft, start, start, draft.meter.bar_length))


def bar_removed(state: Entering) -> Entering:
    """The rhythm of the bar at the pencil goes, and the bars after it move up: what was tapped twice."""
    draft, start = state.draft, state.bar_start
    if state.bar < 0 or start >= draft.settled:
        return replace(state, said=None)
    stop = bar_line_after(draft, start)
    onsets = tuple(_ending_before(onset, start, stop) for onset in draft.onsets if not start <= onset.at < stop)
    chords = tuple(chord for chord in draft.chords if not start <= chord.onset < stop)
    signs = tuple((bar, one) for bar, one in draft.signs if bar != state.bar)
    without = replace(draft, onsets=onsets, chords=chords, signs=signs)
    return within(changed(state, _without_empty_rests(_bars_moved(without, start, stop, start - stop))))


def _ending_before(onset: DraftOnset, start: Fraction, stop: Fraction) -> DraftOnset:
    """A note that ends in a bar that goes: it ends where that began."""
    ends_inside = onset.at < start and onset.rest_at is not None and start <= onset.rest_at < stop
    return replace(onset, rest_at=start) if ends_inside else onset


def _without_empty_rests(draft: Draft) -> Draft:
    """No rest begins where the next note does."""
    following = [*(onset.at for onset in draft.onsets[1:]), draft.settled][: len(draft.onsets)]
    onsets = (
        replace(onset, rest_at=None) if onset.rest_at == at else onset
        for onset, at in zip(draft.onsets, following, strict=True)
    )
    return replace(draft, onsets=tuple(onsets))


def _bars_moved(draft: Draft, start: Fraction, first: Fraction, by: Fraction) -> Draft:
    """All from `first` on moved along: onsets, rests, chord symbols, signs. A note held into `start` is held on."""
    onsets = tuple(
        replace(
            onset,
            at=_later(onset.at, first, by),
            rest_at=None if onset.rest_at is None else _later(onset.rest_at, max(first, start + _A_HAIR), by),
        )
        for onset in draft.onsets
    )
    bars = by / draft.meter.bar_length
    return replace(
        draft,
        onsets=onsets,
        chords=tuple(replace(chord, onset=_later(chord.onset, first, by)) for chord in draft.chords),
        signs=tuple((bar + int(bars) if draft.bar_start(bar) >= first else bar, one) for bar, one in draft.signs),
        settled=draft.settled + by,
    )


# A rest that begins on the bar line before which a bar is inserted stays with the note before it.
_A_HAIR = Fraction(1, 1000)


def _later(at: Fraction, first: Fraction, by: Fraction) -> Fraction:
    return at + by if at >= first else at


def last_bar_taken_back(state: Entering) -> Entering:
    """The last bar with a rhythm loses it; a run that goes on is stopped, and nothing of it is written."""
    if state.run is not None:
        return replace(state, run=None, said=None)
    draft = state.draft
    if not draft.onsets or draft.settled <= draft.start:
        return replace(state, said=None)
    start = draft.bar_start(draft.bar_of(bar_line_from(draft, draft.settled) - Fraction(1, 64)))
    onsets = tuple(_cut(onset, start, draft.settled + 1) for onset in draft.onsets if onset.at < start)
    after = replace(draft, onsets=onsets, settled=start)
    return replace(changed(state, after), bar=open_bar(after))
