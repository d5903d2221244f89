"""A room in which a guitar plays beside the loudspeaker: a process of its own, a client of JACK named `room`.

What it is told to play, a file of mono samples at the server's rate, goes to its output, which programs find as an
input of that name; what the game plays comes in, is wired by itself, and leaks into the same output by so many dB.
Each line on standard input is a JSON object, and each is answered by one:

- {"play": FILE} plays it from now on; with "after_click_s" so long after the first click that was heard since the last
  `play`, to the sample, as people play by what they hear. Answered once all of it was played: `began_s` and `ended_s`,
  the `perf_counter` seconds of its first block and its last, `lasts_s`, for which it should have sounded, and
  `click_peak`, how loud the game was until then, before it leaked. The times are 0 where no click came in a minute.
- {"leak_db": -20} lets the game leak in from now on, null ends that.
- {"heard": true} is answered once somebody listens to the guitar.
"""

import json
import sys
import threading
import time
from contextlib import suppress

import jack
import numpy as np

# The ports of the game's sound, as the plug-in of ALSA names them, end so.
_FROM_GAMES = r".*:out_0.*"
_WIRE_EVERY_S = 0.05
# For a click: whoever hears none does not play.
_WAITS_S = 60.0
# What a click reaches, and no hiss: the game is silent between its sounds.
_CLICK = 0.01


class Room:
    """What sounds in it. The callback of JACK reads what other threads set."""

    def __init__(self) -> None:
        self.client = jack.Client("room", no_start_server=True)
        self._guitar = self.client.outports.register("guitar")
        self._game = self.client.inports.register("game")
        self._leak = 0.0
        self._piece: Piece | None = None
        self._over = threading.Event()
        self._passed = 0  # samples
        self._clicked: int | None = None  # the first click since the last piece began
        self._peak = 0.0
        self.client.set_process_callback(self._process)

    def _process(self, frames: int) -> None:
        game, out = self._game.get_array(), self._guitar.get_array()
        out[:] = self._leak * game
        self._listen(np.abs(game))
        piece = self._piece
        if piece is not None and piece.begins_at(self._clicked) is not None:
            piece.play(out, self._passed, piece.begins_at(self._clicked))
            if piece.is_over:
                self._piece = None
                self._over.set()
        self._passed += frames

    def _listen(self, loud: np.ndarray) -> None:
        self._peak = max(self._peak, float(loud.max()))
        if self._clicked is None and loud.max() > _CLICK:
            self._clicked = self._passed + int(np.argmax(loud > _CLICK))

    def leak(self, decibels: float | None) -> dict[str, float]:
        """Let the game leak in from now on; None for not at all."""
        self._leak = 0.0 if decibels is None else 10 ** (decibels / 20)
        return {"leak": self._leak}

    def play(self, file: str, after_click_s: float | None) -> dict[str, float]:
        """Play a file of samples to its end."""
        samples = np.load(file).astype(np.float32)
        if after_click_s is None:
            self._clicked = None
            piece = Piece(samples, begins=self._passed + self.client.blocksize)
        else:
            piece = Piece(samples, after_click=round(after_click_s * self.client.samplerate))
        self._over.clear()
        self._piece = piece
        self._over.wait(len(samples) / self.client.samplerate + _WAITS_S)
        self._piece = None
        lasts_s = len(samples) / self.client.samplerate
        return {"began_s": piece.began_s, "ended_s": piece.ended_s, "lasts_s": lasts_s, "click_peak": self._peak}

    def wait_for_a_listener(self) -> dict[str, float]:
        """Until a program has opened the guitar's port as its input."""
        while not self.client.get_all_connections(self._guitar):
            time.sleep(_WIRE_EVERY_S)
        return {}

    def wire(self) -> None:
        """Hear every game that comes, for as long as the process lives."""
        while True:
            mine = {port.name for port in self.client.get_all_connections(self._game)}
            for port in self.client.get_ports(_FROM_GAMES, is_audio=True, is_output=True):
                if port.name not in mine:
                    with suppress(jack.JackError):  # it has gone meanwhile
                        self.client.connect(port, self._game)
            time.sleep(_WIRE_EVERY_S)


class Piece:
    """What is played, block by block: from the sample `begins` on, or so many after a click."""

    def __init__(self, samples: np.ndarray, *, begins: int | None = None, after_click: int = 0) -> None:
        self._samples = samples
        self._begins, self._after_click = begins, after_click
        self.began_s = self.ended_s = 0.0
        self.is_over = False

    def begins_at(self, clicked: int | None) -> int | None:
        """The sample with which it begins, None where that is not known yet."""
        if self._begins is None and clicked is not None:
            self._begins = clicked + self._after_click
        return self._begins

    def play(self, out: np.ndarray, passed: int, begins: int) -> None:
        """Add what falls into a block, before which so many samples have passed."""
        at = passed - begins
        if at + len(out) <= 0:
            return
        if not self.began_s:
            self.began_s = time.perf_counter()
        part = self._samples[max(at, 0) : at + len(out)]
        out[max(-at, 0) : max(-at, 0) + len(part)] += part
        self.is_over = at + len(out) >= len(self._samples)
        if self.is_over:
            self.ended_s = time.perf_counter()


def main() -> None:
    room = Room()
    with room.client:
        threading.Thread(target=room.wire, daemon=True).start()
        print("ready", flush=True)
        for line in sys.stdin:
            asked = json.loads(line)
            if "play" in asked:
                answer = room.play(asked["play"], asked.get("after_click_s"))
            elif "heard" in asked:
                answer = room.wait_for_a_listener()
            else:
                answer = room.leak(asked["leak_db"])
            print(json.dumps(answer), flush=True)


if __name__ == "__main__":
    main()
