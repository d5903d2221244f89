"""A process that listens, as far as the test says, in the place of one of the system."""

from collections import deque

from game.instrument.ports.sound_wire import put


class _Frame:
    """What is put into a pipe, without its length."""

    def __init__(self):
        self.content = b""

    def write(self, content):
        self.content = content[4:]

    def flush(self):
        pass


class ProcessByHand:
    """A process that says what the test lets it say."""

    def __init__(self, order, now_s):
        self.orders, self.now_s = [order], now_s
        self.frames, self.heard_s = deque(), now_s()
        self.over = self.killed = False

    def say(self, *news):
        for one in news:
            frame = _Frame()
            put(frame, one)
            self.heard_s = self.now_s()
            self.frames.append((self.heard_s, frame.content))

    def end(self):
        self.over = True
        self.frames.append((self.now_s(), None))

    def tell(self, order):
        self.orders.append(order)

    def stop(self):
        if not self.over:
            self.end()

    def kill(self):
        self.killed = True
        self.end()
