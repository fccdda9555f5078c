"""Load the sample sessions into the store; what is there already stays."""

import argparse
from pathlib import Path

from flask import Flask

from barnlight.config import Config

PACKAGED = Path(__file__).parent.parent / "sample_sessions"
IN_CHECKOUT = Path(__file__).parents[3] / "sample_sessions"


def add_options(parser: argparse.ArgumentParser) -> None:
    del parser


def run(given: argparse.Namespace, config: Config) -> int:
    from barnlight.app import create_app

    load_once(create_app(config))
    return 0


def load_once(app: Flask) -> None:
    """Loads every story, unless this store has had them."""
