"""ABC read by ourselves, sign by sign."""
