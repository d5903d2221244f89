"""What every screen is put together from, each drawn once: desk and paper, keys, tabs, corner, slip, ladder."""
