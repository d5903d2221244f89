"""What sounds when by verovio's own account: an outside check of onsets."""

import verovio


def timemap(musicxml):
    """verovio's entries: `qstamp` in quarter notes, `on` the ids that begin."""
    toolkit = verovio.toolkit()
    assert toolkit.loadData(musicxml)
    return toolkit.renderToTimemap()
