"""Everything that `serve --https` adds: certificate, TLS server, the plain port with the trust page, and what is said on the terminal."""

from __future__ import annotations

import threading
from typing import Any

from barnlight.api.trust import ToTrust
from barnlight.config import Config
from barnlight.listening import MANY_LINES, listen, listen_once
from barnlight.terminal_qr import print_qr
from barnlight.tls.keeper import Keeper
from barnlight.tls.names import in_url
from barnlight.tls.options import secure_config
from barnlight.tls.server import TlsServer, tls_context
from barnlight.tls.trust_app import create_trust_app

TRUST_THREADS = 2
TRUST_BODY_LIMIT = 1024  # nothing there takes a body


class House:
    """One server with a certificate of its own; `config` is what the app is to be made with."""

    def __init__(self, config: Config) -> None:
        self.keeper = Keeper(config.tls_dir, config.names_wanted)
        self.config = secure_config(config, self.keeper.names)
        self._plain = listen(config.host, config.trust_at)
        self._bound = listen_once(config.host, config.port)

    def run(self, app: Any) -> None:
        """Serves until it is told to stop."""
        import waitress

        server = TlsServer(self._bound, app, tls_context(self.keeper.leaf))
        self.keeper.renewed = server.take_over
        self.keeper.start()
        trust = waitress.create_server(
            create_trust_app(self.to_trust), sockets=self._plain, threads=TRUST_THREADS, max_request_body_size=TRUST_BODY_LIMIT, ident=None,
            **MANY_LINES,
        )  # fmt: skip
        threading.Thread(target=trust.run, name="trust page", daemon=True).start()
        server.run_until_interrupted()

    def to_trust(self) -> ToTrust:
        """What a phone is asked to trust now."""
        authority, names = self.keeper.authority, self.keeper.names
        hosts = (names.first, *names.hosts, *(in_url(each) for each in names.addresses if not each.is_loopback))
        known = [host for host in dict.fromkeys(hosts) if host != "localhost"]
        return ToTrust(
            name=authority.name, certificate=authority.der, fingerprint=authority.fingerprint, ends=f"{authority.ends:%d %B %Y}",
            may_vouch_for=authority.hosts, addresses=tuple(f"https://{host}:{self.config.port}" for host in known),
        )  # fmt: skip

    @property
    def trust_address(self) -> str:
        """Where a phone begins: by number where every address answers, for a phone that does not find the name finds that."""
        names = self.keeper.names
        by_number = names.lan and not self.config.host
        return f"http://{in_url(names.lan) if by_number else names.first}:{self.config.trust_at}/trust"

    def say(self) -> None:
        """Tells on the terminal what was made, what to compare and where to go."""
        to = self.to_trust()
        for each in self.keeper.made:
            print(f"Made {each}.")
        print(f"The authority's key is in {self.config.tls_dir}; whoever has it can pose as this server. It ends on {to.ends}.")
        print(f"Each phone must trust it once: open {self.trust_address} there,")
        print("and compare this SHA-256 fingerprint with what the phone shows:")
        for left, right in zip(to.fingerprint_parts[::2], to.fingerprint_parts[1::2], strict=True):
            print(f"    {left}  {right}")
        print_qr(self.trust_address)
