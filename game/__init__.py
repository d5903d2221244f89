"""Homefret: learn to read music on the guitar, one fixed place on the neck for every written note."""

__version__ = "0.1.0"
