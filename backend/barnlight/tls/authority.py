"""The local certificate authority: made once, kept in the store's folder, allowed to vouch for local names and nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding
from cryptography.x509.oid import NameOID

from barnlight.tls.names import PRIVATE, Names, host_name
from barnlight.tls.pem_file import read_pem, write_pem

FILE = "authority.pem"
VALID = timedelta(days=5 * 365)
# A leaf lives 397 days: an authority that ends sooner would cut its leaves short, so a new one takes over before.
REPLACED_BEFORE_END = timedelta(days=60)
# Every name in .local is given out by the house's own devices (RFC 6762); localhost is the computer itself.
LOCAL_HOSTS = ("local", "localhost")
CLOCKS_APART = timedelta(days=1)


@dataclass(frozen=True)
class Authority:
    """A key, and the certificate that a phone is asked to trust."""

    key: ec.EllipticCurvePrivateKey
    certificate: x509.Certificate

    @property
    def der(self) -> bytes:
        """The certificate as phones take it: without the key."""
        return self.certificate.public_bytes(Encoding.DER)

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the certificate in pairs of hex digits, as phones show it."""
        return self.certificate.fingerprint(hashes.SHA256()).hex(":").upper()

    @property
    def name(self) -> str:
        """What phones list it as."""
        return str(self.certificate.subject.get_attributes_for_oid(NameOID.COMMON_NAME)[0].value)

    @property
    def ends(self) -> datetime:
        """When its certificate ends, UTC."""
        return self.certificate.not_valid_after_utc

    @property
    def hosts(self) -> tuple[str, ...]:
        """The host names it may vouch for, each with all below it."""
        allowed = self.certificate.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees or []
        return tuple(each.value for each in allowed if isinstance(each, x509.DNSName))

    def covers(self, host: str) -> bool:
        """Whether it may vouch for this host name."""
        return below(host, self.hosts)


def below(host: str, names: Sequence[str]) -> bool:
    """Whether `host` is one of `names` or ends in one of them."""
    return any(host == name or host.endswith(f".{name}") for name in names)


def authority_in(folder: Path, names: Names, now: datetime) -> tuple[Authority, str]:
    """The authority kept in `folder`, made where there is none that serves; and why it was made, "" if it was there.

    One that may not vouch for a name that was asked for, or is about to end, is replaced: phones must then trust the new one.
    That this computer got another name is no reason: it is still reached in `.local`.
    """
    path = folder / FILE
    hosts_asked = [host for host in names.hosts if host in names.asked]
    kept = read_pem(path)
    if kept is None:
        why = "none was there"
    else:
        authority = Authority(*kept)
        if beyond := [host for host in hosts_asked if not authority.covers(host)]:
            why = f"the one before may not vouch for {', '.join(beyond)}"
        elif authority.ends - now < REPLACED_BEFORE_END:
            why = f"the one before ends on {authority.ends:%Y-%m-%d}"
        else:
            return authority, ""
    authority = make_authority(names.hosts, now)
    write_pem(path, authority.key, [authority.certificate])
    return authority, why


def make_authority(hosts: Sequence[str], now: datetime) -> Authority:
    """A new one. RFC 5280, 4.2.1.9 and 4.2.1.10: an authority without others below it, its names constrained, both critical."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([
        x509.NameAttribute(NameOID.ORGANIZATION_NAME, "Barnlight, made on your own computer"),
        x509.NameAttribute(NameOID.COMMON_NAME, f"Barnlight {host_name()[:40]} {now:%Y-%m-%d}"),
    ])
    outside = [host for host in hosts if not below(host, LOCAL_HOSTS)]
    allowed = [*map(x509.DNSName, dict.fromkeys((*LOCAL_HOSTS, *outside))), *map(x509.IPAddress, PRIVATE)]
    signs_certificates = x509.KeyUsage(
        key_cert_sign=True, crl_sign=True, digital_signature=False, content_commitment=False, key_encipherment=False,
        data_encipherment=False, key_agreement=False, encipher_only=False, decipher_only=False,
    )  # fmt: skip
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - CLOCKS_APART)
        .not_valid_after(now + VALID)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(signs_certificates, critical=True)
        .add_extension(x509.NameConstraints(permitted_subtrees=allowed, excluded_subtrees=None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    return Authority(key, certificate)
