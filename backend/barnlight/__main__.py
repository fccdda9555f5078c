"""Lets `python -m barnlight` do what the `barnlight` command does."""

import sys

from barnlight.cli import main

sys.exit(main())
