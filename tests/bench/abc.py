"""ABC against abc2midi: `python -m tests.bench.abc [--tunes N]`, 200 tunes unless told.

A fixed sample over the collections music21 installs; Debian package abcmidi. Played notes with repeats (pitch, onset,
length) are to be equal in at least 97 %, and each difference has its name in `tests/tunes/by_abc2midi.py`.
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

from tests.tunes.by_abc2midi import EXPLAINED, corpus_tunes, ours, outcome, sample

TARGET = 0.97


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--tunes", type=int, default=200, help="0 for all of them, some minutes")
    count = parser.parse_args().tunes
    tunes = sample(corpus_tunes(), count) if count else corpus_tunes()
    results: dict[str, list[str]] = {}
    with tempfile.TemporaryDirectory() as folder:
        for name, text in tunes:
            results.setdefault(outcome(text, Path(folder)), []).append(name)
    begun = time.perf_counter()
    for _, text in tunes:
        ours(text)
    each_ms = (time.perf_counter() - begun) * 1000 / len(tunes)
    equal = sum(len(names) for result, names in results.items() if result.startswith("equal"))
    for result, names in sorted(results.items()):
        print(f"{len(names):5} {result}")
        if not result.startswith("equal"):
            for name in names if len(tunes) <= 1_000 else ():
                print(f"        {name}: {EXPLAINED.get(name, 'NOT EXPLAINED')}")
    print(f"{equal} of {len(tunes)} equal, {equal / len(tunes):.1%} (target {TARGET:.0%})")
    print(f"{each_ms:.1f} ms a tune to read it and write its repeats out")
    return 0 if equal >= TARGET * len(tunes) else 1


if __name__ == "__main__":
    sys.exit(main())
