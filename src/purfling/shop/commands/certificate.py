"""The book's own certificate for https on the local network: made once, renewed before it ends."""

import datetime
import ipaddress
import os
import socket
from pathlib import Path

DAYS = 397
RENEW_BEFORE = datetime.timedelta(days=30)


def own_names() -> list[str]:
    """Names and addresses under which this machine is met on the local network, the likeliest first."""
    found: list[str] = []
    probe = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
    try:
        probe.connect(("192.0.2.1", 9))  # a documentation address: nothing is sent, the route tells our own
        found.append(probe.getsockname()[0])
    except OSError:
        pass
    finally:
        probe.close()
    host = socket.gethostname()
    found += [host, f"{host}.local"] if "." not in host else [host]
    found += ["localhost", "127.0.0.1"]
    return list(dict.fromkeys(found))


def _general(name: str):
    from cryptography import x509

    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _still_good(path: Path, names: list[str]) -> bool:
    from cryptography import x509

    if not path.exists():
        return False
    cert = x509.load_pem_x509_certificate(path.read_bytes())
    held = cert.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    now = datetime.datetime.now(datetime.UTC)
    return set(map(_general, names)) <= set(held) and cert.not_valid_after_utc - now > RENEW_BEFORE


def certificate_for(folder: Path, names: list[str]) -> tuple[Path, Path, str]:
    """Certificate, key (readable by its owner only) and the SHA-256 print to compare on the tablet."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    cert_path, key_path = folder / "certificate.pem", folder / "certificate.key"
    if not (_still_good(cert_path, names) and key_path.exists()):
        key = ec.generate_private_key(ec.SECP256R1())
        subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Purfling workshop")])
        now = datetime.datetime.now(datetime.UTC)
        cert = (
            x509.CertificateBuilder()
            .subject_name(subject)
            .issuer_name(subject)
            .public_key(key.public_key())
            .serial_number(x509.random_serial_number())
            .not_valid_before(now - datetime.timedelta(hours=1))
            .not_valid_after(now + datetime.timedelta(days=DAYS))
            .add_extension(x509.SubjectAlternativeName([_general(n) for n in names]), critical=False)
            .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
            .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
            .sign(key, hashes.SHA256())
        )
        pem = key.private_bytes(
            serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        )
        key_path.unlink(missing_ok=True)
        handle = os.open(key_path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "wb") as stream:
            stream.write(pem)
        cert_path.write_bytes(cert.public_bytes(serialization.Encoding.PEM))
    from cryptography.hazmat.primitives import hashes as h

    cert = x509.load_pem_x509_certificate(cert_path.read_bytes())
    return cert_path, key_path, cert.fingerprint(h.SHA256()).hex(":").upper()
