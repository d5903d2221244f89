"""Files from elsewhere: read in a child with limits, as plain values, and made into logs of our own."""
