"""Faults put into the sync on purpose, one function each: a suite that does not catch them proves nothing."""
