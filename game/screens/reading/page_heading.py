"""The heading of a page: the title, and quiet facts after it, or below it where there is not room for both."""

from game.desk.kit.canvas import Canvas, Style
from game.desk.sheet import Sheet
from game.desk.typography import Face, shortened, text_width
from game.lines.titles import title_told
from game.music.meter import Meter
from game.neck.neck_map import roman
from game.practice.take_request import TakeRequest
from game.screens.reading.bars_in_words import bars_in_words
from game.screens.reading.page_layout import LEFT, TITLE_BASELINE
from game.text.catalogue import say, tell

_TITLE_SIZE, _FACTS_SIZE, _BETWEEN, _LINE = 38.0, 23.0, 20.0, 30.0


def title_of(request: TakeRequest) -> str:
    """What the tune is called; and on which map it is read, where maps are mixed."""
    title = tell(title_told(request.score.title))
    return say("page.title_on_map", title=title, map=request.map_name) if request.map_name else title


def bars_of_request(request: TakeRequest) -> str:
    """Which bars are played: all of a tune, or of a line that was made for this player."""
    if request.passage.whole:
        return say("page.whole_line" if request.fresh else "page.whole")
    return bars_in_words(request.passage)


def facts_of_page(request: TakeRequest, *, with_tempo: bool) -> str:
    """Which bars, what is asked of them and by which clock; `with_tempo` where no ladder tells it."""
    bars = bars_of_request(request)
    position = () if request.map_name else (say("page.position", position=roman(request.neck_map.position)),)
    asked = say(f"page.asked.{request.stage.value}")
    where = (say("page.any_place"),) if request.free_reading else position
    return ", ".join((bars, asked, _clock(request, with_tempo=with_tempo), *where))


def stage_in_words(request: TakeRequest) -> str:
    """What is asked, and by which clock: "places", "time, your own pace", "time, ♩ = 76"."""
    stage = say(f"{request.stage.value}.name")
    if request.tempo_bpm is None:
        return say("time.free", stage=stage) if request.stage.rhythm_counts else stage
    key = "time.one_a_click" if request.one_a_click else "time.click"
    return say(key, stage=stage, beat=beat_in_words(request.passage.bars[0].meter), bpm=request.tempo_bpm)


def beat_in_words(meter: Meter) -> str:
    """What one beat of the tempo is, as a note: "♩", "♩." where three eighths make a beat."""
    beat = meter.beat_length
    dotted = beat.numerator == 3
    plain = beat * 2 / 3 if dotted else beat
    sign = "♪" if plain < 1 else "♩" if plain == 1 else "\U0001d15e"
    return f"{sign}." if dotted else sign


def _clock(request: TakeRequest, *, with_tempo: bool) -> str:
    if request.tempo_bpm is None:
        return say("page.clock.free" if request.stage.rhythm_counts else "page.clock.none")
    if request.one_a_click:
        return say("page.clock.one_a_click", bpm=request.tempo_bpm)
    if not with_tempo:
        return say("page.clock.click")
    return say("page.clock.tempo", beat=beat_in_words(request.passage.bars[0].meter), bpm=request.tempo_bpm)


def needs_two_lines(sheet: Sheet, title: str, facts: str, right: float) -> bool:
    """Whether the facts have no room after the title, which ends at `right` units at the latest."""
    if not facts:
        return False
    width = text_width(title, Face.TITLE, sheet.px(_TITLE_SIZE)) + text_width(facts, Face.ITALIC, sheet.px(_FACTS_SIZE))
    return LEFT + width / sheet.unit + _BETWEEN > right


def draw_page_heading(canvas: Canvas, title: str, facts: str, right: float, *, two_lines: bool) -> None:
    """Draw title and facts from the left margin to `right` units; what is too long is cut."""
    shown = shortened(title, Face.TITLE, canvas.px(_TITLE_SIZE), canvas.px(right - LEFT))
    style = Style(Face.TITLE, _TITLE_SIZE, canvas.theme.ink)
    end = canvas.write(shown, (LEFT, TITLE_BASELINE), style).right / canvas.sheet.unit
    at = (LEFT, TITLE_BASELINE + _LINE) if two_lines else (end + _BETWEEN, TITLE_BASELINE)
    quiet = Style(Face.ITALIC, _FACTS_SIZE, canvas.theme.faded)
    canvas.write(shortened(facts, Face.ITALIC, canvas.px(_FACTS_SIZE), canvas.px(right - at[0])), at, quiet)
