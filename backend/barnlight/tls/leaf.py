"""The certificate of this computer: signed by the local authority, for the names of now, renewed before it ends."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from barnlight.tls.authority import CLOCKS_APART, Authority
from barnlight.tls.names import Names
from barnlight.tls.pem_file import read_pem, write_pem

FILE = "leaf.pem"
# Phones refuse more: 398 days counted with both ends (CA/Browser Forum Baseline Requirements 6.3.2 of its day).
VALID = timedelta(days=397)
RENEWED_BEFORE_END = timedelta(days=30)


def leaf_in(folder: Path, authority: Authority, names: Names, now: datetime) -> tuple[Path, str]:
    """The file of the certificate kept in `folder`, made anew if it does not serve; and why, "" if it was there."""
    path = folder / FILE
    kept = read_pem(path)
    why = "none was there" if kept is None else outdated(kept[1], authority, names, now)
    if why:
        key, certificate = make_leaf(authority, names, now)
        write_pem(path, key, [certificate, authority.certificate])
    return path, why


def outdated(leaf: x509.Certificate, authority: Authority, names: Names, now: datetime) -> str:
    """Why `leaf` no longer serves; "" if it does. A name it has beyond those of now is no reason: a computer may be on a trip."""
    try:
        leaf.verify_directly_issued_by(authority.certificate)
    except Exception:  # whatever is wrong with it, the answer is a new one
        return "the authority is another"
    alternatives = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    had = {*alternatives.get_values_for_type(x509.DNSName), *alternatives.get_values_for_type(x509.IPAddress)}
    missing = [str(each) for each in (*hosts_for(authority, names), *names.addresses) if each not in had]
    if missing:
        return f"it did not name {', '.join(missing)}"
    if leaf.not_valid_after_utc - now < RENEWED_BEFORE_END:
        return f"it would end on {leaf.not_valid_after_utc:%Y-%m-%d}"
    if leaf.not_valid_before_utc > now:  # made while this computer's clock was ahead
        return f"it would begin on {leaf.not_valid_before_utc:%Y-%m-%d}"
    return ""


def hosts_for(authority: Authority, names: Names) -> list[str]:
    """The host names that may stand in a certificate: one name beyond the authority's would spoil them all."""
    return [host for host in names.hosts if authority.covers(host)]


def make_leaf(authority: Authority, names: Names, now: datetime) -> tuple[ec.EllipticCurvePrivateKey, x509.Certificate]:
    """A key and its certificate for TLS servers; it never outlives the authority."""
    key = ec.generate_private_key(ec.SECP256R1())
    begins = now - CLOCKS_APART
    hosts = hosts_for(authority, names)
    alternatives = [*map(x509.DNSName, hosts), *map(x509.IPAddress, names.addresses)]
    signs = x509.KeyUsage(
        digital_signature=True, key_cert_sign=False, crl_sign=False, content_commitment=False, key_encipherment=False,
        data_encipherment=False, key_agreement=False, encipher_only=False, decipher_only=False,
    )  # fmt: skip
    certificate = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, hosts[0][:64])]))
        .issuer_name(authority.certificate.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(begins)
        .not_valid_after(min(begins + VALID, authority.ends))
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(signs, critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(alternatives), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key()), critical=False)
        .sign(authority.key, hashes.SHA256())
    )
    return key, certificate
