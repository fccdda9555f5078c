"""A private key and its certificates in one file that only its owner may read: both change in one step or not at all."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, load_pem_private_key

from barnlight.errors import NotReady


def read_pem(path: Path) -> tuple[ec.EllipticCurvePrivateKey, x509.Certificate] | None:
    """Key and first certificate; None where there is no such file. Raises NotReady for one that cannot be used."""
    try:
        data = path.read_bytes()
        key, certificate = load_pem_private_key(data, None), x509.load_pem_x509_certificate(data)
    except FileNotFoundError:
        return None
    except (OSError, ValueError, TypeError):
        raise NotReady(f"{path} cannot be read as a key with its certificate.", hint="Move it away; a new one is made.") from None
    if not isinstance(key, ec.EllipticCurvePrivateKey) or key.public_key() != certificate.public_key():
        raise NotReady(f"The key in {path} does not belong to its certificate.", hint="Move it away; a new one is made.")
    return key, certificate


def write_pem(path: Path, key: ec.EllipticCurvePrivateKey, certificates: Sequence[x509.Certificate]) -> None:
    """Writes the file anew. Raises NotReady where that cannot be."""
    words = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    words += b"".join(each.public_bytes(Encoding.PEM) for each in certificates)
    fresh = path.with_suffix(".new")
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        fresh.unlink(missing_ok=True)
        # Made with these rights, not given them later: there is no moment at which another could open it.
        with os.fdopen(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(words)
            file.flush()
            os.fsync(file.fileno())
        os.replace(fresh, path)
    except OSError as error:
        raise NotReady(f"{path} cannot be written: {error.strerror}.", hint="Choose a folder of yours with --data.") from None
