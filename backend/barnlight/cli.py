"""The `barnlight` command: reads the command line, hands over to one file of `commands/`, says failures in one sentence."""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from barnlight import __version__
from barnlight.commands import COMMANDS
from barnlight.config import Config
from barnlight.errors import BarnlightError
from barnlight.store.place import finish


def parser() -> argparse.ArgumentParser:
    """The command line with every command; each command file adds its own options."""
    top = argparse.ArgumentParser(prog="barnlight", description="Condition reports for used large-format photographic gear.")
    top.add_argument("--version", action="version", version=f"barnlight {__version__}")
    commands = top.add_subparsers(title="commands", required=True, metavar="COMMAND")
    for name, module in COMMANDS.items():
        about = (module.__doc__ or "").strip().splitlines()[0]
        command = commands.add_parser(name, help=about, description=about)
        command.add_argument("--data", dest="data_dir", type=lambda text: Path(text).expanduser(), metavar="DIR", help="folder of the store")
        module.add_options(command)
        command.set_defaults(run=module.run)
    return top


def main(words: Sequence[str] | None = None) -> int:
    """Runs one command; returns the exit code."""
    given = parser().parse_args(words)
    try:
        config = Config.load(data_dir=given.data_dir, port=getattr(given, "port", None), host=getattr(given, "host", None))
        if finish(config.data_dir):  # before anything is made there
            print(f"A restore into {config.data_dir} was cut off; it is finished now. What was there before lies beside it.", file=sys.stderr)
        return given.run(given, config) or 0
    except BarnlightError as error:
        print(f"barnlight: {error.message} {error.hint or ''}".rstrip(), file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
