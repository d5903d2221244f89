"""Pure: the short test that says where a new player begins."""
