"""The options by which a command is told of HTTPS, and the settings they make."""

from __future__ import annotations

import argparse
from dataclasses import replace

from barnlight.config import Config
from barnlight.errors import ConfigError
from barnlight.tls.names import Names


def add_https_options(parser: argparse.ArgumentParser) -> None:
    """--https and --name, alike for every command that has to know the secure address."""
    parser.add_argument("--https", action="store_true", help="HTTPS with a certificate authority of this computer, for phones in the house")
    parser.add_argument(
        "--name", action="append", default=[], metavar="HOST",
        help="with --https: a name or home address by which phones find this computer (may be given again; the first is the one to open)",
    )  # fmt: skip


def with_https_options(given: argparse.Namespace, config: Config) -> Config:
    """The settings with what the command line says of HTTPS. Raises ConfigError."""
    if given.name and not (given.https or config.https):
        raise ConfigError("--name belongs to --https.", field="name", hint="Add --https, or leave --name out.")
    if not (given.https or config.https):
        return config
    # Phones are other computers: unless told otherwise, every address of this one answers.
    host = "" if config.host == Config.host and getattr(given, "host", None) is None else config.host
    return replace(config, https=True, host=host, https_names=",".join(given.name) or config.https_names)


def secure_config(config: Config, names: Names) -> Config:
    """The same settings, with the secure address by which phones reach this server."""
    return replace(config, public_url=config.public_url or f"https://{names.first}:{config.port}")
