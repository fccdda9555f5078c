"""Load the sample sessions into the store; what is there already stays."""

import argparse
from dataclasses import replace
from pathlib import Path

from barnlight.config import Config
from barnlight.services import Services

SPACE_NAME = "Demo"
PACKAGED = Path(__file__).parents[1] / "sample_sessions"
IN_CHECKOUT = Path(__file__).parents[3] / "sample_sessions"


def add_options(parser: argparse.ArgumentParser) -> None:
    del parser


def run(given: argparse.Namespace, config: Config) -> int:
    load(Services.open(replace(config, space_name=SPACE_NAME)))
    return 0


def load(services: Services) -> None:
    """Loads every story that this store has not had."""
