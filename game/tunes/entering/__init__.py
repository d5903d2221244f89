"""A tune entered with the instrument in hand: pitches, then rhythm, then corrections. Pure but for its file."""
