"""One file a command. Each has a first line that says what it does, `add_options(parser)` and `run(given, config) -> exit code`."""

from types import ModuleType

from barnlight.commands import backup, demo, devices, erase, evidence, export, import_, leaks, pair, restore, serve, space, tidy, timing, verify

# Command files import what is heavy inside `run`, so that the command line answers at once.
COMMANDS: dict[str, ModuleType] = {
    "serve": serve, "demo": demo, "pair": pair, "devices": devices, "space": space, "backup": backup, "restore": restore, "export": export,
    "import": import_, "erase": erase, "evidence": evidence, "verify": verify, "tidy": tidy, "timing": timing, "leaks": leaks,
}
