"""By which names and addresses other devices reach this computer, as far as it can tell by itself."""

from __future__ import annotations

import ipaddress
import re
import socket
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

from barnlight.errors import ConfigError

Address = ipaddress.IPv4Address | ipaddress.IPv6Address
# Documentation addresses (RFC 5737, RFC 3849): asking the system for the way there sends nothing, and tells our own address.
FAR = ((socket.AF_INET, "192.0.2.1"), (socket.AF_INET6, "2001:db8::1"))
# Home and office networks (RFC 1918, RFC 3927, RFC 4193, RFC 4291): the authority vouches for addresses in these and no others.
PRIVATE = tuple(map(ipaddress.ip_network, (
    "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128",
)))  # fmt: skip
LABEL = re.compile(r"(?!-)[a-z0-9-]{1,63}(?<!-)")


@dataclass(frozen=True)
class Names:
    """What a certificate is made for; `asked` are those that a person asked for by name."""

    asked: tuple[str, ...]
    hosts: tuple[str, ...]
    addresses: tuple[Address, ...]

    @property
    def first(self) -> str:
        """What people are told to open: what was asked for, else a stable name, for what a phone keeps belongs to the address."""
        return self.asked[0] if self.asked else self.hosts[0]

    @property
    def lan(self) -> Address | None:
        """An address in the house's network, IPv4 first; None where there is no network."""
        return next((each for each in self.addresses if not each.is_loopback), None)


def names_here(wanted: Sequence[str] = ()) -> Names:
    """The names `wanted`, then this computer's own, with its private addresses. Raises ConfigError for what is no name."""
    own, asked = host_name(), [host_or_address(text) for text in wanted]
    hosts = [each for each in asked if isinstance(each, str)] + [f"{own}.local", own, "localhost"]
    addresses = own_addresses() + [each for each in asked if not isinstance(each, str)]
    return Names(tuple(map(in_url, asked)), tuple(dict.fromkeys(hosts)), tuple(dict.fromkeys(addresses)))


def in_url(one: str | Address) -> str:
    """As it stands in an address that a browser opens."""
    return f"[{one}]" if isinstance(one, ipaddress.IPv6Address) else str(one)


def host_name() -> str:
    """This computer's name without any domain, in letters that a certificate takes."""
    label = re.sub(r"[^\w-]+|_", "-", socket.gethostname().lower().split(".")[0]).strip("-")
    name = in_letters(label)[:63].strip("-")
    return name if name and name != "localhost" else "barnlight"


def in_letters(label: str) -> str:
    """One part of a name as certificates and browsers write it: with other letters than English ones, in Punycode (RFC 3492, RFC 5891)."""
    label = unicodedata.normalize("NFC", label)
    return label if label.isascii() else f"xn--{label.encode('punycode').decode()}"


def host_or_address(text: str) -> str | Address:
    """A host name in lower case, or an address of a home network. Raises ConfigError for anything else."""
    name = text.strip().strip("[]").lower().rstrip(".")
    try:
        address = ipaddress.ip_address(name)
    except ValueError:
        name = ".".join(map(in_letters, name.split(".")))
        if len(name) > 253 or not all(LABEL.fullmatch(label) for label in name.split(".")) or name.split(".")[-1].isdigit():
            raise ConfigError(f"{text!r} is no host name.", field="name", hint="Give it like barn.example or 192.168.1.20, without http and port.") from None
        return name
    if address.version == 6 and address.is_link_local:
        raise ConfigError(f"{text} cannot be opened from another device.", field="name", hint="Give an address that begins with fd or fc, or a name.")
    if not any(address in network for network in PRIVATE):
        raise ConfigError(f"{text} is no address of a home network.", field="name", hint="For a public address take a domain and a public certificate.")
    return address


def own_addresses() -> list[Address]:
    """The private addresses of this computer: the one towards the network first, those of its name, and itself."""
    found: list[Address] = []
    for family, far in FAR:
        try:
            with socket.socket(family, socket.SOCK_DGRAM) as probe:
                probe.connect((far, 9))
                found.append(ipaddress.ip_address(probe.getsockname()[0]))
        except OSError:
            pass  # no network of that family
    try:
        found += [ipaddress.ip_address(each[4][0].split("%")[0]) for each in socket.getaddrinfo(socket.gethostname(), None)]
    except (OSError, UnicodeError):
        pass  # a computer that does not know its own name, or has one that no network takes
    found += [ipaddress.ip_address("127.0.0.1"), ipaddress.ip_address("::1")]
    # A link-local IPv6 address needs the network card's name beside it: no address one could open.
    usable = [each for each in found if any(each in network for network in PRIVATE) and not (each.version == 6 and each.is_link_local)]
    return list(dict.fromkeys(usable))
