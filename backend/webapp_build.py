"""Builds the web app and knows when that is needed; shared by the package's build hook and the two commands."""

import hashlib
import os
import subprocess
from collections.abc import Iterable, Iterator
from pathlib import Path

STAMP = ".sources"
LOCK_STAMP = ".barnlight_lock"
LEFT_BEHIND = {"node_modules", "__pycache__"}


def files_under(folder: Path) -> Iterator[Path]:
    """Every source file below `folder`, without what tools leave behind."""
    for here, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if name not in LEFT_BEHIND)
        yield from (Path(here) / name for name in sorted(names) if not name.endswith(".pyc"))


def fingerprint(root: Path, paths: Iterable[Path]) -> str:
    """One hash over the names (relative to `root`) and bytes of `paths`; missing ones count as absent."""
    digest = hashlib.sha256()
    for path in paths:
        for file in files_under(path) if path.is_dir() else [path] if path.is_file() else []:
            content = hashlib.sha256(file.read_bytes()).hexdigest()
            digest.update(f"{file.relative_to(root).as_posix()} {content}\n".encode())
    return digest.hexdigest()


def webapp_sources(root: Path) -> list[Path]:
    """What the built web app depends on: its own folder, and the catalogue and the report's template bundled into it."""
    return [root / "webapp", root / "backend" / "barnlight" / "catalogue", root / "backend" / "barnlight" / "report" / "template"]


def install_sources(root: Path) -> list[Path]:
    """What an installed package depends on; the Python files count for nothing, as they are used where they lie."""
    backend = root / "backend"
    return [root / "pyproject.toml", backend / "hatch_build.py", backend / "webapp_build.py", *webapp_sources(root)]


def dist(root: Path) -> Path:
    """Where the built web app lies, inside the Python package."""
    return root / "backend" / "barnlight" / "webapp_dist"


def is_up_to_date(root: Path) -> bool:
    """True when the built web app was made from exactly the sources that are there now."""
    stamp = dist(root) / STAMP
    return stamp.is_file() and stamp.read_text() == fingerprint(root, webapp_sources(root))


def npm(node_wheel: Path, *words: str) -> tuple[list[str], dict[str, str]]:
    """Command and environment that run npm with the Node of the wheel installed at `node_wheel`."""
    windows = os.name == "nt"
    node_folder = node_wheel if windows else node_wheel / "bin"
    modules = node_wheel / ("node_modules" if windows else "lib/node_modules")
    node = node_folder / ("node.exe" if windows else "node")
    path = str(node_folder) + os.pathsep + os.environ.get("PATH", "")
    return [str(node), str(modules / "npm" / "bin" / "npm-cli.js"), *words], {**os.environ, "PATH": path}


def install_modules(root: Path, node_wheel: Path) -> None:
    """`npm ci`, unless the modules there came from this very lock file."""
    webapp = root / "webapp"
    stamp = webapp / "node_modules" / LOCK_STAMP
    wanted = fingerprint(root, [webapp / "package-lock.json"])
    if stamp.is_file() and stamp.read_text() == wanted:
        return
    command, environment = npm(node_wheel, "ci", "--no-audit", "--no-fund")
    subprocess.run(command, cwd=webapp, env=environment, check=True)
    stamp.write_text(wanted)


def build_webapp(root: Path, node_wheel: Path) -> None:
    """Installs the modules, checks the types, bundles, and notes which sources it was made from."""
    sources = fingerprint(root, webapp_sources(root))
    install_modules(root, node_wheel)
    command, environment = npm(node_wheel, "run", "build")
    subprocess.run(command, cwd=root / "webapp", env=environment, check=True)
    (dist(root) / STAMP).write_text(sources)
