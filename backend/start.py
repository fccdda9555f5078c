"""Starts Barnlight with nothing but Python 3.11: installs it once, loads the demo once, serves, shows the address."""

import sys

if sys.version_info < (3, 11):
    sys.exit("Barnlight needs Python 3.11 or newer; this is %d.%d. Install a newer one and run it as: python3.11 backend/start.py" % sys.version_info[:2])

import argparse
import errno
import os
import signal
import socket
import ssl
import subprocess
import time
import urllib.error
import urllib.request
import webbrowser
from pathlib import Path

from setup_steps import Steps, Stop, clean_environment, ensure_installed, venv_python
from webapp_build import fingerprint, install_sources

ROOT = Path(__file__).resolve().parent.parent
STATE = ROOT / ".barnlight"
DEFAULT_PORT = 8787
READY_WITHIN_S = 120


def options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Install once, then serve Barnlight on this computer.")
    parser.add_argument("--own", action="store_true", help="an empty store for real use, in ~/Barnlight, instead of the demo")
    parser.add_argument("--data", type=Path, metavar="DIR", help="an empty store for real use in this folder")
    parser.add_argument("--port", type=int, default=DEFAULT_PORT, metavar="N", help=f"port to serve on (default {DEFAULT_PORT})")
    parser.add_argument("--https", action="store_true", help="HTTPS with a certificate made here, for phones in the house")
    parser.add_argument("--name", action="append", default=[], metavar="HOST", help="with --https: a name or home address of this computer")
    parser.add_argument("--no-open", action="store_true", help="print the address, open no browser")
    return parser.parse_args()


def check_port(port: int) -> None:
    """Fails early, before minutes of installing, when the port is taken."""
    if not 1 <= port <= 65535:
        raise Stop(f"A port is a number from 1 to 65535, not {port}.")
    with socket.socket() as probe:
        if os.name != "nt":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except PermissionError:
            raise Stop(f"Port {port} is reserved for the system: choose one above 1023 with --port.") from None
        except OSError:
            raise Stop(f"Port {port} is in use, perhaps by a Barnlight that runs already at http://localhost:{port}: stop that, or add --port {port + 1}.") from None


def install(steps: Steps) -> None:
    if ensure_installed(steps, ROOT, STATE / "venv", fingerprint(ROOT, install_sources(ROOT))):
        steps.say(f"   installed in {time.monotonic() - steps.begun:.0f} s; the next start skips this")


def wait_until_ready(server: subprocess.Popen, port: int, authority: Path | None) -> None:
    """Returns when /healthz answers 200; over TLS by the authority in that file, which the server makes, if one is named."""
    deadline = time.monotonic() + READY_WITHIN_S
    while time.monotonic() < deadline:
        if server.poll() is not None:
            raise Stop("The server stopped before it was ready; its own words are above.")
        try:
            context = ssl.create_default_context(cafile=str(authority)) if authority else None
            with urllib.request.urlopen(f"{'https' if authority else 'http'}://127.0.0.1:{port}/healthz", timeout=5, context=context) as answer:
                if answer.status == 200:
                    return
        except (urllib.error.URLError, OSError):
            time.sleep(0.05)
    raise Stop(f"The server did not become ready within {READY_WITHIN_S} s; its own words are above.")


def open_browser(address: str) -> None:
    """Opens the person's browser where there is a screen to show it on."""
    if sys.platform in ("darwin", "win32") or os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"):
        webbrowser.open(address)


def serve(steps: Steps, given: argparse.Namespace) -> int:
    own = given.own or given.data
    data = given.data or (Path.home() / "Barnlight" if own else STATE / "demo")
    data = data.expanduser().resolve()
    command = [venv_python(STATE / "venv"), "-m", "barnlight", "serve", "--data", data, "--port", given.port]
    command += ([] if own else ["--demo"]) + (["--https"] if given.https else []) + [word for name in given.name for word in ("--name", name)]
    server = subprocess.Popen([str(word) for word in command], cwd=ROOT, env=clean_environment())
    signal.signal(signal.SIGTERM, lambda *_: server.terminate())
    try:
        wait_until_ready(server, given.port, data / "tls" / "authority.pem" if given.https else None)
        steps.say(f"Ready after {time.monotonic() - steps.begun:.1f} s. Stop with Ctrl-C.")
        if not own:
            steps.say("This is the demo, kept apart. For real use: python3 backend/start.py --own")
        if not given.no_open and not given.https:  # there the terminal says how to go on, on which device
            open_browser(f"http://localhost:{given.port}")
        return server.wait()
    except KeyboardInterrupt:
        # The terminal sent the same Ctrl-C to the server: it closes by itself.
        server.wait()
        print("\nStopped. Everything is kept.")
        return 0
    finally:
        if server.poll() is None:
            server.terminate()
            server.wait()


def main() -> int:
    given = options()
    try:
        check_port(given.port)
        steps = Steps(STATE / "start.log")
        install(steps)
        return serve(steps, given)
    except Stop as stop:
        print(f"\nBarnlight could not start. {stop}", file=sys.stderr)
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
    except OSError as error:
        full = error.errno == errno.ENOSPC
        print(f"\nBarnlight could not start. {'The disk is full: free about 1 GB and start again.' if full else error}", file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
