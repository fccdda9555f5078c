"""Reads the imports of both sides and fails where one layer reaches for another that it may not know."""

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "backend" / "barnlight"
WEBAPP = ROOT / "webapp" / "src"

# Python: layer -> layers of ours it may import beside itself. What is not listed is the app, which may import all.
MAY_IMPORT = {
    "domain": set(),
    "catalogue": set(),
    "media": {"domain"},
    "store": {"domain"},
    "report": {"domain", "store"},
    "sync": {"domain", "store"},
    "exchange": {"domain", "store", "media", "sync"},
    "backup": {"store", "exchange"},
    "api": {"domain", "catalogue", "store", "media", "report", "sync", "exchange"},
}
# App modules that every layer but the pure ones may use, because they import nothing of ours themselves.
COMMON = {"errors", "config"}
# Layers that are handed the opened store as a whole.
WITH_SERVICES = {"api", "exchange", "backup"}
# Packages from outside that belong to one layer.
ONLY_IN = {
    "sqlalchemy": {"store", "sync", "report", "exchange", "api"},
    "alembic": {"store"},
    "flask": {"api", ""},
    "flask_smorest": {"api", ""},
    "weasyprint": {"report"},
    "pystache": {"report"},
    "PIL": {"media", "demo", ""},
    "soundfile": {"media", "demo"},
    "cheroot": {""},
    "cryptography": {""},
}
# What makes a domain impure: clocks, files, randomness, the network, the machine.
IMPURE_MODULES = {
    "os", "io", "sys", "time", "random", "secrets", "uuid", "pathlib", "shutil", "tempfile", "subprocess", "socket", "ssl",
    "urllib", "http", "threading", "multiprocessing", "asyncio", "sqlite3", "logging", "locale", "platform", "glob",
}  # fmt: skip
IMPURE_CALLS = {"now", "utcnow", "today", "open", "input", "print", "exec", "eval", "read_text", "read_bytes", "write_text", "write_bytes"}
DOMAIN_LIBRARIES = {"numpy", "scipy"}

# Web app: folder -> folders it may import beside itself.
WEB_MAY_IMPORT = {
    "domain": {"@catalogue"},
    "device": {"workers"},
    "ui": set(),
    "sw": set(),
    "store": {"domain", "@catalogue"},
    "sync": {"store", "domain", "@catalogue"},
    "workers": {"domain", "@catalogue"},
    "report": {"domain", "@template"},
    "screens": {"store", "domain", "device", "ui", "sync", "workers", "report", "@catalogue"},
}
WEB_IMPURE = re.compile(r"\b(?:Date\.now|new Date\(\)|Math\.random|crypto\.|fetch\(|indexedDB|localStorage|document\.|window\.|navigator\.|performance\.)")
WEB_IMPORT = re.compile(r"""(?:\bfrom\s+|\bimport\s+|\bimport\s*\(\s*|new\s+URL\(\s*)["']([^"']+)["']""")


def imported(tree: ast.AST) -> Iterator[str]:
    """Full dotted names of everything imported, at whatever depth of the file."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports within the package are written in full"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def python_breaches(layer: str, source: str) -> list[str]:
    """What `source`, a file of `layer` ("" is the app), imports or calls that it may not."""
    tree = ast.parse(source)
    found = []
    for name in imported(tree):
        first, *rest = name.split(".")
        if first == "barnlight":
            target = rest[0] if rest else ""
            common = set() if layer in ("domain", "catalogue") else COMMON | ({"services"} if layer in WITH_SERVICES else set())
            if layer in MAY_IMPORT and target not in MAY_IMPORT[layer] | common | {layer, "__version__"}:
                found.append(f"imports {name}")
        elif first in ONLY_IN and layer not in ONLY_IN[first]:
            found.append(f"imports {name}")
        elif layer == "domain" and (first in IMPURE_MODULES or first not in sys.stdlib_module_names | DOMAIN_LIBRARIES):
            found.append(f"imports {name}")
    if layer == "domain":
        for node in ast.walk(tree):
            if isinstance(node, ast.Call):
                called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                if called in IMPURE_CALLS:
                    found.append(f"calls {called}()")
    return found


def web_breaches(layer: str, path: Path, source: str) -> list[str]:
    """What `source`, the file `path` (relative to src) of `layer`, imports or uses that it may not."""
    source = re.sub(r"^\s*//.*$", "", re.sub(r"/\*.*?\*/", "", source, flags=re.DOTALL), flags=re.MULTILINE)
    found = []
    for name in WEB_IMPORT.findall(source):
        if name.startswith("."):
            target = (Path("/src") / path.parent / name).resolve().relative_to("/src").parts[0]
        else:
            target = name.split("/")[0] if name.startswith("@catalogue") else None
        if target and target != layer and target not in WEB_MAY_IMPORT.get(layer, {target}):
            found.append(f"imports {name}")
    if layer == "domain":
        found += [f"uses {match}" for match in WEB_IMPURE.findall(source)]
    if layer != "sync" and layer != "sw" and re.search(r"(?<![.\w])fetch\(", source):
        found.append("calls fetch(), which only sync/server.ts may")
    if layer != "store" and re.search(r"\bindexedDB\b|from\s+[\"']idb[\"']", source):
        found.append("uses IndexedDB, which only store/ may")
    return found


def test_python_layers() -> None:
    breaches = []
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE).parts
        layer = parts[0] if len(parts) > 1 and parts[0] in set(MAY_IMPORT) | {"demo"} else ""
        breaches += [f"{path.relative_to(ROOT)} {what}" for what in python_breaches(layer, path.read_text("utf-8"))]
    assert not breaches, "\n".join(breaches)


def test_web_layers() -> None:
    breaches = []
    for path in sorted([*WEBAPP.rglob("*.ts"), *WEBAPP.rglob("*.tsx")]):
        inside = path.relative_to(WEBAPP)
        if ".test." not in path.name and "testing" not in inside.parts:
            breaches += [f"{path.relative_to(ROOT)} {what}" for what in web_breaches(inside.parts[0], inside, path.read_text("utf-8"))]
    assert not breaches, "\n".join(breaches)


@pytest.mark.parametrize(
    ("layer", "source"),
    [
        ("domain", "from barnlight.store import records"),
        ("domain", "import os.path"),
        ("domain", "import flask"),
        ("domain", "from datetime import datetime\nmoment = datetime.now()"),
        ("domain", "from barnlight.errors import BadInput"),
        ("store", "from barnlight.sync import push"),
        ("report", "def f():\n    from barnlight.api import shares"),
        ("sync", "import flask"),
        ("media", "import sqlalchemy"),
        ("api", "from barnlight.app import create_app"),
    ],
)
def test_a_breach_in_python_is_caught(layer: str, source: str) -> None:
    assert python_breaches(layer, source)


@pytest.mark.parametrize(
    ("path", "source"),
    [
        ("domain/verdict.ts", 'import { openStore } from "../store/store.ts";'),
        ("domain/clock.ts", "export const now = () => Date.now();"),
        ("device/camera.ts", 'import type { Verdict } from "../domain/verdict.ts";'),
        ("domain/clock.ts", "// A purpose in the first line.\nexport const now = () => Date.now();"),
        ("store/store.ts", 'import { call } from "../sync/server.ts";'),
        ("screens/check/check.tsx", 'const answer = await fetch("/api/me");'),
        ("ui/button.tsx", 'import "../screens/check/check.css";'),
        ("sync/engine.ts", 'import { openDB } from "idb";'),
    ],
)
def test_a_breach_in_the_web_app_is_caught(path: str, source: str) -> None:
    assert web_breaches(Path(path).parts[0], Path(path), source)


def test_what_is_allowed_passes() -> None:
    assert python_breaches("domain", "import math\nimport numpy as np\nfrom barnlight.domain import rounding") == []
    assert python_breaches("api", "from barnlight.services import services\nfrom barnlight.store import devices") == []
    assert web_breaches("screens", Path("screens/check/a.tsx"), 'import { verdict } from "../../domain/verdict.ts";\n// fetch( in words') == []
