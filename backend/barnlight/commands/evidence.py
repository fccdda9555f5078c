"""Say whether files are what this server published: PDF, one-file copy, photo or recording of a report."""

import argparse
from pathlib import Path

from barnlight.config import Config
from barnlight.errors import BadInput
from barnlight.services import Services


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", type=Path, nargs="+", metavar="FILE")


def run(given: argparse.Namespace, config: Config) -> int:
    """Prints one line a finding; the exit code is 1 if any file is not as published."""
    from barnlight.report.proof import proof

    services, all_same = Services.open(config), True
    with services.database.read() as db:
        for file in given.files:
            try:
                found = proof(db, file.read_bytes())
            except OSError as error:
                raise BadInput(f"{file} cannot be read: {error.strerror}.") from None
            for one in (found["same"] or {"list": []})["list"]:
                newer = f" A newer one exists: {one['newer']}." if one["newer"] else ""
                print(f"{file}: {one['what']} of version {one['version']} of report {one['number']}, as published {one['day']}.{newer}", flush=True)
            if not found["same"]:
                all_same = False
                names = found["names"]
                print(f"{file}: NOT as published." + (f" It names version {names['version']} of report {names['number']}, but it differs from it." if names else ""), flush=True)
    return 0 if all_same else 1
