"""Barnlight: the server side of a condition inspector for used large-format photographic gear."""

from importlib.metadata import PackageNotFoundError, version

try:
    __version__ = version("barnlight")
except PackageNotFoundError:  # run from the sources, not installed
    __version__ = "0+sources"
